/** Systems laid on pages: as many as fit; with several pages, each turn where the player has most time for it. */
import type { Part } from '../score/model.ts';
import { F, type Beats } from '../units/index.ts';
import { systemGap } from './paper.ts';
import type { System } from './systems.ts';

/** Heights in hundredths of a millimetre. */
export interface Room {
  /** On the first page, below its head, and on the others. */
  readonly first: number;
  readonly other: number;
}

export const heightOf = ({ extent }: System): number => extent.bottom - extent.top;

const gap = systemGap.least * 100;

/** Height of a row of systems with least gaps. */
export const stackHeight = (systems: readonly System[]): number =>
  systems.reduce((sum, system) => sum + heightOf(system), 0) + gap * Math.max(0, systems.length - 1);

/** Seconds free for a turn after a bar: rest at its end and at the next one's beginning. By bar index. */
export type TurnTime = (bar: number) => number;

/** A turn needs about this long, in seconds; more is no better. Common practice, no source. */
const enough = 2;

/** A page is not broken before this share of it is filled. Our own choice. */
const leastFilled = 0.5;

/** Lays the systems on pages; null where a system is higher than a page. */
export const paginated = (
  systems: readonly System[],
  room: Room,
  turnTime: TurnTime,
): readonly (readonly System[])[] | null => {
  const pages: (readonly System[])[] = [];
  let rest = systems;
  while (rest.length > 0) {
    const space = pages.length === 0 ? room.first : room.other;
    let fit = 0;
    while (fit < rest.length && stackHeight(rest.slice(0, fit + 1)) <= space) fit++;
    if (fit === 0) return null;
    let best = fit;
    if (fit < rest.length) {
      const score = (count: number): number => {
        const last = rest[count - 1];
        return last === undefined ? 0 : Math.min(enough, turnTime(last.first + last.bars - 1));
      };
      for (
        let count = fit - 1;
        count > 0 && stackHeight(rest.slice(0, count)) >= leastFilled * space;
        count--
      )
        if (score(count) > score(best)) best = count;
    }
    pages.push(rest.slice(0, best));
    rest = rest.slice(best);
  }
  return pages;
};

/** Time that all of these parts rest around the end of each bar, in whole notes, from the bars' written notes. */
export const restAround = (
  parts: readonly Part[],
  bars: readonly { readonly start: Beats; readonly length: Beats }[],
  bar: number,
): F.Fraction => {
  const here = bars[bar];
  if (here === undefined) return F.zero;
  const line = F.add(here.start, here.length);
  let before: F.Fraction = F.zero;
  let after: F.Fraction | null = null;
  for (const { written } of parts)
    for (const { kind, onset, duration } of written) {
      if (kind !== 'note') continue;
      const end = F.add(onset, duration);
      if (F.less(onset, line)) before = F.max(before, F.min(end, line));
      if (F.less(line, end)) {
        const starts = F.max(onset, line);
        after = after === null ? starts : F.min(after, starts);
      }
    }
  return F.sub(after ?? line, before);
};
