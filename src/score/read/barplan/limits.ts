/** Bounds of a bar plan, far beyond any piece, so that a slip of the keyboard cannot fill the memory. */

/** Bars in one plan. The longest operas have about 10,000. */
export const maximumBars = 100_000;
/** Characters in one plan. */
export const maximumCharacters = 8_000_000;
/** Quarters per minute outside of these are kept, and asked about. Common practice, no source. */
export const plausibleTempo = { slowest: 5, fastest: 1000 } as const;
