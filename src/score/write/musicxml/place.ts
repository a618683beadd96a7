import { F, plus, type Beats } from '../../../units/index.ts';
import type { Bar, Clef, Direction, Jump, Key, Mark, Part, Transposition } from '../../model.ts';
import { jumpsInWords } from './jumps.ts';
import type { WrittenNote } from '../../notes.ts';

/** What belongs to each bar, by the bar's index. */
export interface Contents {
  readonly notes: readonly (readonly WrittenNote[])[];
  readonly directions: readonly (readonly Direction[])[];
  readonly keys: readonly (readonly Key[])[];
  readonly clefs: readonly (readonly Clef[])[];
  readonly transpositions: readonly (readonly Transposition[])[];
}

/** The index of the bar that a position lies in: the later one at a bar line; the last one beyond the end. */
const barAt = (bars: readonly Bar[], at: Beats): number => {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const bar = bars[middle];
    if (bar !== undefined && F.atMost(bar.start, at)) low = middle;
    else high = middle - 1;
  }
  return low;
};

const sort = <T>(bars: readonly Bar[], items: readonly T[], barOf: (item: T) => number): readonly T[][] => {
  const sorted = bars.map((): T[] => []);
  for (const item of items) sorted[barOf(item)]?.push(item);
  return sorted;
};

/** The bar that a thing names, where its position lies in it or on either of its bar lines; else the bar there. */
const named =
  (bars: readonly Bar[]) =>
  ({ at, bar: index }: { readonly at: Beats; readonly bar: number }): number => {
    const bar = bars[index];
    const inside = bar !== undefined && F.atMost(bar.start, at) && F.atMost(at, plus(bar.start, bar.length));
    return inside ? index : barAt(bars, at);
  };

const positioned =
  (bars: readonly Bar[]) =>
  ({ at }: { readonly at: Beats }): number =>
    barAt(bars, at);

export const marksByBar = (bars: readonly Bar[], marks: readonly Mark[]): readonly (readonly Mark[])[] =>
  sort(bars, marks, named(bars));

export const contentsByBar = (bars: readonly Bar[], part: Part): Contents => ({
  notes: sort(bars, part.written, ({ bar, onset }) => (bars[bar] === undefined ? barAt(bars, onset) : bar)),
  directions: sort(bars, part.directions, named(bars)),
  keys: sort(bars, part.keys, positioned(bars)),
  clefs: sort(bars, part.clefs, positioned(bars)),
  transpositions: sort(bars, part.transpositions, positioned(bars)),
});

/** For each bar the jumps that some part says in words there, or at the start of the next bar. */
export const spokenJumps = (
  bars: readonly Bar[],
  parts: readonly Part[],
): readonly ReadonlySet<Jump['kind']>[] => {
  const spoken = bars.map(() => new Set<Jump['kind']>());
  const barOf = named(bars);
  for (const { directions } of parts)
    for (const direction of directions) {
      if (direction.kind !== 'words') continue;
      const index = barOf(direction);
      const atEdge = F.equal(direction.at, bars[index]?.start ?? direction.at);
      for (const kind of jumpsInWords(direction.value)) {
        spoken[index]?.add(kind);
        if (atEdge) spoken[index - 1]?.add(kind);
      }
    }
  return spoken;
};
