/**
 * Motifs: how far what begins in one part goes together with what begins in another, and whether that is enough to be one (rules 1 and 3 of
 * imitation.ts).
 */
import { barAt, lastAt, type Music, type Strike } from './music.ts';

/** Where something may begin. */
export interface Entry {
  readonly player: number;
  readonly row: readonly Strike[];
  readonly index: number;
  readonly at: number;
}

export const leastNotes = 4;
const leastEven = 6;
/** So many notes at most are a cell, and no motif however often it comes. */
const longestCell = 3;
/** Motifs are compared so far; longer agreement is canon all the same. */
const longest = 4000;

const lengthAt = (row: readonly Strike[], i: number): number => (row[i + 1]?.at ?? 0) - (row[i]?.at ?? 0);

const fromRest = (row: readonly Strike[], i: number): boolean => {
  const [before, here] = [row[i - 1], row[i]];
  return here !== undefined && (before === undefined || before.end < here.at);
};

/** Whether a note on a bar line comes after an upbeat from a rest: shorter than a beat. */
const afterUpbeat = (music: Music, row: readonly Strike[], i: number): boolean => {
  const at = row[i]?.at ?? 0;
  const bar = barAt(music, at);
  if (bar === null || bar.start !== at) return false;
  for (let k = i - 1; k >= 0 && at - (row[k]?.at ?? 0) < bar.beat; k--) if (fromRest(row, k)) return true;
  return false;
};

const entersFromRest = (music: Music, row: readonly Strike[], i: number): boolean =>
  fromRest(row, i) || afterUpbeat(music, row, i);

/** Whether something begins after a note at least twice as long as what follows, but for dotted figures. */
const afterLonger = (music: Music, row: readonly Strike[], i: number): boolean => {
  const [before, here, next] = [row[i - 1], row[i], row[i + 1]];
  if (before === undefined || here === undefined || next === undefined) return false;
  const [own, after] = [here.at - before.at, next.at - here.at];
  // Three to one is a dotted figure: its short note, off the beat, begins nothing.
  const onBeat = barAt(music, here.at)?.beats.includes(here.at) === true;
  return own >= 2 * after && (onBeat || own !== 3 * after);
};

/** All entries, by onset; and what others strike a bar before somebody enters from a rest. */
export const entriesOf = (music: Music): readonly Entry[] => {
  const rows = music.players.map(({ index: player, voices }) => ({ player, row: voices[0] ?? [] }));
  const found = new Map<string, Entry>();
  const add = (entry: Entry): void => {
    found.set(`${entry.player} ${entry.at}`, entry);
  };
  for (const { player, row } of rows)
    row.forEach(({ at }, index) => {
      if (row[index + 1] === undefined) return;
      const enters = entersFromRest(music, row, index);
      if (enters || afterLonger(music, row, index)) add({ player, row, index, at });
      const bar = barAt(music, at);
      if (!enters || bar === null) return;
      const earlier = at - (bar.end - bar.start);
      for (const other of rows) {
        const before = lastAt(other.row, earlier);
        if (other.player !== player && other.row[before]?.at === earlier)
          add({ ...other, index: before, at: earlier });
      }
    });
  return [...found.values()].sort((a, b) => a.at - b.at || a.player - b.player);
};

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
  let loose = 1;
  for (let k = 0; k < longest; k++) {
    const [x, y] = [stepAt(a.row, a.index + k), stepAt(b.row, b.index + k)];
    if (x === null || y === null || lengthAt(a.row, a.index + k) !== lengthAt(b.row, b.index + k)) break;
    loose = count + 1;
    if (Math.sign(x) !== Math.sign(y) || Math.abs(x - y) > 2) break;
    if (x === y) same += 1;
    count += 1;
  }
  return { count, exact: same === count - 1, loose };
};

/** Whether notes are the same cell of three notes or fewer over and over: scales, repeated notes, figures of accompaniment. */
const isCell = (steps: readonly number[], lengths: readonly number[]): boolean => {
  for (let period = 1; period <= longestCell; period++) {
    if (steps.length < 2 * period - 1) continue;
    const again = steps.every((step, k) => {
      const [other, length] = [steps[k - period], lengths[k - period]];
      if (other === undefined) return true;
      return length === lengths[k] && step === other;
    });
    if (again) return true;
  }
  return false;
};

/** The first notes of an entry: steps, lengths, where a rest follows, and how many there are before the first. */
const shapeOf = ({ row, index }: Entry, count: number) => {
  const notes = row.slice(index, index + count - 1);
  const silent = notes.map(({ end }, k) => end < (row[index + k + 1]?.at ?? 0));
  const rest = silent.indexOf(true);
  return {
    steps: notes.map((_, k) => stepAt(row, index + k) ?? 0),
    lengths: notes.map((_, k) => lengthAt(row, index + k)),
    silent,
    beforeRest: rest < 0 ? count : rest + 1,
  };
};

/** Whether the first notes of two entries are a motif: of several values and moving, or six even ones that turn. */
export const isMotif = (leader: Entry, follower: Entry, count: number): boolean => {
  if (count < leastNotes) return false;
  const shapes = [leader, follower].map((entry) => shapeOf(entry, count));
  const [shape] = shapes;
  if (shape === undefined || shapes.some(({ steps, lengths }) => isCell(steps, lengths))) return false;
  const moving = shape.steps.filter((step) => step !== 0);
  const sounding = shape.lengths.filter((_, k) => shape.silent[k] !== true);
  if (new Set(sounding).size > 1) return moving.length >= 2;
  const turns = moving.some((step, k) => k > 0 && Math.sign(step) !== Math.sign(moving[k - 1] ?? 0));
  return turns && shape.beforeRest >= leastEven;
};

/** The onset of the last of so many notes. */
export const lastOnset = ({ row, index }: Entry, count: number): number => row[index + count - 1]?.at ?? 0;
