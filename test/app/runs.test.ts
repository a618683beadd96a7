/** Of a take that holds several drills one is read: the one that was played longest, or the one that was asked for. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { offeredRuns, runOf, untilOf } from '../../src/app/reading/runs.ts';
import { performedSchema } from '../../src/desk/takes/performed.ts';

const one = performedSchema.parse(
  JSON.parse(
    readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.performed.1.json'), 'utf8'),
  ) as unknown,
);
const [run] = one.runs;
if (run === undefined) throw new Error('The fixture has no run.');
// 12 for a second, then 14 to 15 for two and a half.
const later = {
  ...run,
  drill: { ...run.drill, bars: '14-15' },
  at: 96_000,
  from: 96_000,
  to: 216_000,
  bars: ['14', '15'].map((number, i) => ({ sample: 96_000 + i, rep: 1, barIndex: 13 + i, number })),
};
const performed = { ...one, runs: [run, later] };

it('the longest is read if none is asked for, else the one that is', () => {
  expect(runOf(performed, null)).toBe(later);
  expect(runOf(performed, 0)).toBe(run);
  expect(untilOf(later, performed)).toBe(2.5);
  expect(runOf({ ...one, runs: [] }, 0)).toBeNull();
});

it('all are offered, and it is said which one was read; of a single one nothing', () => {
  expect(offeredRuns(performed, { until: 1 })).toEqual([
    { from: '12', to: '12', begins: 1, ends: 2, read: true },
    { from: '14', to: '15', begins: 2, ends: 4.5, read: false },
  ]);
  expect(offeredRuns(performed, { until: 2.5 }).map((each) => each.read)).toEqual([false, true]);
  // Kept before it could be chosen, from a recording brought in: the longest.
  expect(offeredRuns(performed, { until: null }).map((each) => each.read)).toEqual([false, true]);
  expect(offeredRuns(one, { until: 1 })).toEqual([]);
  expect(offeredRuns(null, null)).toEqual([]);
});
