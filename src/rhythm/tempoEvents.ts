/** What happens to the tempo in each bar of a score, from its marks and words. See scoreTempo.ts for the rules. */
import type { Bar, Mark, Score } from '../score/model.ts';
import { barName } from '../score/playing/brackets.ts';
import { F, beats, bpm, note, problem, type Beats, type Fraction, type Problem } from '../units/index.ts';
import { tempoWordsOf, type GradualSpan } from './gradual.ts';
import { checkTempo, pace, type Pace } from './tempo.ts';
import { readTempoWords } from './tempoWords.ts';

/** Quarter = 90, for scores without a tempo: a walking pace that most readers manage. A choice, no source. */
const defaultPace: Pace = pace(note(1, 4), bpm(F.fraction(90)));

export type Happening =
  | { readonly kind: 'relation'; readonly factor: Fraction }
  | { readonly kind: 'back' }
  | { readonly kind: 'first' }
  /** `passing`: a tempo at or inside a gradual change, which is not what "a tempo" returns to. */
  | { readonly kind: 'tempo'; readonly pace: Pace; readonly passing: boolean; readonly goal: boolean }
  | { readonly kind: 'gradual'; readonly span: GradualSpan; readonly goal: Pace };

export interface Event {
  /** From the beginning of its bar. */
  readonly offset: Beats;
  readonly what: Happening;
}

export type TempoMark = Extract<Mark, { kind: 'tempo' }>;

/** Tempo marks that can be played to, by position; the others are reported and left out. */
export const playable = (score: Score, problems: Problem[]): readonly TempoMark[] =>
  score.marks
    .filter((mark) => mark.kind === 'tempo')
    .filter((mark) => {
      const wrong = checkTempo(mark.unit, mark.perMinute);
      if (wrong !== null)
        problems.push(
          problem('repair', wrong.code, `${wrong.message} It is ignored.`, placeOf(score, mark.bar)),
        );
      return wrong === null;
    })
    .sort((a, b) => F.compare(a.at, b.at));

const placeOf = (score: Score, bar: number): { bar: string } => ({ bar: score.bars[bar]?.number ?? '' });
const nameOf = (score: Score, bar: number): string => {
  const found = score.bars[bar];
  return found === undefined ? 'an unknown bar' : barName(found);
};

/** The tempo from the beginning on: the first mark's, else the default. */
export const openingPace = (score: Score, marks: readonly TempoMark[], problems: Problem[]): Pace => {
  const first = marks[0];
  const words = tempoWordsOf(score)[0];
  if (first === undefined) {
    problems.push(
      problem(
        'assumption',
        'tempo-assumed',
        `The score gives no tempo${words === undefined ? '' : ` ("${words.text}" has no figure)`}; quarter = 90 is assumed. Give one if you know it.`,
      ),
    );
    return defaultPace;
  }
  const whole = score.bars.findIndex((bar) => !bar.pickup);
  if (first.bar > Math.max(whole, 0))
    problems.push(
      problem(
        'assumption',
        'tempo-start-assumed',
        `The first tempo stands in ${nameOf(score, first.bar)}; it is taken from the beginning on.`,
        placeOf(score, first.bar),
      ),
    );
  return pace(first.unit, first.perMinute);
};

const rank: Readonly<Record<Happening['kind'], number>> = {
  relation: 0,
  back: 1,
  first: 1,
  tempo: 2,
  gradual: 3,
};

/** What happens to the tempo in each bar, by bar index and in order. */
export const eventsByBar = (
  score: Score,
  marks: readonly TempoMark[],
  spans: readonly GradualSpan[],
  problems: Problem[],
): ReadonlyMap<number, readonly Event[]> => {
  const result = new Map<number, Event[]>();
  const put = (barIndex: number, at: Beats, what: Happening): void => {
    const bar: Bar | undefined = score.bars[barIndex];
    if (bar === undefined) return;
    const offset = beats(F.max(F.zero, F.min(F.sub(at, bar.start), bar.length)));
    const list = result.get(barIndex) ?? [];
    list.push({ offset, what });
    result.set(barIndex, list);
  };
  for (const mark of marks) {
    const passing = spans.some(({ from, to }) => F.atMost(from, mark.at) && F.less(mark.at, to));
    const goal = spans.some((span) => span.goal === mark);
    put(mark.bar, mark.at, { kind: 'tempo', pace: pace(mark.unit, mark.perMinute), passing, goal });
  }
  for (const mark of score.marks) {
    if (mark.kind !== 'relation') continue;
    if (F.isPositive(mark.from) && F.isPositive(mark.to))
      put(mark.bar, mark.at, { kind: 'relation', factor: F.div(mark.from, mark.to) });
    else
      problems.push(
        problem(
          'repair',
          'relation-zero',
          `The change of beat in ${nameOf(score, mark.bar)} names a note of no length; it is ignored.`,
          placeOf(score, mark.bar),
        ),
      );
  }
  for (const { at, bar, text } of tempoWordsOf(score)) {
    const { back } = readTempoWords(text);
    if (back === 'tempo') put(bar, at, { kind: 'back' });
    if (back === 'first') put(bar, at, { kind: 'first' });
  }
  for (const span of spans)
    if (span.goal !== null && marks.includes(span.goal))
      put(span.bar, span.from, { kind: 'gradual', span, goal: pace(span.goal.unit, span.goal.perMinute) });
  for (const list of result.values())
    list.sort((a, b) => F.compare(a.offset, b.offset) || rank[a.what.kind] - rank[b.what.kind]);
  return result;
};

/** Says that a gradual change leads nowhere that is known. */
export const withoutGoal = (score: Score, { text, bar }: GradualSpan): Problem =>
  problem(
    'note',
    'gradual-without-goal',
    `"${text}" in ${nameOf(score, bar)} does not say which tempo it arrives at, so nothing is changed gradually there.`,
    placeOf(score, bar),
  );

/** Says which tempo words could not be counted. */
export const reportWords = (
  score: Score,
  marks: readonly TempoMark[],
  spans: readonly GradualSpan[],
  problems: Problem[],
): void => {
  for (const span of spans) if (span.goal === null) problems.push(withoutGoal(score, span));
  if (marks.length === 0) return;
  for (const { bar, text } of tempoWordsOf(score)) {
    const { change, back } = readTempoWords(text);
    if (change !== null || back !== null) continue;
    const figured = score.marks.some(
      (mark) => (mark.kind === 'tempo' || mark.kind === 'relation') && mark.bar === bar,
    );
    if (!figured)
      problems.push(
        problem(
          'assumption',
          'tempo-words-without-figure',
          `"${text}" in ${nameOf(score, bar)} has no figure; the tempo before it goes on.`,
          placeOf(score, bar),
        ),
      );
  }
};
