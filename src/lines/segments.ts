/**
 * Segments: what one player has of an even stream. Our definition: a run of at least two notes that are struck one value apart; the last may
 * be of any length (the arrival). Two notes of half the value in the place of one are that note, written out, if they are not too many.
 * Two notes in the midst of another rhythm of their player are none.
 * A note that stands alone, no longer than the value, is a single: it counts only where it continues a line.
 */
import { lastAt, type Music, type Player, type Strike } from './music.ts';

export interface Segment {
  readonly player: number;
  /** Onsets of the first and of the last note, in ticks. */
  readonly at: number;
  readonly last: number;
  readonly notes: readonly Strike[];
  readonly single: boolean;
}

/** At most every so many-th note may be written out in halves. */
const leastPerDivision = 3;

/** The notes of the run that begins with the strike at `from`, and the index after the last strike that it used up. */
const runFrom = (
  row: readonly Strike[],
  from: number,
  value: number,
  stretch: readonly number[],
  divides: boolean,
): { notes: Strike[]; next: number } => {
  const notes: Strike[] = [];
  const first = row[from];
  if (first === undefined) return { notes, next: from + 1 };
  notes.push(first);
  let index = from;
  let divisions = 0;
  for (;;) {
    const here = row[index];
    const next = row[index + 1];
    if (here === undefined || next === undefined || stretch[here.bar] !== stretch[next.bar]) break;
    if (next.at - here.at === value) {
      notes.push(next);
      index += 1;
      continue;
    }
    const afterNext = row[index + 2];
    const divided = 2 * (next.at - here.at) === value && afterNext?.at === here.at + value;
    if (
      !divides ||
      !divided ||
      notes.length < leastPerDivision ||
      (divisions + 1) * leastPerDivision > notes.length
    )
      break;
    notes.push(afterNext);
    divisions += 1;
    index += 2;
  }
  return { notes, next: index };
};

/** So many pairs in a row, each a missing note apart, are a figure of accompaniment. */
const figure = 4;

/** A long note of so many values and a short one are a dotted rhythm. */
const dotted = 3;

/**
 * Whether a pair of notes is part of another rhythm: next to notes off the grid of the value, or one of several pairs in a row, each a missing
 * note apart, or in the midst of a tune: of notes that sound up to each other, unless such pairs come by turns with long notes.
 */
const embedded = (row: readonly Strike[], from: number, value: number): boolean => {
  const gap = (i: number): number => ((row[i + 1]?.at ?? Infinity) - (row[i]?.at ?? -Infinity)) / value;
  const [before, after] = [gap(from - 1), gap(from + 1)];
  if ((before < 2 && before !== 1) || (after < 2 && after !== 1)) return true;
  const sounding = (i: number): boolean => (row[i]?.end ?? 0) >= (row[i + 1]?.at ?? Infinity);
  const again = (before > dotted && gap(from - 2) === 1) || (after > dotted && gap(from + 2) === 1);
  if (sounding(from - 1) && sounding(from + 1) && !again) return true;
  if (before > 2 || after > 2) return false;
  let pairs = 1;
  for (let i = from; gap(i - 1) === 2 && gap(i - 2) === 1; i -= 2) pairs += 1;
  for (let i = from; gap(i + 1) === 2 && gap(i + 2) === 1; i += 2) pairs += 1;
  return pairs >= figure;
};

const inVoice = (
  { stretch, whole }: Music,
  player: number,
  row: readonly Strike[],
  value: number,
): readonly Segment[] => {
  const result: Segment[] = [];
  // Of beats and longer values halves are too many to be that: only what is shorter than a quarter may be written out.
  const divides = 4 * value < whole;
  let index = 0;
  while (index < row.length) {
    const { notes, next } = runFrom(row, index, value, stretch, divides);
    const [first] = notes;
    const last = notes.at(-1);
    if (first !== undefined && last !== undefined) {
      const before = row[index - 1];
      const alone = before === undefined || first.at - before.at >= value;
      const single = notes.length === 1;
      const joins = result.at(-1)?.last === first.at;
      const stray = notes.length === 2 && embedded(row, index, value);
      if (
        (!single && !stray) ||
        (single && !joins && alone && first.size === 1 && first.end - first.at <= value)
      )
        result.push({ player, at: first.at, last: last.at, notes, single });
    }
    index = Math.max(next, index + 1);
  }
  return result;
};

/** All segments of a value, in ticks, of one player, by onset; of several voices that say the same, the longest. */
export const segmentsOf = (music: Music, { index, voices }: Player, value: number): readonly Segment[] => {
  const all = voices.flatMap((row) => inVoice(music, index, row, value));
  if (voices.length === 1) return all;
  const runs = all.filter(({ single }) => !single);
  const kept: Segment[] = [];
  for (const one of [...runs].sort((a, b) => a.at - b.at || b.last - a.last)) {
    const before = kept.at(-1);
    if (before === undefined || one.last > before.last) kept.push(one);
  }
  return kept;
};

/** The first segment in a row that begins at or after a tick. */
export const nextFrom = (row: readonly Segment[], tick: number): number => lastAt(row, tick - 1) + 1;

/** At least so many of the steps of a run, two where it has more than one, are none where it is mostly one note repeated. */
const repeating = { share: 0.5, least: 2 };

/** Whether notes are mostly one note repeated, as accompaniment is. */
export const repeats = (notes: readonly Strike[]): boolean => {
  const steps = notes.length - 1;
  const same = notes.filter(({ midi }, i) => i > 0 && midi === notes[i - 1]?.midi).length;
  return steps > 0 && same >= Math.min(steps, repeating.least) && same >= repeating.share * steps;
};
