/** Bars that are clicked otherwise than the rest, and how a touch on a beat becomes one. */
import type { BarsApart, ClickRule, CountedBeat, Placement } from '../click/placement.ts';
import { strikes } from '../click/strikes.ts';
import { beatOffset, beatText, type BarGrid } from '../rhythm/beats.ts';
import { findBars } from '../rhythm/passage.ts';
import type { Score } from '../score/model.ts';
import { beats, F, ok, type Beats, type Problem, type Result } from '../units/index.ts';

/** The placement of each bar that has one of its own, by bar index. Errors: `bar-unknown`, `bars-reversed`. */
export const placementsApart = (
  score: Score,
  apart: readonly BarsApart[],
): Result<ReadonlyMap<number, Placement>> => {
  const found = new Map<number, Placement>();
  const problems: Problem[] = [];
  for (const { bars, placement } of apart) {
    const span = findBars(score, bars);
    if (!span.ok) return span;
    problems.push(...span.problems);
    for (let bar = span.value.first; bar <= span.value.last; bar++) found.set(bar, placement);
  }
  return ok(found, problems);
};

/** A place in a bar as players count it. Unlike "2&", "2+1/2" means the same however the beat divides. */
const counted = (grid: BarGrid, offset: Beats): CountedBeat => {
  const [beat = '1', part] = beatText(grid, offset).split('+');
  return { beat: Number(beat), part: part === undefined ? F.zero : (F.parse(part) ?? F.zero) };
};

/** The name of a bar that means this bar and no other: its printed number, or its index. */
export const barName = (score: Score, index: number): string => {
  const number = score.bars[index]?.number ?? '';
  const plain = /^[\p{L}\p{N}]+$/u.test(number) && number !== 'hemiola';
  const once = score.bars.filter((bar) => bar.number === number).length === 1;
  return plain && once ? number : `@${index}`;
};

const sameOffsets = (a: readonly Beats[] | null, b: readonly Beats[]): boolean =>
  a?.length === b.length && a.every((offset, i) => F.equal(offset, b[i] ?? F.zero));

export interface TouchedBar {
  readonly score: Score;
  readonly grid: BarGrid;
  /** In the score. */
  readonly barIndex: number;
  /** Full bars since the passage's first; null in its upbeat. */
  readonly barCount: number | null;
  /** What clicks there by a hemiola; null where there is none. */
  readonly hemiola: readonly Beats[] | null;
}

/**
 * The rule after a touch on a beat, "2" or "2+1/2": where it clicked there it no longer does, elsewhere it now
 * does; in that bar alone. What comes to the same as the rule for all bars is not said apart. Errors: those of
 * `placementsApart`; `beat-unknown` where the bar does not hold the place.
 */
export const withTouch = (rule: ClickRule, touched: TouchedBar, beat: string): Result<ClickRule> => {
  const { score, grid, barIndex, barCount, hemiola } = touched;
  const place = beatOffset(grid, beat);
  if (!place.ok) return place;
  const offset = place.value;
  const own = placementsApart(score, rule.apart);
  if (!own.ok) return own;
  const usual =
    hemiola ?? strikes(rule.placement, grid, barCount) ?? (F.isZero(grid.shift) ? [beats(F.zero)] : []);
  const apart = own.value.get(barIndex);
  const now = apart === undefined ? usual : (strikes(apart, grid, barCount) ?? []);
  const clicked = now.some((at) => F.equal(at, offset));
  const next = clicked ? now.filter((at) => !F.equal(at, offset)) : [...now, offset].sort(F.compare);
  const name = barName(score, barIndex);
  const others = rule.apart.filter(({ bars }) => bars !== name && bars !== `@${barIndex}`);
  const without = placementsApart(score, others);
  if (!without.ok) return without;
  // A wider stretch of bars may still hold this one.
  if (!without.value.has(barIndex) && sameOffsets(usual, next)) return ok({ ...rule, apart: others });
  const placement: Placement =
    next.length === 0 ? { kind: 'none' } : { kind: 'beats', list: next.map((at) => counted(grid, at)) };
  return ok({ ...rule, apart: [...others, { bars: name, placement }] });
};
