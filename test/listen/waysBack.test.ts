/** Letting go of settled ways changes nothing: held against a table that keeps all of them. */
import { describe, expect, it } from 'vitest';
import { waysBack } from '../../src/listen/waysBack.ts';
import { seeded } from '../../src/units/index.ts';

/** A search over states in a row: each stays, goes on by one, or is reached from the best of all (code 0, 1, 2). */
const search = (seed: number, states: number, frames: number, silentFrom: number, silentTo: number) => {
  const random = seeded(seed);
  const sources = new Int32Array(frames);
  const from = (state: number, code: number, frame: number): number =>
    code === 0 ? state : code === 1 ? state - 1 : (sources[frame] ?? -1);
  const kept = waysBack(frames, states, (state) => state, from);
  const whole: Uint8Array[] = [];
  const pieces = new Set<ArrayBufferLike>();
  let scores = new Float64Array(states).fill(-Infinity);
  let best = -1;
  for (let t = 0; t < frames; t += 1) {
    const silent = t >= silentFrom && t < silentTo;
    sources[t] = best;
    const before = scores;
    const lead = best < 0 ? 0 : (before[best] ?? 0);
    const row = kept.row();
    pieces.add(row.buffer);
    scores = before.map((stay, i) => {
      const ways = silent ? [stay] : [stay, (before[i - 1] ?? -Infinity) - 0.5, lead - 3];
      const score = Math.max(...ways);
      row[i] = ways.indexOf(score);
      return score + (silent ? 0 : 4 * random());
    });
    whole.push(row.slice());
    best = scores.reduce((top, score, i) => (score > (scores[top] ?? -Infinity) ? i : top), 0);
    kept.settle(function* () {
      if (t < 20) yield -1;
      for (let i = 0; i < states; i += 1) if (scores[i] !== -Infinity) yield i;
    });
  }
  const codes = kept.codes(best);
  const expected: number[] = [];
  const found: number[] = [];
  let state = best;
  for (let t = frames - 1; t >= 0 && state >= 0; t -= 1) {
    const code = whole[t]?.[state] ?? 9;
    expected.push(code);
    found.push(codes[t] ?? 9);
    state = from(state, code, t);
  }
  return { expected, found, pieces: pieces.size };
};

describe('ways back', () => {
  it.each([
    { name: 'that soon have one beginning', from: 0, to: 0, most: 3 },
    { name: 'that stay apart through a silence', from: 700, to: 2600, most: 13 },
    { name: 'that stay apart early on', from: 100, to: 900, most: 9 },
  ])('$name are those of a whole table', ({ from, to, most }) => {
    for (let seed = 1; seed <= 5; seed += 1) {
      const { expected, found, pieces } = search(seed, 40, 4000, from, to);
      expect(found).toEqual(expected);
      expect(expected.length).toBeGreaterThan(3000);
      // Of sixteen pieces of 256 frames.
      expect(pieces).toBeLessThanOrEqual(most);
    }
  });
});
