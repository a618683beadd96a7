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
import type { Score } from '../score/model.ts';
import type { PlayingOrder } from '../score/playing.ts';
import { movements } from '../score/playing/movements.ts';
import { F, beats, note, plus, remembered, type Beats, type Problem } from '../units/index.ts';
import { gradualSpans, type GradualSpan } from './gradual.ts';
import { tempoMap, type Pace, type TempoMap, type TempoPiece } from './tempo.ts';
import {
  eventsByBar,
  openingPace,
  playable,
  reportWords,
  withoutGoal,
  type Happening,
} from './tempoEvents.ts';

interface State {
  readonly pace: Pace;
  /** What "a tempo" returns to. */
  readonly home: Pace;
  readonly first: Pace;
  readonly ramp: { readonly span: GradualSpan; readonly from: Pace; readonly goal: Pace } | null;
}

interface ScoreTempo {
  readonly map: TempoMap;
  readonly problems: readonly Problem[];
}

const tempoIn = (score: Score, order: PlayingOrder): ScoreTempo => {
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

const ofScore = remembered((score: Score) => remembered((order: PlayingOrder) => tempoIn(score, order)));

/** The tempo map over played positions, and what was assumed or left out. */
export const scoreTempo = (score: Score, order: PlayingOrder): ScoreTempo => ofScore(score)(order);

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
