/**
 * Motifs: how far what begins in one part goes together with what begins in another, and whether that is enough to be one (rules 1 and 3 of
 * imitation.ts).
 */
import { barAt, type Music, type Strike } from './music.ts';

/** Where something may begin: after a rest, or after a note at least twice as long as what follows, but for dotted figures. */
export interface Entry {
  readonly player: number;
  readonly row: readonly Strike[];
  readonly index: number;
  readonly at: number;
}

export const leastNotes = 4;
const leastEven = 6;
/** So many notes before the first rest, in a motif of several values. */
const beforeRest = 3;
/** So many notes at most are a cell, and no motif however often it comes. */
const longestCell = 3;
/** Motifs are compared so far; longer agreement is canon all the same. */
const longest = 4000;

const lengthAt = (row: readonly Strike[], i: number): number => (row[i + 1]?.at ?? 0) - (row[i]?.at ?? 0);

const isEntry = (music: Music, row: readonly Strike[], i: number): boolean => {
  const [before, here, next] = [row[i - 1], row[i], row[i + 1]];
  if (here === undefined || next === undefined) return false;
  if (before === undefined || before.end < here.at) return true;
  const [own, after] = [here.at - before.at, next.at - here.at];
  // Three to one is a dotted figure: its short note, off the beat, begins nothing.
  const onBeat = barAt(music, here.at)?.beats.includes(here.at) === true;
  return own >= 2 * after && (onBeat || own !== 3 * after);
};

export const entriesOf = (music: Music): readonly Entry[] =>
  music.players
    .flatMap(({ index: player, voices }) => {
      const row = voices[0] ?? [];
      return row.flatMap((strike, index) =>
        isEntry(music, row, index) ? [{ player, row, index, at: strike.at }] : [],
      );
    })
    .sort((a, b) => a.at - b.at || a.player - b.player);

const stepAt = (row: readonly Strike[], i: number): number | null => {
  const [here, next] = [row[i]?.step ?? null, row[i + 1]?.step ?? null];
  return here === null || next === null ? null : next - here;
};

export interface Common {
  readonly count: number;
  readonly exact: boolean;
  /** One note more where only the step to that last note differs. */
  readonly loose: number;
}

/** How far two entries go together. */
export const common = (a: Entry, b: Entry): Common => {
  let count = 1;
  let same = 0;
  let near = 0;
  let loose = 1;
  for (let k = 0; k < longest; k++) {
    const [x, y] = [stepAt(a.row, a.index + k), stepAt(b.row, b.index + k)];
    if (x === null || y === null || lengthAt(a.row, a.index + k) !== lengthAt(b.row, b.index + k)) break;
    loose = count + 1;
    if (Math.sign(x) !== Math.sign(y) || Math.abs(x - y) > 2) break;
    if (x === y) same += 1;
    else if (Math.abs(x - y) === 1) near += 1;
    count += 1;
    if (2 * same + near < count - 3) break;
  }
  return { count, exact: same === count - 1, loose };
};

/** Whether notes are the same cell of three notes or fewer over and over: scales, repeated notes, figures of accompaniment. */
const isCell = (steps: readonly number[], lengths: readonly number[]): boolean => {
  for (let period = 1; period <= longestCell; period++) {
    if (steps.length < 2 * period - 1) continue;
    // Two notes of two values by turns are one figure wherever they move to.
    const uneven = period === 2 && lengths[0] !== lengths[1];
    const again = steps.every((step, k) => {
      const [other, length] = [steps[k - period], lengths[k - period]];
      if (other === undefined) return true;
      return length === lengths[k] && (uneven ? Math.sign(step) === Math.sign(other) : step === other);
    });
    if (again) return true;
  }
  return false;
};

/** The first notes of an entry, as steps, lengths, and how many there are before a rest of a beat or more, and before any rest. */
const shapeOf = (music: Music, { row, index, at }: Entry, count: number) => {
  const notes = row.slice(index, index + count);
  const beat = barAt(music, at)?.beat ?? 1;
  const rests = notes.map(({ end }, k) => (k < count - 1 ? (row[index + k + 1]?.at ?? end) - end : 0));
  const upTo = (found: number): number => (found < 0 ? count : found + 1);
  return {
    steps: notes.slice(1).map((_, k) => stepAt(row, index + k) ?? 0),
    lengths: notes.slice(1).map((_, k) => lengthAt(row, index + k)),
    silent: rests.slice(0, -1).map((rest) => rest > 0),
    beforeBeat: upTo(rests.findIndex((rest) => rest >= beat)),
    beforeAny: upTo(rests.findIndex((rest) => rest > 0)),
  };
};

export type Strength = 'none' | 'weak' | 'strong';

/**
 * Whether the first notes of two entries are a motif; weak where that needs two followers at least: four or five even notes that are no cell
 * and come to rest on a longer one.
 */
export const motifStrength = (music: Music, leader: Entry, follower: Entry, count: number): Strength => {
  if (count < leastNotes) return 'none';
  const shapes = [leader, follower].map((entry) => shapeOf(music, entry, count));
  const [shape] = shapes;
  if (shape === undefined || shapes.some(({ steps, lengths }) => isCell(steps, lengths))) return 'none';
  const { steps, lengths, silent, beforeBeat, beforeAny } = shape;
  const moving = steps.filter((step) => step !== 0);
  const turns = moving.filter((step, k) => k > 0 && Math.sign(step) !== Math.sign(moving[k - 1] ?? 0)).length;
  const sounding = lengths.filter((_, k) => silent[k] !== true);
  if (new Set(sounding).size > 1) return beforeBeat >= beforeRest && moving.length >= 2 ? 'strong' : 'none';
  if (turns > 0 && beforeAny >= leastEven) return 'strong';
  const pulse = barAt(music, leader.at)?.pulse ?? 1;
  const rests = [leader, follower].every(({ row, index, at }) => {
    const before = row[index - 1];
    const apart = before === undefined || at - before.at >= pulse;
    return apart && lengthAt(row, index + count - 1) >= 2 * (lengths[0] ?? 1);
  });
  return rests && moving.length === steps.length && beforeAny === count ? 'weak' : 'none';
};

/** The onset of the last of so many notes. */
export const lastOnset = ({ row, index }: Entry, count: number): number => row[index + count - 1]?.at ?? 0;
