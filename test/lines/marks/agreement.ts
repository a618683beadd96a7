/**
 * How far two lists of places agree: the F measure (harmonic mean of precision and recall) over places of which both ends lie within
 * one beat, and over seams to the very note. Precision and recall as usual in the evaluation of boundaries (common practice).
 */
import { F, type Beats } from '../../../src/units/index.ts';
import { positionOf, type Place, type Ruled } from './marks.ts';

export interface Tally {
  readonly first: number;
  readonly second: number;
  readonly both: number;
}

export const noTally: Tally = { first: 0, second: 0, both: 0 };

export const addTally = (a: Tally, b: Tally): Tally => ({
  first: a.first + b.first,
  second: a.second + b.second,
  both: a.both + b.both,
});

/** Between 0 and 1; 1 where both are empty. */
export const fMeasure = ({ first, second, both }: Tally): number =>
  first + second === 0 ? 1 : (2 * both) / (first + second);

const position = (ruled: Ruled, spot: Place['from']): Beats => {
  const found = positionOf(ruled, spot);
  if (typeof found === 'string') throw new Error(found);
  return found;
};

const near = (ruled: Ruled, a: Place['from'], b: Place['from']): boolean => {
  const beat = ruled.grids[a.barIndex]?.beats[0]?.length;
  if (beat === undefined) return false;
  const between = F.sub(position(ruled, a), position(ruled, b));
  return F.atMost(between, beat) && F.atMost(F.sub(F.zero, beat), between);
};

/** The same place: kind, value and both ends within one beat. */
export const samePlace = (ruled: Ruled, a: Place, b: Place): boolean =>
  a.kind === b.kind && a.value === b.value && near(ruled, a.from, b.from) && near(ruled, a.to, b.to);

/** Pairs each place with at most one of the other list, in order. */
export const placeTally = (ruled: Ruled, first: readonly Place[], second: readonly Place[]): Tally => {
  const left = [...second];
  let both = 0;
  for (const place of first) {
    const index = left.findIndex((other) => samePlace(ruled, place, other));
    if (index < 0) continue;
    left.splice(index, 1);
    both += 1;
  }
  return { first: first.length, second: second.length, both };
};

const seamKeys = (places: readonly Place[]): ReadonlySet<string> =>
  new Set(
    places.flatMap(({ kind, value, seams = [] }) =>
      seams.map(({ barIndex, beat, from, to }) => [kind, value ?? '', barIndex, beat, from, to].join(' ')),
    ),
  );

/** Seams of all these places together: the same where bar, beat and both players are the same. */
export const seamTally = (first: readonly Place[], second: readonly Place[]): Tally => {
  const [a, b] = [seamKeys(first), seamKeys(second)];
  return { first: a.size, second: b.size, both: [...a].filter((key) => b.has(key)).length };
};
