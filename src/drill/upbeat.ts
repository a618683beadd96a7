/** The upbeat of a passage: as the rule finds it, none, or as long as the player says. */
import type { BarGrid } from '../rhythm/beats.ts';
import { upbeatLength } from '../rhythm/upbeat.ts';
import { parseValue } from '../rhythm/value.ts';
import type { Bar, Part, Score } from '../score/model.ts';
import type { PlayingOrder, Visit } from '../score/playing.ts';
import { F, fail, ok, type Beats, type Result } from '../units/index.ts';

export interface Upbeat {
  /** The bar played before the passage. */
  readonly visit: Visit;
  /** How much of its end is played. */
  readonly length: Beats;
}

const endsSection = (bar: Bar | undefined): boolean =>
  bar === undefined || bar.repeatEnd > 0 || bar.barline === 'double' || bar.barline === 'final';

/**
 * Reads "auto", "none" or a length such as "1/4", and finds that upbeat in the bar played before the passage. Null
 * where there is none. Fails with `upbeat-unknown` where the text is none of them, or asks for more than there is.
 */
export const findUpbeat = (
  score: Score,
  order: PlayingOrder,
  grids: readonly BarGrid[],
  parts: readonly Part[],
  visits: readonly Visit[],
  asked: string,
): Result<Upbeat | null> => {
  if (asked === 'none') return ok(null);
  const [first] = visits;
  const visit = first === undefined ? undefined : order.visits[first.index - 1];
  const before = visit === undefined ? undefined : score.bars[visit.barIndex];
  const into = first === undefined ? undefined : score.bars[first.barIndex];
  const grid = before === undefined ? undefined : grids[before.index];
  if (asked !== 'auto') {
    const length = parseValue(asked);
    if (length === null) {
      return fail('upbeat-unknown', `"${asked}" is no upbeat. Say auto, none, or a length such as 1/4.`);
    }
    if (visit === undefined || before === undefined) {
      return fail(
        'upbeat-unknown',
        `Nothing is played before this passage, so it has no upbeat of ${asked}.`,
      );
    }
    return F.less(before.length, length)
      ? fail(
          'upbeat-unknown',
          `The bar before this passage lasts ${F.format(before.length)}, less than an upbeat of ${asked}.`,
        )
      : ok({ visit, length });
  }
  // A passage that begins with a pickup bar has its upbeat already.
  if (
    visit === undefined ||
    before === undefined ||
    into === undefined ||
    grid === undefined ||
    into.pickup
  ) {
    return ok(null);
  }
  const atEdge = before.repeatStart || visit.index === 0 || endsSection(score.bars[before.index - 1]);
  const length = upbeatLength(parts, { before, into, atEdge }, grid);
  return ok(F.isPositive(length) ? { visit, length } : null);
};
