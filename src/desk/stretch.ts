/** Bars of a score that is held, or of a drill's page, engraved a stretch at a time; and a touch on a beat of a drill. */
import { clickText, parseClick } from '../click/placement.ts';
import { barName, withTouch } from '../drill/apartBars.ts';
import { pageBars, type PageStretch } from '../drill/drillStretch.ts';
import { hemiolaStrikes } from '../drill/hemiolaBars.ts';
import type { Drill } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { asWritten, barGrids } from '../rhythm/beats.ts';
import { findBars } from '../rhythm/passage.ts';
import type { Score } from '../score/model.ts';
import type { Engraver, PlaceMark } from '../sheet/index.ts';
import {
  makeScreen,
  makeScreenStretch,
  makeWrittenScreen,
  type Screen,
  type ScreenOptions,
} from '../sheet/screen.ts';
import { inWrittenOrder, workOutStretch } from '../sheet/written.ts';
import { fail, ok, type Beats, type Result } from '../units/index.ts';
import type { HeldPiece } from './live.ts';
import { usualDrill } from './request.ts';

/** Bars by index, both included. */
export interface StretchBars {
  readonly first: number;
  readonly last: number;
}

/** A score's bars in written order, worked out once for all its stretches. */
const plain = new WeakMap<Score, Score>();

const plainScore = (score: Score): Score => {
  const known = plain.get(score) ?? inWrittenOrder(score);
  plain.set(score, known);
  return known;
};

/** Ids in pictures that stand on one page with those of other stretches would be there twice. */
const withoutIds = (screen: Screen): Screen => ({
  ...screen,
  systems: screen.systems.map((system) => ({ ...system, svg: system.svg.replace(/ id="[^"]*"/g, '') })),
});

/** Engraves bars of a score as they are written. Errors: those of the drill and of the engraver. */
export const makeStretch = async (
  { read: { score }, sha256 }: HeldPiece,
  { first, last }: StretchBars,
  options: ScreenOptions,
  engraver: Engraver,
): Promise<Result<Screen>> => {
  const drill: Drill = {
    ...usualDrill,
    format: 'levare.drill/2',
    score: { sha256, title: '', file: 'score' },
  };
  const worked = workOutStretch(plainScore(score), drill, first, last);
  if (!worked.ok) return worked;
  const screen = await makeWrittenScreen(worked.value, options, engraver, score);
  return screen.ok ? ok(withoutIds(screen.value), screen.problems) : screen;
};

/** Ids that no other stretch of the page has; those of ticks are the whole page's already. */
const withOwnIds = (screen: Screen, first: number): Screen => {
  const own = (id: string): string => (/^(?:tick|recount)-/.test(id) ? id : `${id}.${first}`);
  return {
    ...screen,
    systems: screen.systems.map((system) => ({
      ...system,
      svg: system.svg.replace(/ id="([^"]*)"/g, (_, id: string) => ` id="${own(id)}"`),
    })),
    notes: screen.notes.map((note) => ({ ...note, element: own(note.element) })),
  };
};

/**
 * Engraves bars of a drill's page, by their place among those that are played the first time through, with places pencilled
 * in. Errors: those of the engraver.
 */
export const makePageStretch = async (
  worked: WorkedDrill,
  bars: PageStretch,
  options: ScreenOptions,
  engraver: Engraver,
  marks: readonly PlaceMark[] = [],
): Promise<Result<Screen>> => {
  if (bars.first <= 0 && bars.last >= pageBars(worked).length - 1)
    return makeScreen(worked, options, engraver, marks);
  const screen = await makeScreenStretch(worked, bars, options, engraver, marks);
  return screen.ok ? ok(withOwnIds(screen.value, bars.first), screen.problems) : screen;
};

const hemiolaIn = ({ score }: WorkedDrill, bars: string, barIndex: number): readonly Beats[] | null => {
  const span = findBars(score, bars);
  const found = span.ok ? hemiolaStrikes(barGrids(score, asWritten), span.value) : span;
  return found.ok ? (found.value.get(barIndex) ?? null) : null;
};

/** A place in a bar that a player touched. */
export interface TouchedBeat {
  readonly barIndex: number;
  /** "2", "2+1/2". */
  readonly beat: string;
}

/**
 * Where a drill clicks after a touch on a beat: the click is taken from that place of that bar, or put there. Errors:
 * those of `withTouch`; `bar-unknown` where the passage does not hold the bar.
 */
export const touchedClick = (worked: WorkedDrill, { barIndex, beat }: TouchedBeat): Result<string> => {
  const rule = parseClick(worked.drill.click);
  if (!rule.ok) return rule;
  const stretch = worked.round.bars.find((bar) => bar.kind === 'bar' && bar.bar.index === barIndex);
  const grid = worked.grids[barIndex];
  if (stretch?.kind !== 'bar' || grid === undefined)
    return fail('bar-unknown', `The passage does not hold bar ${barName(worked.score, barIndex)}.`);
  const { hemiola } = rule.value;
  const touched = {
    score: worked.score,
    grid,
    barIndex,
    barCount: stretch.barCount,
    hemiola: hemiola === null ? null : hemiolaIn(worked, `${hemiola.from}-${hemiola.to}`, barIndex),
  };
  const next = withTouch(rule.value, touched, beat);
  return next.ok ? ok(clickText(next.value)) : next;
};
