/** How what is pencilled on a page looks: one grey for brackets and words, one hue and one line style for each player. */

/** Contrast with white 7.5 to 1, with the paper of the screen 6.9 (WCAG 2.2 formula). */
export const pencil = '#555';

/**
 * Hues that stay apart in the common kinds of colour blindness: after Okabe & Ito 2008 (Wong 2011, Nature Methods 8:441; from memory),
 * the light ones darkened until they stand 3 to 1 against white and paper. Players beyond the sixth begin again, told apart by their place.
 */
const hues = ['#0072b2', '#c24e00', '#00805e', '#a8457e', '#8a6a00', '#2b2b2b'] as const;

/** Strokes and gaps in staff spaces; none: one stroke. */
const strokes: readonly (readonly number[])[] = [
  [],
  [0.8, 0.4],
  [0.4, 0.3],
  [1, 0.3, 0.3, 0.3],
  [1.4, 0.5],
  [0.5, 0.7],
];

export interface PlayerLine {
  readonly hue: string;
  /** In staff spaces, as SVG's `stroke-dasharray`; empty: unbroken. */
  readonly dashes: readonly number[];
}

/** The line of the n-th player of a score, from 0. */
export const playerLine = (index: number): PlayerLine => ({
  hue: hues[index % hues.length] ?? hues[0],
  dashes: strokes[index % strokes.length] ?? [],
});
