/** The places of a bar on which a click stands or can be put: its beats, and wherever else it clicks already. */
import { beatOffset, beatText, type BarGrid } from '../rhythm/beats.ts';
import { beats, F, type Beats } from '../units/index.ts';
import type { Taken } from './taken.ts';

export interface BarPlace {
  /** As players count it: "2", "2+1/2". */
  readonly beat: string;
  /** From the bar's start. */
  readonly offset: Beats;
}

/** Places in a stretch of a bar, by time; none where there is no metre. `clicked`: places that click, as counted. */
export const barPlaces = (
  { offset, length }: Taken,
  grid: BarGrid,
  clicked: readonly string[],
): readonly BarPlace[] => {
  if (grid.metre === 'free') return [];
  const inside = (at: F.Fraction): boolean => F.atMost(offset, at) && F.less(at, F.add(offset, length));
  const own = grid.beats.map((beat) => beats(F.sub(beat.offset, grid.shift))).filter(inside);
  const more = clicked.flatMap((text) => {
    const at = beatOffset(grid, text);
    return at.ok && !own.some((one) => F.equal(one, at.value)) ? [at.value] : [];
  });
  return [...own, ...more].sort(F.compare).map((at) => ({ beat: beatText(grid, at), offset: at }));
};
