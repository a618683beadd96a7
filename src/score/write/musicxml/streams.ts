import { F, plus, type Beats } from '../../../units/index.ts';
import type { WrittenNote } from '../../notes.ts';
import { takesNoTime } from './note.ts';

/** A note or rest with the notes on its stem. */
export interface Unit {
  readonly onset: Beats;
  /** Of the note that moves time on; zero for grace notes. */
  readonly duration: Beats;
  readonly head: WrittenNote;
  readonly chord: WrittenNote[];
}

/** Units that can be written one after the other, with gaps at most. */
export interface Stream {
  readonly staff: number;
  readonly voice: string;
  readonly units: readonly Unit[];
}

const fits = (unit: Unit, note: WrittenNote): boolean =>
  unit.head.kind === note.kind && F.equal(unit.onset, note.onset);

/**
 * Joins chord notes to the note whose stem they stand on: the nearest before them at their onset, in their voice if
 * there is one there, else on their staff, else any. Notes are sorted by staff first, so that a chord over two staves may show
 * its lower-numbered staff's notes before the one that bears them: those wait until all heads are known.
 */
const unitsOf = (notes: readonly WrittenNote[]): readonly Unit[] => {
  const units: Unit[] = [];
  const latest = new Map<string, Unit>();
  const early: WrittenNote[] = [];
  const key = (note: WrittenNote, rest: string) => `${note.kind} ${F.format(note.onset)} ${rest}`;
  const keys = (note: WrittenNote) => [
    key(note, `voice ${note.voice}`),
    key(note, `staff ${note.staff}`),
    key(note, ''),
  ];
  const add = (head: WrittenNote) => {
    const unit: Unit = { onset: head.onset, duration: head.duration, head, chord: [] };
    units.push(unit);
    for (const name of keys(head)) latest.set(name, unit);
  };
  for (const note of notes) {
    const own = note.chord ? latest.get(key(note, `voice ${note.voice}`)) : undefined;
    if (!note.chord) add(note);
    else if (own !== undefined && fits(own, note)) own.chord.push(note);
    else early.push(note);
  }
  for (const note of early) {
    const unit = keys(note)
      .map((name) => latest.get(name))
      .find((found) => found !== undefined);
    if (unit === undefined) add(note);
    else unit.chord.push(note);
  }
  return units;
};

/** By onset; grace notes lean on what follows them, so they come first. */
const inTime = (a: Unit, b: Unit): number =>
  F.compare(a.onset, b.onset) || Number(takesNoTime(b.head)) - Number(takesNoTime(a.head));

const overlaps = (units: readonly Unit[]): boolean => {
  let end: Beats | null = null;
  for (const { onset, duration } of units) {
    if (end !== null && F.less(onset, end)) return true;
    end = plus(onset, duration);
  }
  return false;
};

const groupBy = (units: readonly Unit[], key: (note: WrittenNote) => string): Unit[][] => {
  const groups = new Map<string, Unit[]>();
  for (const unit of units) {
    const name = key(unit.head);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [unit]);
    else group.push(unit);
  }
  return [...groups.values()];
};

/**
 * One bar's notes as streams: one for each voice, which may cross staves; where a voice's notes overlap, one for each
 * of its staves. In the order of their first staff, then of appearance.
 */
export const streamsOf = (notes: readonly WrittenNote[]): readonly Stream[] => {
  const voices = groupBy(unitsOf(notes), (head) => head.voice).map((units) => units.toSorted(inTime));
  const streams = voices.flatMap((units) =>
    overlaps(units) ? groupBy(units, (head) => String(head.staff)) : [units],
  );
  return streams
    .map((units) => ({ staff: units[0]?.head.staff ?? 1, voice: units[0]?.head.voice ?? '', units }))
    .toSorted((a, b) => a.staff - b.staff);
};
