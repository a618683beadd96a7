/**
 * What is true of one note's isolated sound: where it begins, where it is heard to begin, where it ends. Measured on
 * the very samples that go into the mix, so that nothing about attacks is assumed.
 *
 * - physical start: the first instant at which the short-time energy (2 ms, centred) lies within 40 dB of the note's
 *   greatest. Our choice: 40 dB is the quietest part of an attack that a recording with ordinary room noise still holds.
 * - perceived beat: the first instant at which the level (10 ms, centred) lies within 15 dB of the note's greatest: the
 *   threshold model of Vos and Rasch 1981, Perception & Psychophysics 29:323, whose thresholds lie about 6 to 15 dB
 *   below the maximum (from memory; 15 dB is the end for soft listening levels).
 * - end: the last instant at which the level (10 ms, centred) lies within 20 dB of the note's greatest. Our choice.
 */
export const physicalDb = -40;
export const perceivedDb = -15;
export const endDb = -20;

/** Mean square in a centred window of about `seconds`. */
export const energy = (samples, rate, seconds) => {
  const half = Math.max(1, Math.round((seconds * rate) / 2));
  const out = new Float64Array(samples.length);
  let sum = 0;
  for (let n = 0; n < Math.min(half, samples.length); n += 1) sum += samples[n] ** 2;
  for (let n = 0; n < samples.length; n += 1) {
    if (n + half < samples.length) sum += samples[n + half] ** 2;
    if (n - half - 1 >= 0) sum -= samples[n - half - 1] ** 2;
    out[n] = Math.max(0, sum) / (2 * half + 1);
  }
  return out;
};

const greatest = (values) => values.reduce((most, value) => (value > most ? value : most), 0);

/** Sample indices (whole numbers) of the three instants; null for silence. */
export const measureNote = (samples, rate) => {
  const fine = energy(samples, rate, 0.002);
  const smooth = energy(samples, rate, 0.01);
  const fineMost = greatest(fine);
  const smoothMost = greatest(smooth);
  if (smoothMost <= 0) return null;
  const within = (db) => 10 ** (db / 10);
  const end = smooth.findLastIndex((value) => value >= smoothMost * within(endDb));
  return {
    physical: fine.findIndex((value) => value >= fineMost * within(physicalDb)),
    perceived: smooth.findIndex((value) => value >= smoothMost * within(perceivedDb)),
    end,
  };
};
