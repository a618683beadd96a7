/** The beats of a bar, as section 6 of the design counts them, and how a place in a bar is written: "2+1/2". */
import { metreLength, metreText, type MetreComponent } from '../score/metre.ts';
import type { Bar, Score } from '../score/model.ts';
import { beats, fail, F, note, ok, remembered, type Beats, type Result } from '../units/index.ts';
import { beamedGroups, irregularCount, usualGroups } from './groups.ts';

export interface Beat {
  /** From 1. */
  readonly number: number;
  /** From the start of the full bar. */
  readonly offset: Beats;
  readonly length: Beats;
  /** Into how many the beat divides first: 2, or 3 in compound time and in groups of three. */
  readonly division: 2 | 3;
}

/** The beats of one bar. */
export interface BarGrid {
  /** "4/4", to name it by. */
  readonly metre: string;
  /** Length of the full bar: that of the metre, or the bar's own where there is none. */
  readonly full: Beats;
  /** Length of the bar as it is. */
  readonly length: Beats;
  /** What is missing in front: in a pickup bar, which is counted from the end of the full bar; else zero. */
  readonly shift: Beats;
  /** From the start of the full bar to the end of this one; at least one. */
  readonly beats: readonly Beat[];
  /** Where the metre's own beats begin, however the players count; from the start of the full bar, within it. */
  readonly strong: readonly Beats[];
  /** Whether the metre is compound (6/8, 9/8, 12/8 ...). */
  readonly compound: boolean;
  /** The note value that a tempo without a unit speaks of: the beat, or the lower value where beats are unequal. */
  readonly tempoUnit: Beats;
}

/** How the players count. */
export interface Counting {
  /** A value to count in; null: the metre's own beat. */
  readonly unit: Beats | null;
  /** Groups for irregular metres of that many units; null: as beamed, else the usual ones. */
  readonly groups: readonly number[] | null;
}

export const asWritten: Counting = { unit: null, groups: null };

/** A beat before its place in the bar is known. */
type Stroke = Pick<Beat, 'length' | 'division'>;

const strokes = (count: number, length: Beats, division: 2 | 3): readonly Stroke[] =>
  Array.from({ length: count }, () => ({ length, division }));

const isCompound = (count: number): boolean => count > 3 && count % 3 === 0;

const grouped = (groups: readonly number[], unit: number): readonly Stroke[] =>
  groups.map((size) => ({ length: note(size, unit), division: size === 3 ? 3 : 2 }));

/** Beats of one component of a metre: the table of section 6. Common practice where the table is silent. */
const componentStrokes = (
  { numerators, unit }: MetreComponent,
  groups: readonly number[] | null,
): readonly Stroke[] => {
  const count = numerators.reduce((a, b) => a + b, 0);
  if (numerators.length > 1 && unit >= 8) {
    return grouped(
      numerators.flatMap((size) => (size > 4 ? usualGroups(size, unit) : size === 4 ? [2, 2] : [size])),
      unit,
    );
  }
  if (numerators.length === 1 && isCompound(count)) return strokes(count / 3, note(3, unit), 3);
  if (unit >= 8 && count > 4) return grouped(groups ?? usualGroups(count, unit), unit);
  return strokes(count, note(1, unit), 2);
};

/** A bar counted in one value throughout; what is left at the end is a shorter beat. */
const countedIn = (unit: Beats, full: Beats): readonly Stroke[] => {
  const whole = Number(F.floor(F.div(full, unit)));
  const rest = beats(F.sub(full, F.mul(unit, F.fraction(whole))));
  const division = unit.n % 3n === 0n ? 3 : 2;
  return [...strokes(whole, unit, division), ...(F.isPositive(rest) ? strokes(1, rest, 2) : [])];
};

/** Lays strokes end to end, and repeats the last one over a bar that is longer than its metre. */
const laid = (row: readonly Stroke[], until: Beats): readonly Beat[] => {
  const result: Beat[] = [];
  let offset = note(0);
  const last = row.at(-1) ?? { length: until, division: 2 };
  for (let i = 0; i < row.length || F.less(offset, until); i++) {
    const stroke = row[i] ?? last;
    result.push({ number: i + 1, offset, ...stroke });
    offset = beats(F.add(offset, stroke.length));
  }
  return result;
};

/** The grid of one bar. `groups` are those of the bar's irregular metre, if it has one. */
export const barGrid = (bar: Bar, counting: Counting, groups: readonly number[] | null): BarGrid => {
  const full = metreLength(bar.metre) ?? bar.length;
  const shift = bar.pickup && F.less(bar.length, full) ? beats(F.sub(full, bar.length)) : note(0);
  const own =
    bar.metre.components.length === 0
      ? [{ length: full, division: 2 as const }]
      : bar.metre.components.flatMap((component) => componentStrokes(component, groups));
  const row = counting.unit === null ? own : countedIn(counting.unit, full);
  const [first] = row;
  const even = row.every(({ length }) => first !== undefined && F.equal(length, first.length));
  const lower = note(1, bar.metre.components[0]?.unit ?? 4);
  return {
    metre: metreText(bar.metre),
    full,
    length: bar.length,
    shift,
    beats: laid(row, beats(F.add(shift, bar.length))),
    strong: laid(own, note(0)).map(({ offset }) => offset),
    compound: bar.metre.components.some(
      ({ numerators: [count = 0, ...rest] }) => rest.length === 0 && isCompound(count),
    ),
    tempoUnit:
      counting.unit ??
      (even && first !== undefined && bar.metre.components.length > 0 ? first.length : lower),
  };
};

const gridsOf = (score: Score, counting: Counting): readonly BarGrid[] => {
  const beamed = beamedGroups(score);
  return score.bars.map((bar) => {
    const irregular = irregularCount(bar);
    const given = counting.groups?.reduce((a, b) => a + b, 0) === irregular?.count ? counting.groups : null;
    return barGrid(bar, counting, irregular === null ? null : (given ?? beamed.get(bar.index) ?? null));
  });
};

const gridsAsWritten = remembered((score: Score) => gridsOf(score, asWritten));

/** The grids of all bars, by bar index; as the score is written they are worked out once. */
export const barGrids = (score: Score, counting: Counting): readonly BarGrid[] =>
  counting.unit === null && counting.groups === null ? gridsAsWritten(score) : gridsOf(score, counting);

/** Where a place stands in the bar's count: `offset` from the bar's start as it is, 0 to its length. "2", "2+1/2". */
export const beatText = (grid: BarGrid, offset: Beats): string => {
  const place = F.add(offset, grid.shift);
  const beat = grid.beats.findLast((candidate) => F.atMost(candidate.offset, place));
  if (beat === undefined) return '1';
  const gone = F.div(F.sub(place, beat.offset), beat.length);
  return F.isZero(gone) ? String(beat.number) : `${beat.number}+${F.format(gone)}`;
};

/**
 * The offset from the bar's start of a place written as "2" or "2+1/3"; the inverse of `beatText`. Fails with
 * `beat-unknown` where the text is no such place or the bar does not hold it.
 */
export const beatOffset = (grid: BarGrid, text: string): Result<Beats> => {
  const match = /^\s*(\d{1,3})(?:\+(\d{1,9}\/\d{1,9}))?\s*$/.exec(text);
  const beat = grid.beats[Number(match?.[1]) - 1];
  const part = match?.[2] === undefined ? F.zero : F.parse(match[2]);
  if (match === null || part === null || !F.less(part, F.one)) {
    return fail('beat-unknown', `"${text}" is no place in a bar: write the beat, as "2" or "2+1/2".`);
  }
  const offset = beat === undefined ? null : F.sub(F.add(beat.offset, F.mul(beat.length, part)), grid.shift);
  if (offset === null || F.less(offset, F.zero) || !F.less(offset, grid.length)) {
    return fail('beat-unknown', `This bar of ${grid.metre} has no place "${text}".`);
  }
  return ok(beats(offset));
};
