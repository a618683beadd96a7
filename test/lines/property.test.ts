/** Whatever the score, places are found without a fault, and lie within it. */
import { describe, expect, it } from 'vitest';
import { findPlaces, placeKinds } from '../../src/lines/index.ts';
import { lineValues } from '../../src/lines/sharedLines.ts';
import { F } from '../../src/units/index.ts';
import { everything } from '../support/everything.ts';
import { randomScore } from '../support/randomScore.ts';

describe('places of any score', () => {
  it('lie within it, in order, in parts that there are, and seams fall on notes of those who take over', () => {
    let count = 0;
    for (const score of [everything, ...Array.from({ length: 300 }, (_, seed) => randomScore(seed))]) {
      const ids = new Set(score.parts.map(({ id }) => id));
      const { places } = findPlaces(score);
      count += places.length;
      for (const { kind, value, parts, from, to, seams } of places) {
        expect(placeKinds).toContain(kind);
        expect(value === null).toBe(kind !== 'shared-line');
        if (value !== null) expect(lineValues.some((one) => F.equal(one, value))).toBe(true);
        for (const part of parts) expect(ids.has(part)).toBe(true);
        expect(F.atMost(from.at, to.at)).toBe(true);
        for (const spot of [from, to, ...seams]) {
          const bar = score.bars[spot.barIndex];
          expect(bar?.number).toBe(spot.bar);
          expect(spot.beat).toMatch(/^\d+(\+\d+\/\d+)?$/);
        }
        for (const seam of seams) {
          expect(seam.from).not.toBe(seam.to);
          const taker = score.parts.find(({ id }) => id === seam.to);
          expect(taker?.notes.some(({ onset }) => F.equal(onset, seam.at))).toBe(true);
          expect(F.atMost(from.at, seam.at) && F.atMost(seam.at, to.at)).toBe(true);
        }
      }
    }
    expect(count).toBeGreaterThan(100);
  });

  it('are the same each time', () => {
    for (let seed = 0; seed < 20; seed++)
      expect(findPlaces(randomScore(seed))).toEqual(findPlaces(randomScore(seed)));
  });
});
