/**
 * From ticks to note values. The rule, in whole:
 *
 * 1. Time is cut into quarters, counted from each bar line (the last piece of a bar may be shorter). For each part and
 *    each such quarter, the onsets in it are held against the divisions 1, 2, 3, 4, 6, 8, 12, 16, 5, 10, 7, 14, 9, 18,
 *    24, 32, 20 and 28, in this order. The first division on which all of them lie is the plain division of the quarter;
 *    where the file's ticks do not divide by it, less than one tick beside it counts as on it.
 * 2. If at least 95 of 100 onsets lie in quarters with a plain division, the file was written, not played: those
 *    quarters keep their positions exactly. All other quarters, and all quarters of a played file, are fitted: to 4 or
 *    3 parts, or, where that would move an onset by more than a tenth of a quarter or put together what lies a twelfth
 *    of a quarter apart, to 8 or 6. Three (six) parts are taken where the sum of the squared shifts is less than half of
 *    that for four (eight).
 * 3. Ends of notes in a written file stay where they are if they lie on a division of 1, 2, 3, 4, 6, 8, 12, 16, 24, 32,
 *    or of 5, 7 or 9 times a power of two if some onset of the file asks for such; unless fewer than half of all ends lie on 1, 2, 3, 4, 6, 8
 *    or 12 and those: then the file shortens its notes by rule, and all ends are fitted. A fitted end goes to the
 *    nearest point of the division of its quarter, or of 4 where that is 1 or 2 or no note begins in it.
 * 4. No note gets shorter than one part of the division (again at least 4, or 3) of the quarter that it begins in.
 */
import type { RawPart } from './events.ts';
import { quarter, unitsOf, type BarGrid } from './grid.ts';

const onsetDivisions = [1, 2, 3, 4, 6, 8, 12, 16, 5, 10, 7, 14, 9, 18, 24, 32, 20, 28] as const;
const coarseEnds = [1, 2, 3, 4, 6, 8, 12] as const;
const fineEnds = [16, 24, 32] as const;
const rareEnds: readonly (readonly [number, readonly number[]])[] = [
  [5, [5, 10, 20]],
  [7, [7, 14, 28]],
  [9, [9, 18]],
];
const writtenShare = 0.95;
const gatedShare = 0.5;

export interface PlacedNote {
  /** Units of `grid.ts`. */
  readonly from: number;
  readonly to: number;
  readonly key: number;
  /** The tick at which the file begins it. */
  readonly tick: number;
}

export interface Placement {
  /** As the parts that went in. */
  readonly parts: readonly (readonly PlacedNote[])[];
  readonly written: boolean;
  readonly onsetsMoved: number;
  readonly endsMoved: number;
  /** Moved by less than one tick, to the value that the tick stands for. */
  readonly rounded: number;
  /** Largest shift, in quarters. */
  readonly largest: number;
}

/** The quarter that a position lies in: where it begins and ends, and how far into it the position is. */
interface Window {
  readonly start: number;
  readonly end: number;
  readonly into: number;
}

const windowAt = (grid: BarGrid, position: number): Window => {
  const bar = grid.bar(grid.at(position));
  const start = bar.start + Math.floor((position - bar.start) / quarter) * quarter;
  return { start, end: Math.min(start + quarter, bar.start + bar.length), into: position - start };
};

/** How the ticks of a file lie on divisions of a quarter. */
class Ticks {
  readonly tick: number;
  readonly #perQuarter: number;

  constructor(perQuarter: number) {
    this.#perQuarter = perQuarter;
    this.tick = quarter / perQuarter;
  }

  /** Whether a distance from the start of a quarter is a point of the division, as near as ticks can say. */
  on(into: number, division: number): boolean {
    const step = quarter / division;
    const beside = Math.abs(into - Math.round(into / step) * step);
    // Float dust only: a hundredth of a unit is a 30-millionth of a whole note.
    if (beside < 0.01) return true;
    return this.#perQuarter % division !== 0 && this.tick * 8 <= step && beside < this.tick - 0.01;
  }
}

const snap = (into: number, division: number): number => {
  const step = quarter / division;
  return Math.round(into / step) * step;
};

const squares = (intos: readonly number[], division: number): number =>
  intos.reduce((sum, into) => sum + (into - snap(into, division)) ** 2, 0);

const better = (intos: readonly number[], duple: number, triple: number): number =>
  squares(intos, triple) < squares(intos, duple) / 2 ? triple : duple;

const fitted = (intos: readonly number[]): number => {
  const coarse = better(intos, 4, 3);
  const sorted = [...intos].sort((a, b) => a - b);
  const far = sorted.some((into) => Math.abs(into - snap(into, coarse)) > quarter / 10);
  const merged = sorted.some((into, k) => {
    const before = sorted[k - 1];
    return (
      before !== undefined && into - before >= quarter / 12 && snap(into, coarse) === snap(before, coarse)
    );
  });
  return far || merged ? better(intos, 8, 6) : coarse;
};

/** The division for ends in a quarter whose onsets lie on `division`. */
const endsOn = (division: number): number => (division < 3 ? 4 : division);

interface Quarter {
  readonly intos: number[];
  plain: number | null;
  division: number;
}

/** Places the notes of all parts on note values. */
export const quantise = (parts: readonly RawPart[], ticksPerQuarter: number, grid: BarGrid): Placement => {
  const ticks = new Ticks(ticksPerQuarter);
  const units = (tick: number) => unitsOf(tick, ticksPerQuarter);
  const quarters = parts.map(({ notes }) => {
    const found = new Map<number, Quarter>();
    for (const { from } of notes) {
      const { start, into } = windowAt(grid, units(from));
      const known = found.get(start);
      if (known === undefined) found.set(start, { intos: [into], plain: null, division: 4 });
      else known.intos.push(into);
    }
    return found;
  });

  let onsets = 0;
  let plainOnsets = 0;
  const used = new Set<number>();
  for (const found of quarters)
    for (const each of found.values()) {
      each.plain = onsetDivisions.find((d) => each.intos.every((into) => ticks.on(into, d))) ?? null;
      onsets += each.intos.length;
      if (each.plain === null) continue;
      plainOnsets += each.intos.length;
      used.add(each.plain);
    }
  const written = plainOnsets >= writtenShare * onsets;
  for (const found of quarters)
    for (const each of found.values())
      each.division = written && each.plain !== null ? each.plain : fitted(each.intos);

  const rare = rareEnds
    .filter(([factor]) => [...used].some((d) => d % factor === 0))
    .flatMap(([, list]) => list);
  const coarse: readonly number[] = [...coarseEnds, ...rare];
  const fine: readonly number[] = [...coarse, ...fineEnds];
  const isOn = (tick: number, divisions: readonly number[]) => {
    const { into } = windowAt(grid, units(tick));
    return divisions.find((d) => ticks.on(into, d));
  };
  const ends = parts.flatMap(({ notes }) => notes.map(({ to }) => isOn(to, coarse) !== undefined));
  const gated = !written || ends.filter(Boolean).length < gatedShare * ends.length;

  let onsetsMoved = 0;
  let endsMoved = 0;
  let rounded = 0;
  let largest = 0;
  const moved = (shift: number): boolean => {
    if (shift < 0.01) return false;
    if (shift < ticks.tick) {
      rounded += 1;
      return false;
    }
    largest = Math.max(largest, shift / quarter);
    return true;
  };
  const placed = parts.map(({ notes }, k) =>
    notes.map(({ from, to, key }): PlacedNote => {
      const begins = windowAt(grid, units(from));
      const division = quarters[k]?.get(begins.start)?.division ?? 4;
      const onset = Math.min(begins.start + snap(begins.into, division), begins.end);
      const stops = windowAt(grid, units(to));
      const kept = gated ? undefined : isOn(to, fine);
      const endDivision = kept ?? endsOn(quarters[k]?.get(stops.start)?.division ?? 4);
      const end = Math.min(stops.start + snap(stops.into, endDivision), stops.end);
      const last = end > onset ? end : onset + quarter / endsOn(division);
      if (moved(Math.abs(onset - units(from)))) onsetsMoved += 1;
      if (moved(Math.abs(last - units(to)))) endsMoved += 1;
      return { from: onset, to: last, key, tick: from };
    }),
  );
  return { parts: placed, written, onsetsMoved, endsMoved, rounded, largest };
};
