/** Where a drill that plays is left for another one, which was asked for meanwhile. Samples of the drill concerned. */
import type { LiveMarks } from '../desk/index.ts';

/** Seconds that are needed to go over: what lies nearer than this is left to the next place. */
const margin = 0.15;

export interface Switch {
  /** Where the present drill is left. */
  readonly at: number;
  /** Where the other one is begun. */
  readonly from: number;
}

/** At the end of this time through, if there is another one; null in the last. */
export const atNextTime = (now: LiveMarks, heard: number, rate: number): Switch | null => {
  const end = now.ends.slice(0, -1).find((at) => at >= heard + margin * rate);
  return end === undefined ? null : { at: end, from: 0 };
};

/** At the next bar that the other drill has too, in its first time through; null where there is none. */
export const atNextBar = (now: LiveMarks, other: LiveMarks, heard: number, rate: number): Switch | null => {
  for (const { sample, barIndex } of now.bars) {
    if (sample < heard + margin * rate) continue;
    const same = other.bars.find((bar) => bar.rep === 1 && bar.barIndex === barIndex);
    if (same !== undefined) return { at: sample, from: same.sample };
  }
  return null;
};
