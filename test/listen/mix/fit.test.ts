/** A take of something else is told from one with faults: made sounds, bounds ours. `leastAbove` in src/desk/hearMixed.ts is 1.3. */
import { describe, expect, it } from 'vitest';
import { alignMix } from '../../../src/listen/mix/align.ts';
import { aboveOf } from '../../../src/listen/mix/fit.ts';
import { listeningRate } from '../../../src/listen/model.ts';
import { line, make, pipe, reed, type Made } from './ensemble.ts';

const upper = [72, 74, 76, 77, 79, 77, 76, 74, 72, 76, 79, 84, 83, 79, 76, 74];
const lower = [48, 52, 55, 53, 50, 55, 59, 57];
const both = (high: readonly number[], low: readonly number[]): Made =>
  make([
    { timbre: pipe, notes: line(high, 32, 0.4) },
    { timbre: reed, notes: line(low, 16, 0.8) },
  ]);
const here = both(upper, lower);
/** The same pace, key and range. */
const elsewhere = both(
  [79, 76, 72, 76, 74, 77, 83, 81, 79, 72, 74, 72, 77, 81, 79, 77, 76],
  [55, 53, 52, 57, 50, 48, 59],
);

/** A fit below which it is always looked at. */
const poor = 0.5;
const above = (taken: Made, expected: Made): number | null =>
  aboveOf(alignMix(taken.sound.slice(), expected.task), poor, taken.sound.length / listeningRate);

describe('a recording of all players', () => {
  it('is explained by its own music far better than by the same notes in other orders', () => {
    expect(above(here, here)).toBeGreaterThan(3);
  });

  it('is not, where it is of something else in the same key and at the same pace', () => {
    expect(above(here, elsewhere)).toBeLessThan(1);
    expect(above(elsewhere, here)).toBeLessThan(1);
  });

  it('is its own music with three notes in ten of another pitch', () => {
    const wrong = both(
      Array.from({ length: 32 }, (_, k) => (upper[k % upper.length] ?? 0) + (k % 10 < 3 ? 1 + (k % 3) : 0)),
      lower,
    );
    expect(above(wrong, here)).toBeGreaterThan(1.3);
  });

  it('cannot be asked in music of one pitch', () => {
    const drone = both([72], [48]);
    expect(above(drone, drone)).toBeNull();
  });
});
