/** How evenly a line is handed over, freed of what measuring adds. */
import { expect, it } from 'vitest';
import { gapNoise, gapSpread, seam } from '../../src/together/seams.ts';
import { normals, times } from './simulate.ts';

it('a line carried on by one note has the variance of a prediction (Draper & Smith 1.4: 1 + 1/n + (x - mean)^2 / Sxx)', () => {
  for (let n = 2; n <= 8; n++) {
    const middle = (n - 1) / 2;
    const sxx = times(n, (i) => (i - middle) ** 2).reduce((sum, one) => sum + one, 0);
    expect(gapNoise(n)).toBeCloseTo(1 + 1 / n + (n - middle) ** 2 / sxx, 12);
  }
});

it('finds the spread of hand-overs that was put in, whatever the measuring noise', () => {
  const seed = 20261128;
  const normal = normals(seed);
  for (const [spread, noise] of [
    [0.04, 0.02],
    [0.03, 0.005],
  ] as const) {
    const note = (beats: number, late: number) => ({
      beats,
      onset: beats / 3 + late + noise * normal(),
      offset: null,
      level: null,
    });
    const gaps = times(4000, () => {
      const giver = times(4, (i) => note(i, 0));
      const { gap } = seam(giver, [note(4, spread * normal())]);
      return { gap: gap?.value ?? Number.NaN, giverNotes: giver.length };
    });
    const found = gapSpread(gaps, noise ** 2);
    // Four standard errors of a standard deviation of 4000, noise and all (seed 20261128).
    const all = Math.hypot(spread, noise * Math.sqrt(gapNoise(4)));
    const error = (4 * all ** 2) / spread / Math.sqrt(2 * gaps.length);
    expect(Math.abs((found?.value ?? 0) - spread)).toBeLessThan(error);
  }
});
