/**
 * How long the engraver may take for one score before it is ended, in milliseconds: 30 seconds, and 30 more for each
 * million characters of its MusicXML; at most ten minutes. Measured with the engraver of this project on one slow core:
 * 1.4 to 3.5 seconds a million, for 64 to 643 bars of a quartet; so what is ended took about ten times too long.
 */
export const engravingLimit = (characters: number): number =>
  Math.min(600_000, 30_000 + Math.ceil((30_000 * characters) / 1_000_000));

/** Milliseconds that the engraver's thread may take to start; on two slow cores it takes about 1,000. */
export const engraverStartLimit = 60_000;
