/** All bars of a score that is held, engraved a stretch at a time; and a touch on a beat of a drill. */
import { clickText, parseClick } from '../click/placement.ts';
import { barName, withTouch } from '../drill/apartBars.ts';
import { hemiolaStrikes } from '../drill/hemiolaBars.ts';
import type { Drill } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { asWritten, barGrids } from '../rhythm/beats.ts';
import { findBars } from '../rhythm/passage.ts';
import type { Score } from '../score/model.ts';
import type { Engraver } from '../sheet/index.ts';
import { makeScreen, type Screen, type ScreenOptions } from '../sheet/screen.ts';
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
  const screen = await makeScreen(worked.value, options, engraver, [], score);
  return screen.ok ? ok(withoutIds(screen.value), screen.problems) : screen;
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
