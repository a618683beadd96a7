/** Markings among the steps that can be gone back from. */
import { expect, it } from 'vitest';
import { markChanges, marked, noMarks, type Step } from '../../src/app/marked.ts';
import { changedFrom, noPast, stepBack, stepOn, type Past } from '../../src/app/past.ts';
import { nothingAsked } from '../../src/app/asked.ts';
import { newMarking, type Marking } from '../../src/desk/index.ts';

const made = (id: string): Marking =>
  newMarking(id, 'own.a', {
    kind: 'breath',
    part: 'P1',
    bar: 1,
    beat: '1',
    text: '',
    time: null,
    note: '',
  });

const start: Step = { asked: nothingAsked, marks: noMarks };

it('a marking that was made goes, one that was rubbed out comes back, and on again', () => {
  const [old, fresh] = [made('old'), made('fresh')];
  const first = marked(noPast, start, 'fresh', null, fresh);
  const second = marked(first.past, first.now, 'old', old, null);
  const back = stepBack(second.past, second.now);
  expect(markChanges(second.now.marks, back?.now.marks ?? noMarks)).toStrictEqual([
    { id: 'old', marking: old },
  ]);
  const further = stepBack(back?.past ?? noPast, back?.now ?? start);
  expect(markChanges(back?.now.marks ?? noMarks, further?.now.marks ?? noMarks)).toStrictEqual([
    { id: 'fresh', marking: null },
  ]);
  const on = stepOn(further?.past ?? noPast, further?.now ?? start);
  expect(markChanges(further?.now.marks ?? noMarks, on?.now.marks ?? noMarks)).toStrictEqual([
    { id: 'fresh', marking: fresh },
  ]);
});

it('between changes of the drill: each step changes one of both, and no other window’s markings', () => {
  const fresh = made('fresh');
  const slower: Step = { ...start, asked: { ...nothingAsked, tempo: '60' } };
  const past: Past<Step> = changedFrom(noPast, start);
  const marks = marked(past, slower, 'fresh', null, fresh);
  const faster: Step = { ...marks.now, asked: { ...nothingAsked, tempo: '90' } };
  const all = changedFrom(marks.past, marks.now);
  const one = stepBack(all, faster);
  expect(one?.now.asked.tempo).toBe('60');
  expect(markChanges(faster.marks, one?.now.marks ?? noMarks)).toStrictEqual([]);
  const two = stepBack(one?.past ?? noPast, one?.now ?? start);
  expect(two?.now.asked.tempo).toBe('60');
  expect(markChanges(one?.now.marks ?? noMarks, two?.now.marks ?? noMarks)).toStrictEqual([
    { id: 'fresh', marking: null },
  ]);
  const three = stepBack(two?.past ?? noPast, two?.now ?? start);
  expect(three?.now.asked.tempo).toBe(nothingAsked.tempo);
  expect(markChanges(two?.now.marks ?? noMarks, three?.now.marks ?? noMarks)).toStrictEqual([]);
});
