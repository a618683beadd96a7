import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  driftPercent,
  fMeasure,
  matching,
  pairing,
  quantile,
  sd,
  slopeWithin,
} from '../../bench/hear/metrics.mjs';

const f = (references: number[], estimates: number[], window: number): number =>
  fMeasure({
    hits: matching(references, estimates, window).length,
    references: references.length,
    estimates: estimates.length,
  });

/** Greatest matching by augmenting paths (Kuhn 1955): slow, sure, and another method than the bench's. */
const greatest = (references: readonly number[], estimates: readonly number[], window: number): number => {
  const takenBy = new Map<number, number>();
  const augment = (r: number, seen: Set<number>): boolean =>
    estimates.some((estimate, e) => {
      if (seen.has(e) || Math.abs(estimate - (references[r] ?? NaN)) > window) return false;
      seen.add(e);
      const other = takenBy.get(e);
      if (other !== undefined && !augment(other, seen)) return false;
      takenBy.set(e, r);
      return true;
    });
  return references.filter((_, r) => augment(r, new Set())).length;
};

describe('event matching', () => {
  // Reference, estimates and scores of tests/data/onset 05 and 02 of mir_eval (Raffel et al. 2014), read there; +-50 ms.
  it('gives the F of mir_eval, example 05', () => {
    const references = [0.19446712, 1.128639455, 2.023877551, 4.079727891];
    const estimates = [
      0.2438095238095238, 1.190022675736961411, 2.086893424036281, 4.130249433106576, 4.612063492063492,
    ];
    expect(f(references, estimates, 0.05)).toBeCloseTo(0.22222222222222224, 12);
  });

  it('gives the F of mir_eval, example 02', () => {
    const references = [
      0.157142857, 0.378571428, 0.587755102, 0.798979591, 0.996938775, 1.220408163, 1.441836734, 1.561224489,
      1.667346938, 1.75, 1.833673469, 2.057142857, 2.295918367, 2.378004535, 2.471428571, 2.681995464,
      2.902040816, 3.12755102, 3.279591836, 3.32755102, 3.461995464, 3.553990929, 3.761224489, 3.992993197,
      4.2, 4.414693877, 4.535147392, 4.61632653, 4.744897959, 4.846938775, 4.993877551, 5.045918367,
      5.228571428, 5.36632653, 5.451020408, 5.639795918, 5.734693877, 5.880612244, 5.957142857, 6.063265306,
      6.257142857, 6.359183673, 6.440816326, 6.664285714, 6.872993197, 7.089795918, 7.284693877, 7.470408163,
      7.559183673, 7.675011337, 7.763990929, 7.873469387, 8.1010204, 8.181632653, 8.27755102,
    ];
    const estimates = [
      0.2031746031746032, 0.4353741496598639, 0.6559637188208617, 0.8620408163265306, 1.06231292517006807,
      1.288707482993197, 1.497687074829932, 1.732789115646258, 1.906938775510204, 2.113015873015873,
      2.533877551020408, 2.742857142857143, 2.960544217687075, 3.163718820861678, 3.343673469387755,
      3.398820861678005, 3.625215419501134, 3.822585034013605, 4.25795918367347, 4.484353741496599,
      4.678820861678004, 4.913922902494331, 5.111292517006802, 5.305759637188209, 5.52344671201814,
      5.700498866213151, 5.947210884353741, 6.135873015873016, 6.507392290249433, 6.725079365079365,
      6.9340589569161, 7.151746031746032, 7.540680272108844, 7.938321995464853, 8.251791383219954,
      8.353378684807256,
    ];
    expect(f(references, estimates, 0.05)).toBeCloseTo(0.17582417582417584, 12);
  });

  it('is as great as augmenting paths make it', () => {
    const times = fc
      .array(fc.integer({ min: 0, max: 400 }), { maxLength: 30 })
      .map((list) => list.toSorted((a, b) => a - b).map((value) => value / 100));
    fc.assert(
      fc.property(times, times, (references, estimates) => {
        expect(matching(references, estimates, 0.055)).toHaveLength(greatest(references, estimates, 0.055));
      }),
    );
  });

  it('says which belong together, not only how many', () => {
    // The first estimate is in reach of the first reference, but far nearer is the second.
    expect(pairing([1, 2], [0.93, 1.01, 1.99], 0.1)).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(pairing([1, 2], [1.5], 0.1)).toEqual([]);
  });
});

describe('statistics', () => {
  it('takes quantiles by type 7', () => {
    // The definition of Hyndman and Fan 1996, worked by hand: position 0.95 x 3 = 2.85 of 1, 2, 4, 8.
    expect(quantile([8, 1, 4, 2], 0.95)).toBeCloseTo(4 + 0.85 * 4, 12);
    expect(quantile([8, 1, 4, 2], 0.5)).toBe(3);
  });

  it('takes the sample SD', () => {
    // Worked by hand: squares about 5 sum to 32 over 7 degrees of freedom.
    expect(sd([2, 4, 4, 4, 5, 5, 7, 9])).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });

  it('finds the slope within groups, whatever each is shifted by', () => {
    const x = [1, 2, 4, 7];
    const groups = [3, -8].map((shift) => ({ x, y: x.map((value) => 0.6 * value + shift) }));
    expect(slopeWithin(groups)).toBeCloseTo(0.6, 12);
  });

  it('finds the drift of a tempo that grows by 2 % a minute', () => {
    // Played time of notated w at tempo 1 + 0.02 w / 60: w - 0.01 w^2 / 60 at first order.
    const written = Array.from({ length: 60 }, (_, k) => k * 0.5);
    const played = written.map((w) => w - (0.01 * w * w) / 60);
    expect(driftPercent(written, played)).toBeGreaterThan(1.99);
    expect(driftPercent(written, played)).toBeLessThan(2.03);
  });
});
