/** Rests where notes were taken out, drawn as a copyist would: joined, and cut at the beats. */
import type { BarGrid } from '../rhythm/beats.ts';
import { dotFactor } from '../rhythm/value.ts';
import { noteTypes, type NoteValue, type WrittenNote } from '../score/notes.ts';
import { beats, F, plus, type Beats } from '../units/index.ts';
import type { Taken } from './taken.ts';

/** The whole note's place in the list of note types. */
const whole = noteTypes.indexOf('whole');

/** The value with up to two dots that lasts exactly this long; null where there is none. */
export const plainValue = (length: Beats): NoteValue | null => {
  for (const dots of [0, 1, 2]) {
    const base = F.div(length, dotFactor(dots));
    const place =
      base.n === 1n
        ? whole + Math.log2(Number(base.d))
        : base.d === 1n
          ? whole - Math.log2(Number(base.n))
          : -1;
    const type = Number.isInteger(place) ? noteTypes[place] : undefined;
    if (type !== undefined) return { type, dots };
  }
  return null;
};

const isPowerOfTwo = (value: bigint): boolean => (value & (value - 1n)) === 0n;

/** The smallest rest that rests are cut into: beyond it they stay as they were. */
const smallest = F.fraction(1, 64);

/** Half of a bar of four beats: the largest rest that shows the beats. */
const halfBar = ({ beats: row, full }: BarGrid): Beats | null => {
  const inFour = row.length === 4 && row.every(({ length }) => F.equal(F.mul(length, F.fraction(4)), full));
  return inFour ? beats(F.div(full, F.fraction(2))) : null;
};

/**
 * The longest rest that may begin at `offset` of the full bar: none that hides a beat it does not begin on
 * (E. Gould, Behind Bars, 2011, on the grouping of rests; from memory).
 */
const nextRest = (offset: Beats, left: Beats, grid: BarGrid): Beats | null => {
  const onBeat = grid.beats.find((beat) => F.equal(beat.offset, offset));
  const beat = grid.beats.findLast((candidate) => F.atMost(candidate.offset, offset));
  if (beat === undefined) return null;
  const half = halfBar(grid);
  if (half !== null && F.isZero(F.modulo(offset, half)) && F.atMost(half, left)) return half;
  if (onBeat !== undefined && F.atMost(onBeat.length, left)) return onBeat.length;
  const beatEnd = F.add(beat.offset, beat.length);
  const room = F.min(left, F.sub(beatEnd, offset));
  const inBeat = F.sub(offset, beat.offset);
  for (let value = F.fraction(1, 2); F.atMost(smallest, value); value = F.div(value, F.fraction(2))) {
    if (F.atMost(value, room) && F.isZero(F.modulo(inBeat, value))) return beats(value);
  }
  return null;
};

/** Cuts a silence into rests; null where it does not fall into plain values. */
const cutRests = (offset: Beats, length: Beats, grid: BarGrid): readonly Beats[] | null => {
  const result: Beats[] = [];
  let at = offset;
  let left = length;
  while (F.isPositive(left)) {
    const next = nextRest(at, left, grid);
    if (next === null || plainValue(next) === null) return null;
    result.push(next);
    at = plus(at, next);
    left = beats(F.sub(left, next));
  }
  return result;
};

/** Runs of rests in a row, without gaps, in one voice. */
const runsOf = (voice: readonly WrittenNote[]): readonly (readonly WrittenNote[])[] => {
  const runs: WrittenNote[][] = [];
  for (const piece of voice) {
    const last = runs.at(-1);
    const before = last?.at(-1);
    const joins = before?.kind === 'rest' && F.equal(F.add(before.onset, before.duration), piece.onset);
    if (last !== undefined && joins && piece.kind === 'rest') last.push(piece);
    else runs.push([piece]);
  }
  return runs;
};

const balanced = (run: readonly WrittenNote[]): boolean =>
  run.reduce(
    (sum, { tupletMarks }) => sum + tupletMarks.reduce((n, { type }) => n + (type === 'start' ? 1 : -1), 0),
    0,
  ) === 0;

const joined = (run: readonly WrittenNote[], bar: Taken, grid: BarGrid): readonly WrittenNote[] => {
  const [first] = run;
  const last = run.at(-1);
  if (first?.kind !== 'rest' || last === undefined || first.wholeBar) return run;
  if (run.some(({ marks, printed, cue }) => marks.fermata !== null || !printed || cue) || !balanced(run))
    return run;
  const length = beats(F.sub(F.add(last.onset, last.duration), first.onset));
  const plain = { ...first, tuplet: { actual: 1, normal: 1 }, tupletMarks: [] };
  if (F.equal(length, bar.length) && F.isZero(bar.offset)) {
    return [{ ...plain, duration: length, value: null, wholeBar: true }];
  }
  const shift = F.sub(grid.full, bar.length);
  const inFront = F.isPositive(bar.offset) || F.isPositive(grid.shift) ? F.max(shift, F.zero) : F.zero;
  const offset = beats(F.add(F.sub(first.onset, bar.start), inFront));
  if (!isPowerOfTwo(offset.d) || !isPowerOfTwo(length.d)) return run;
  const values = cutRests(offset, length, grid);
  if (values === null) return run;
  let onset = first.onset;
  return values.map((duration) => {
    const rest = { ...plain, onset, duration, value: plainValue(duration) };
    onset = plus(onset, duration);
    return rest;
  });
};

/** The notes of one bar with its rests joined and cut anew, voice by voice, in written order. */
export const mergedRests = (
  written: readonly WrittenNote[],
  bar: Taken,
  grid: BarGrid,
): readonly WrittenNote[] => {
  const voices = new Map<string, WrittenNote[]>();
  for (const piece of written) {
    const key = `${piece.staff} ${piece.voice}`;
    voices.set(key, [...(voices.get(key) ?? []), piece]);
  }
  return [...voices.values()]
    .flatMap((voice) => runsOf(voice).flatMap((run) => joined(run, bar, grid)))
    .sort(
      (a, b) =>
        F.compare(a.onset, b.onset) ||
        a.staff - b.staff ||
        (a.voice < b.voice ? -1 : a.voice > b.voice ? 1 : 0),
    );
};
