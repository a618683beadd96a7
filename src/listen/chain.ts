/** One beginning for each note: the best chain of candidates, by what is heard at each and how evenly they follow. */
import type { Curves } from './curves.ts';
import type { Candidate } from './rise.ts';

export interface Choice {
  /** Seconds in the recording where the note is expected by the coarse alignment. */
  readonly coarse: number;
  /** Where the notes around it would put it, if that lies apart: seconds; else as `coarse`. */
  readonly line: number;
  readonly candidates: readonly Candidate[];
  readonly curves: Curves;
  /** Mean spread in seconds of the windows in which they were seen, and whether no partial stood clear. */
  readonly spread: number;
  readonly covered: boolean;
  /** Same pitch as before: only suddenness tells it. */
  readonly repeated: boolean;
  readonly slurred: boolean;
}

/** A candidate as the chain sees it. */
export interface Link {
  /** Seconds in the recording. */
  readonly at: number;
  /** Log odds that it is the note's beginning. */
  readonly odds: number;
}

/** Seconds: spread of beginnings around the coarse alignment. A narrower one would draw players together. */
export const priorSpread = 0.06;
/** Seconds of unevenness between neighbours that cost one unit, and the most it costs. */
const evenSpread = 0.05;
const evenMost = 1.5;
/** Log odds that no candidate is right, before anything is heard. */
const none = -3;
/** Seconds: two notes of one player are no closer, and what it costs if they are. */
const closest = 0.02;
const disorder = 6;

interface Cell {
  readonly score: number;
  readonly from: number;
  readonly shift: number;
  readonly at: number;
}

/** How far a time lies from where a note is expected: by its own coarse time or by its neighbours', whichever is nearer. Seconds. */
export const shiftOf = ({ coarse, line }: Pick<Choice, 'coarse' | 'line'>, at: number): number =>
  Math.abs(at - line) < Math.abs(at - coarse) ? at - line : at - coarse;

/** The index of the link chosen for each note, or null. */
export const bestChain = (
  notes: readonly (Pick<Choice, 'coarse' | 'line'> & { readonly links: readonly Link[] })[],
): readonly (number | null)[] => {
  /** The last entry of each row stands for "none". */
  const rows: Cell[][] = [];
  notes.forEach(({ coarse, line, links }, i) => {
    const previous = rows[i - 1];
    const options = [
      ...links.map(({ at, odds }) => {
        const shift = shiftOf({ coarse, line }, at);
        return { at, shift, own: odds - 0.5 * (shift / priorSpread) ** 2 };
      }),
      { at: coarse, shift: 0, own: none },
    ];
    rows.push(
      options.map(({ at, shift, own }, o) => {
        if (previous === undefined) return { score: own, from: -1, shift, at };
        let [best, from] = [-Infinity, 0];
        previous.forEach((before, b) => {
          const free = o === options.length - 1 || b === previous.length - 1;
          const uneven = free ? 0.5 : Math.min(evenMost, Math.abs(shift - before.shift) / evenSpread);
          const order = at - before.at < closest && !free ? disorder : 0;
          const score = before.score - uneven - order;
          if (score > best) [best, from] = [score, b];
        });
        return { score: best + own, from, shift, at };
      }),
    );
  });
  const chosen: (number | null)[] = [];
  let at = (rows.at(-1) ?? []).reduce(
    (best, { score }, o, row) => (score > (row[best]?.score ?? -Infinity) ? o : best),
    0,
  );
  for (let i = rows.length - 1; i >= 0; i -= 1) {
    chosen.push(at === (rows[i]?.length ?? 0) - 1 ? null : at);
    at = rows[i]?.[at]?.from ?? 0;
  }
  return chosen.reverse();
};
