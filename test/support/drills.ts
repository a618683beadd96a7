import type { Drill } from '../../src/drill/model.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import type { Bar, Mark, Score } from '../../src/score/model.ts';
import { beats, bpm, F, note, plus, type Beats, type Problem } from '../../src/units/index.ts';

export const plainDrill: Drill = {
  format: 'levare.drill/2',
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

export const codesOf = (score: Score, drill: Partial<Drill> = {}): string[] =>
  problemsOf(score, drill).map(({ code }) => code);

/** The drill's bars in a row, as "count-in:1", "gap:3/4", "hold:1", and in the music by number: "12:1/4". */
export const barText = ({ timeline }: WorkedDrill): string[] =>
  timeline.bars.map(
    ({ kind, number, length }) => `${kind === 'bar' ? (number ?? '') : kind}:${F.format(length)}`,
  );

/** A printed tempo of quarters a minute at a written place, in the bar of that index. */
export const tempoMark = (at: Beats, bar: number, quarters: number): Mark => ({
  kind: 'tempo',
  at,
  bar,
  unit: note(1, 4),
  perMinute: bpm(F.fraction(quarters)),
  printed: true,
});

export const tempoWords = (at: Beats, bar: number, text: string): Mark => ({
  kind: 'tempoWords',
  at,
  bar,
  text,
});

/** The same bars with other printed numbers, in order. */
export const numbered = (row: readonly Bar[], numbers: readonly string[]): Bar[] =>
  row.map((bar, i) => ({ ...bar, number: numbers[i] ?? bar.number }));

/** The same bars, those of these indices made pickup bars: counted from the end of the full bar. */
export const pickups = (row: readonly Bar[], ...indices: readonly number[]): Bar[] =>
  row.map((bar) => ({ ...bar, pickup: indices.includes(bar.index) }));

/** From "1/4" or "3": a written place. */
export const place = (text: string): Beats => beats(F.parse(text) ?? F.zero);

/** The end of a bar. */
export const endOf = ({ start, length }: Bar): Beats => plus(start, length);
