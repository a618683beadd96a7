/**
 * Complex-domain novelty (Duxbury et al. 2003, DAFx; Bello et al. 2004): a note of the same pitch begins in a phase of its own, and so does a
 * bow that turns.
 */

/**
 * How far partials are at frame `now` from where they would be if they went on in phase and size as from frame `at` to frame `before`, 0 to 1;
 * the turn between these two is taken once more, so that `now` lies as far from `before`. Waves: in turn real and imaginary part of each frame.
 * `floors`: energies of each of them below which nothing counts, frame by frame; none where they are left out.
 */
export const phaseNovelty = (
  waves: readonly Float64Array[],
  at: number,
  before: number,
  now: number,
  floors: readonly Float64Array[] = [],
): number => {
  let [away, size] = [0, 1e-9];
  for (const wave of waves) {
    const [a, b] = [wave[2 * at] ?? 0, wave[2 * at + 1] ?? 0];
    const [c, d] = [wave[2 * before] ?? 0, wave[2 * before + 1] ?? 0];
    const [x, y] = [wave[2 * now] ?? 0, wave[2 * now + 1] ?? 0];
    const turn = Math.hypot(c * a + d * b, d * a - c * b);
    const [u, v] = turn < 1e-18 ? [1, 0] : [(c * a + d * b) / turn, (d * a - c * b) / turn];
    away += Math.hypot(x - (c * u - d * v), y - (c * v + d * u));
    size += Math.hypot(c, d) + Math.hypot(x, y);
  }
  for (const floor of floors) size += 2 * Math.sqrt((floor[before] ?? 0) / 2);
  return away / size;
};
