/** A difference within kinds: equal to Welch's for one kind, blind to how many of a kind each side has, and as sure as it says. */
import { describe, expect, it } from 'vitest';
import { differenceWithin, meanDifference } from '../../src/together/articulation.ts';
import { seeded, type Random } from '../../src/units/index.ts';

/** Box and Muller 1958. */
const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const some = (n: number, of: () => number): readonly number[] => Array.from({ length: n }, of);

describe('a difference within kinds', () => {
  it("of one kind is Welch's", () => {
    const [first, second] = [
      [0.8, 0.9, 0.85, 0.7],
      [0.6, 0.65, 0.5],
    ];
    const [within, welch] = [differenceWithin([{ first, second }]), meanDifference(first, second)];
    expect(within?.value).toBeCloseTo(welch?.value ?? 0, 12);
    expect(within?.ci95?.low).toBeCloseTo(welch?.ci95?.low ?? 0, 12);
    expect(within?.ci95?.high).toBeCloseTo(welch?.ci95?.high ?? 0, 12);
  });

  it('passes over kinds that one side hardly has, and is null where none is left', () => {
    expect(differenceWithin([])).toBeNull();
    expect(differenceWithin([{ first: [1, 2, 3], second: [2] }])).toBeNull();
    const kinds = [
      { first: [1, 1.1], second: [1, 1.1] },
      { first: [9, 9, 9, 9], second: [] },
    ];
    expect(differenceWithin(kinds)?.value).toBe(0);
    expect(differenceWithin([{ first: [1, 1], second: [2, 2] }])).toEqual({ value: -1, ci95: null });
  });

  it('holds the truth 95 times in 100, with kinds of unlike size, spread and mean', () => {
    const random = seeded(7);
    const runs = 3000;
    let held = 0;
    for (let run = 0; run < runs; run += 1) {
      const side = (n: number, mean: number, sd: number) => some(n, () => mean + sd * normal(random));
      const { ci95 } = differenceWithin([
        { first: side(12, 0.4, 0.05), second: side(4, 0.3, 0.1) },
        { first: side(3, 0.95, 0.1), second: side(15, 0.85, 0.04) },
      ]) ?? { ci95: null };
      if (ci95 !== null && ci95.low <= 0.1 && 0.1 <= ci95.high) held += 1;
    }
    // Two standard deviations of a share of 3000 around .95 are .008; Satterthwaite's degrees of freedom are an approximation.
    expect(held / runs).toBeGreaterThan(0.938);
    expect(held / runs).toBeLessThan(0.965);
  });
});
