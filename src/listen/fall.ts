/** When a note has fallen off, by how loud its partials are from its beginning to the next note's. */

/** dB below the highest level at which a note is over. Our choice. */
const over = 20;
/**
 * Seconds before the next note is perceived within which it may be heard already: slow instruments speak for some 50 ms before
 * that, and at a tone's distance no window holds the two notes' partials apart. Our choice.
 */
const lead = 0.06;
/** Share of the time to the next note that is left of it at most. */
const mostLead = 1 / 3;

/**
 * The last frame within 20 dB of the note's highest level. `energy`: at each frame from the note's beginning to the next note's; `frame`: seconds. It is
 * looked for from shortly before the next note: back, where the note is over by then, else on until it first falls. What rises
 * after that is the next note, not this one sounding on.
 */
export const lastFrame = (energy: Float64Array, frame: number): number => {
  const count = energy.length;
  const from = count - 1 - Math.round(Math.min(lead / frame, mostLead * count));
  const highest = energy.subarray(0, from + 1).reduce((high, value) => Math.max(high, value), 0);
  const limit = highest * 10 ** (-over / 10);
  const sounds = (f: number): boolean => (energy[f] ?? 0) >= limit;
  let f = from;
  if (sounds(f)) while (f < count - 1 && sounds(f + 1)) f += 1;
  else while (f > 2 && !sounds(f)) f -= 1;
  return f;
};
