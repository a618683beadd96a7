/** A hemiola over named bars: where it is clicked, and what is told of it. */
import { hemiola } from '../click/strikes.ts';
import type { BarGrid } from '../rhythm/beats.ts';
import { fail, ok, problem, type Beats, type Problem, type Result } from '../units/index.ts';
import type { Round } from './round.ts';

/** Bars by index, both included. */
export interface BarSpan {
  readonly first: number;
  readonly last: number;
}

/**
 * Offsets from the bar's start of the clicks of a hemiola, by bar index. `grids` are counted by the metre, however the
 * players count. Fails with `placement-lacks-metre`.
 */
export const hemiolaStrikes = (
  grids: readonly BarGrid[],
  span: BarSpan | null,
): Result<ReadonlyMap<number, readonly Beats[]>> => {
  if (span === null) return ok(new Map());
  const row = grids.slice(span.first, span.last + 1);
  const found = hemiola(row);
  if (found === null) {
    const metres = [...new Set(row.map(({ metre }) => metre))].join(', ');
    const these = row.length === 1 ? 'this bar is' : `these ${row.length} bars are`;
    return fail(
      'placement-lacks-metre',
      `A hemiola needs pairs of full bars of three beats, or full bars of 6/8 or 6/4; ${these} ${metres}.`,
    );
  }
  return ok(new Map(found.map((offsets, i) => [span.first + i, offsets])));
};

/** A hemiola that the passage does not play whole is a slip worth telling. */
export const hemiolaProblems = (round: Round, span: BarSpan | null): readonly Problem[] => {
  if (span === null) return [];
  const played = new Set(round.bars.map(({ bar }) => bar.index));
  const inside = Array.from({ length: span.last - span.first + 1 }, (_, i) => played.has(span.first + i));
  if (inside.every((is) => is)) return [];
  return inside.some((is) => is)
    ? [
        problem(
          'note',
          'hemiola-cut',
          'The passage plays only a part of the hemiola, so only that is clicked.',
        ),
      ]
    : [problem('note', 'hemiola-outside', 'The hemiola lies outside the passage, so it is not clicked.')];
};
