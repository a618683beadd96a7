/** Takes of which nothing was recorded: the players say themselves whether they held. */
import { expect, it } from 'vitest';
import { afterTake, journalOf, takesAt } from '../../../src/desk/journal/journal.ts';
import { placeGrowth } from '../../../src/desk/journal/growth.ts';
import { stepKey } from '../../../src/desk/journal/keys.ts';
import { toldTake } from '../../../src/desk/journal/takeRecord.ts';
import { readRecord } from '../../../src/desk/shelf/records.ts';
import { proposalText } from '../../../src/desk/words/steps.ts';
import type { Step } from '../../../src/plan/index.ts';
import { piece, take } from './records.ts';

const step = (click: string, countIn: string): Step => ({
  bars: '12-13',
  parts: null,
  keep: 'all',
  click,
  tempo: [],
  times: 2,
  countIn,
  upbeat: 'auto',
  holds: 'count',
  branch: 'main',
  why: '',
});
const steps = [step('half', 'auto'), step('bar', 'auto'), step('none', 'none')];

const told = (said: 'held' | 'not-yet', nth: number, at: number) =>
  toldTake(
    said,
    { bars: '12-13', playing: 'click', parts: ['P1', 'P2'] },
    {
      id: `t${nth}`,
      piece,
      rehearsal: 'own.2026-11-28',
      day: '2026-11-28',
      nth,
      place: take('x').place,
      step: stepKey(steps[at] ?? step('half', 'auto')),
      players: { P1: 'anna' },
    },
  );

const afterAll = (...takes: readonly ReturnType<typeof told>[]) => {
  const journal = journalOf(takes.map((value) => ({ kind: 'journal-take' as const, value })));
  const after = afterTake(takesAt(journal, piece, take('x').place), steps);
  if (after === null) throw new Error('nothing proposed');
  return after;
};

it('twice held goes on, twice not goes back, once stays; the sentence says whose ears it were', () => {
  const once = afterAll(told('held', 1, 0));
  expect(proposalText(once, 'en')).toBe(
    'Stay: it held once, as you heard it; once more, so that it was not luck.',
  );
  const on = afterAll(told('held', 1, 0), told('held', 2, 0));
  expect(on.proposed).toMatchObject({ proposal: 'on', to: 1 });
  expect(proposalText(on, 'en')).toBe('On: it held twice in a row, now as you heard it.');
  expect(proposalText(on, 'de')).toBe('Weiter: es hielt zweimal nacheinander, jetzt nach eurem Gehör.');
  const back = afterAll(told('held', 1, 0), told('held', 2, 0), told('not-yet', 3, 1), told('not-yet', 4, 1));
  expect(back.proposed).toMatchObject({ proposal: 'back', to: 0 });
});

it('draws no growth from what was only told', () => {
  const takes = [told('held', 1, 0), told('held', 2, 0)];
  const journal = journalOf(takes.map((value) => ({ kind: 'journal-take' as const, value })));
  expect(
    placeGrowth(journal, { piece, place: take('x').place, step: 'all half auto', title: '' }, 'en'),
  ).toMatchObject({ points: [], chart: null });
});

it('names who played where that is known', () => {
  expect(told('held', 1, 0).parts).toStrictEqual({
    P1: { player: 'anna', heard: 0, notes: 0 },
    P2: { player: '', heard: 0, notes: 0 },
  });
});

it('a take of version 1 was read', () => {
  const older = Object.fromEntries(Object.entries(take('t1')).filter(([name]) => name !== 'told'));
  expect(readRecord({ ...older, format: 'levare.journal-take/1' })).toStrictEqual({
    ok: true,
    value: { kind: 'journal-take', value: take('t1') },
    problems: [],
  });
});
