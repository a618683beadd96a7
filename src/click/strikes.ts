/** Where a placement falls in a bar, and over which bars a hemiola can be clicked. */
import type { BarGrid, Beat } from '../rhythm/beats.ts';
import { beats, F, note, type Beats } from '../units/index.ts';
import type { Placement } from './placement.ts';

/** From the start of the full bar. */
type Offsets = readonly Beats[];

/** Whether the beats fall into two equal halves, the second beginning on a beat. */
const halfway = ({ beats: row, full }: BarGrid): Beats | null => {
  const middle = F.div(full, F.fraction(2));
  return row.find(({ offset }) => F.equal(offset, middle))?.offset ?? null;
};

/** Beats of the full bar itself: an overlong bar's surplus beats are counted but have no weight. */
const ofFullBar = ({ beats: row, full }: BarGrid): readonly Beat[] =>
  row.filter(({ offset }) => F.less(offset, full));

/**
 * Weak beats: 2 and 4 in four, 2 and 3 in three, 2 in two (design section 7); in general every second beat of an even
 * number of equal beats, else all but the first. Where the players count smaller values than the metre's beats, those
 * between the beats. Common practice, no source.
 */
const weak = (grid: BarGrid): Offsets | null => {
  const row = ofFullBar(grid);
  const between = row.filter(({ offset }) => !grid.strong.some((strong) => F.equal(strong, offset)));
  if (between.length > 0) return between.map(({ offset }) => offset);
  if (row.length < 2) return null;
  const even = row.length % 2 === 0 && row.every(({ length }) => F.equal(length, row[0]?.length ?? length));
  return row.filter((_, i) => (even ? i % 2 === 1 : i > 0)).map(({ offset }) => offset);
};

/** Where the "and" of a beat stands: its second half, or its last third where the beat divides in three. */
const andOf = ({ offset, length, division }: Beat): Beats =>
  beats(F.add(offset, F.mul(length, F.fraction(division - 1, division))));

/** The "ands": the second half of each beat, the last third where the beat divides in three. */
const after = (grid: BarGrid): Offsets => grid.beats.map(andOf);

const evenly = (step: Beats, until: Beats): Offsets => {
  const count = Number(-F.floor(F.div(F.mul(until, F.fraction(-1)), step)));
  return Array.from({ length: count }, (_, i) => beats(F.mul(step, F.fraction(i))));
};

const inFullBar = (placement: Placement, grid: BarGrid, barCount: number | null): Offsets | null => {
  const end = beats(F.add(grid.shift, grid.length));
  switch (placement.kind) {
    case 'none':
      return [];
    case 'every':
      return grid.beats.map(({ offset }) => offset);
    case 'half': {
      const middle = halfway(grid);
      return middle === null ? null : [note(0), middle];
    }
    case 'weak':
      return weak(grid);
    case 'after':
      return after(grid);
    case 'bars':
      // An upbeat of a whole bar has its first beat, which only "every bar" speaks of.
      return (barCount ?? placement.each - 1) % placement.each === 0 ? [note(0)] : [];
    case 'value':
      return F.less(grid.full, placement.value) ? null : evenly(placement.value, end);
    case 'beats': {
      const found = placement.list.flatMap(({ beat: number, part }) => {
        const beat = grid.beats[number - 1];
        if (beat === undefined) return [];
        return [part === 'and' ? andOf(beat) : beats(F.add(beat.offset, F.mul(beat.length, part)))];
      });
      return found.length === 0 ? null : found.sort(F.compare);
    }
  }
};

/**
 * The clicks of one bar, as offsets from the bar's start as it is, in order, each 0 <= offset < its length. `barCount`
 * counts full bars from the passage's first, from 0; null in its upbeat. Null: the placement has no meaning in this
 * metre.
 */
export const strikes = (placement: Placement, grid: BarGrid, barCount: number | null): Offsets | null => {
  const offsets = inFullBar(placement, grid, barCount);
  if (offsets === null) return null;
  return offsets
    .map((offset) => beats(F.sub(offset, grid.shift)))
    .filter((offset) => F.atMost(F.zero, offset) && F.less(offset, grid.length));
};

/** Placements that have a meaning in this metre, to offer instead. */
export const offered = (grid: BarGrid): readonly string[] => {
  const named: readonly Placement[] = [
    { kind: 'every' },
    { kind: 'half' },
    { kind: 'weak' },
    { kind: 'after' },
    { kind: 'bars', each: 1 },
  ];
  return named
    .filter((placement) => inFullBar(placement, grid, 0) !== null)
    .map((placement) => (placement.kind === 'bars' ? 'bar' : placement.kind));
};

/**
 * A hemiola over bars in a row: three even clicks over each pair of bars of three beats, or in each bar of two
 * compound beats (6/8 against 3/4). Per bar the offsets from its start; null where these bars cannot hold it.
 * Definition: Grove Music Online, "Hemiola", the ratio 3:2 (from memory).
 */
export const hemiola = (grids: readonly BarGrid[]): readonly Offsets[] | null => {
  if (
    grids.length === 0 ||
    grids.some(({ shift, full, length }) => !F.isZero(shift) || !F.equal(full, length))
  ) {
    return null;
  }
  const third = (value: Beats): Beats => beats(F.div(value, F.fraction(3)));
  if (grids.every((grid) => grid.compound && grid.beats.length === 2)) {
    return grids.map(({ full }) => evenly(third(full), full));
  }
  const pairs = grids.length % 2 === 0 && grids.every((grid) => !grid.compound && grid.beats.length === 3);
  const same = grids.every(({ full }) => F.equal(full, grids[0]?.full ?? full));
  if (!pairs || !same) return null;
  return grids.map(({ full }, i) => {
    const step = beats(F.mul(third(full), F.fraction(2)));
    return i % 2 === 0 ? [note(0), step] : [beats(F.sub(F.mul(step, F.fraction(2)), full))];
  });
};
