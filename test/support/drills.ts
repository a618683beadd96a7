import type { Drill } from '../../src/drill/model.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import type { Score } from '../../src/score/model.ts';
import { F, type Problem } from '../../src/units/index.ts';

export const plainDrill: Drill = {
  format: 'levare.drill/1',
  score: { sha256: '', title: '', file: '' },
  bars: 'all',
  pass: null,
  parts: null,
  keep: 'all',
  click: 'every',
  tacet: null,
  count: null,
  groups: null,
  tempo: ['60'],
  times: 1,
  gap: null,
  countIn: 'none',
  upbeat: 'none',
  holds: 'count',
  octaves: {},
};

export const worked = (score: Score, drill: Partial<Drill> = {}, rate = 48_000): WorkedDrill => {
  const result = workOut(score, { ...plainDrill, ...drill }, rate);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

export const problemsOf = (score: Score, drill: Partial<Drill> = {}): readonly Problem[] => {
  const result = workOut(score, { ...plainDrill, ...drill }, 48_000);
  return result.ok ? result.problems : [result.error];
};

/** Clicks as "bar:beat@seconds", count-in clicks by their word. */
export const clickText = ({ timeline }: WorkedDrill): string[] =>
  timeline.clicks.map(
    ({ kind, word, bar, beat, time }) =>
      `${kind === 'click' ? `${bar ?? '-'}:${beat}` : (word ?? '')}@${F.format(time)}`,
  );
