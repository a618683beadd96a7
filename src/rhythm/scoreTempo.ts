/**
 * The tempo of a score as it is played. Rules (common practice, no source, unless said otherwise):
 *   - A tempo mark holds from its position on; what stands before the first one is played to the first one.
 *   - A change of beat ("quarter = dotted quarter") keeps the old value's time for the new value.
 *   - Going back (repeat, da capo, dal segno) brings back the tempo in which that bar was played the first time; a
 *     mark inside the repeated section acts again. Going forward (to a later ending, to the coda) keeps the tempo.
 *   - "rit." and "accel." change the tempo only where the printed tempo that they arrive at is known and lies in
 *     their direction: then the pace changes linearly with the position. Else the tempo stays.
 *   - "a tempo" brings back the tempo before the change, "Tempo primo" the movement's first.
 *   - Without any tempo mark: quarter = 90.
 */
import type { Bar, Mark, Score } from '../score/model.ts';
import type { PlayingOrder } from '../score/playing.ts';
import { barName } from '../score/playing/brackets.ts';
import { movements } from '../score/playing/movements.ts';
import {
  F,
  beats,
  bpm,
  note,
  plus,
  problem,
  type Beats,
  type Fraction,
  type Problem,
} from '../units/index.ts';
import { gradualSpans, tempoWordsOf, type GradualSpan } from './gradual.ts';
import { checkTempo, pace, tempoMap, type Pace, type TempoMap, type TempoPiece } from './tempo.ts';
import { readTempoWords } from './tempoWords.ts';

/** Quarter = 90, for scores without a tempo: a walking pace that most readers manage. A choice, no source. */
export const defaultPace: Pace = pace(note(1, 4), bpm(F.fraction(90)));

type Happening =
  | { readonly kind: 'relation'; readonly factor: Fraction }
  | { readonly kind: 'back' }
  | { readonly kind: 'first' }
  /** `passing`: a tempo at or inside a gradual change, which is not what "a tempo" returns to. */
  | { readonly kind: 'tempo'; readonly pace: Pace; readonly passing: boolean; readonly goal: boolean }
  | { readonly kind: 'gradual'; readonly span: GradualSpan; readonly goal: Pace };

interface Event {
  /** From the beginning of its bar. */
  readonly offset: Beats;
  readonly what: Happening;
}

interface State {
  readonly pace: Pace;
  /** What "a tempo" returns to. */
  readonly home: Pace;
  readonly first: Pace;
  readonly ramp: { readonly span: GradualSpan; readonly from: Pace; readonly goal: Pace } | null;
}

/** The tempo map over played positions, and what was assumed or left out. */
export const scoreTempo = (
  score: Score,
  order: PlayingOrder,
): { map: TempoMap; problems: readonly Problem[] } => {
  const problems: Problem[] = [];
  const marks = playable(score, problems);
  const opening = openingPace(score, marks, problems);
  const spans = gradualSpans(score);
  const events = eventsByBar(score, marks, spans, problems);
  const heads = new Set(movements(score.bars).map(({ from }) => from));
  reportWords(score, marks, spans, problems);

  const pieces: TempoPiece[] = [];
  const met = new Map<number, State>();
  const otherWay = new Set<GradualSpan>();
  let state: State = { pace: opening, home: opening, first: opening, ramp: null };
  let previous = -1;
  for (const { barIndex, written, length } of order.visits) {
    if (barIndex <= previous) state = met.get(barIndex) ?? { ...state, pace: state.home, ramp: null };
    else if (barIndex > previous + 1 && state.ramp !== null)
      state = { ...state, pace: state.home, ramp: null };
    const list = events.get(barIndex) ?? [];
    if (!met.has(barIndex)) {
      const own = heads.has(barIndex) ? list.find(({ what }) => what.kind === 'tempo')?.what : undefined;
      if (own?.kind === 'tempo') state = { ...state, first: own.pace };
      met.set(barIndex, state);
    }
    let offset = note(0);
    for (const event of [...list, null]) {
      const until = event === null ? length : event.offset;
      pieces.push(...stretch(state, plus(written, offset), plus(written, until)));
      if (state.ramp !== null) state = { ...state, pace: paceOn(state.ramp, plus(written, until)) };
      offset = until;
      if (event === null) continue;
      state = after(state, event.what);
      if (event.what.kind === 'gradual' && state.ramp === null) otherWay.add(event.what.span);
    }
    previous = barIndex;
  }
  pieces.push({ length: null, from: state.pace, to: state.pace });
  for (const span of otherWay) problems.push(withoutGoal(score, span));
  return { map: tempoMap(pieces), problems };
};

/** Pace on a gradual change, up to its end. */
const paceOn = ({ span, from, goal }: NonNullable<State['ramp']>, at: Beats): Pace => {
  const into = F.sub(F.min(at, span.to), span.from);
  return F.add(from, F.mul(F.sub(goal, from), F.div(into, F.sub(span.to, span.from))));
};

const stretch = ({ pace: now, ramp }: State, from: Beats, to: Beats): TempoPiece[] => {
  const length = beats(F.sub(to, from));
  return [{ length, from: now, to: ramp === null ? now : paceOn(ramp, to) }];
};

const after = (state: State, what: Happening): State => {
  switch (what.kind) {
    case 'relation': {
      const changed = F.mul(state.pace, what.factor);
      return { ...state, pace: changed, home: changed, ramp: null };
    }
    case 'back':
      return { ...state, pace: state.home, ramp: null };
    case 'first':
      return { ...state, pace: state.first, home: state.first, ramp: null };
    case 'tempo': {
      const arrives = what.goal && state.ramp !== null;
      const home = what.passing || arrives ? state.home : what.pace;
      return { ...state, pace: what.pace, home, ramp: null };
    }
    case 'gradual': {
      const slows = F.less(state.pace, what.goal);
      const hurries = F.less(what.goal, state.pace);
      const agrees = what.span.change === 'slower' ? slows : hurries;
      return agrees ? { ...state, ramp: { span: what.span, from: state.pace, goal: what.goal } } : state;
    }
  }
};

type TempoMark = Extract<Mark, { kind: 'tempo' }>;

/** Tempo marks that can be played to, by position; the others are reported and left out. */
const playable = (score: Score, problems: Problem[]): readonly TempoMark[] =>
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

const openingPace = (score: Score, marks: readonly TempoMark[], problems: Problem[]): Pace => {
  const first = marks[0];
  const words = tempoWordsOf(score)[0];
  if (first === undefined) {
    problems.push(
      problem(
        'assumption',
        'tempo-missing',
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

const eventsByBar = (
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

const withoutGoal = (score: Score, { text, bar }: GradualSpan): Problem =>
  problem(
    'note',
    'gradual-without-goal',
    `"${text}" in ${nameOf(score, bar)} does not say which tempo it arrives at, so nothing is changed gradually there.`,
    placeOf(score, bar),
  );

/** Says which tempo words could not be counted. */
const reportWords = (
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
