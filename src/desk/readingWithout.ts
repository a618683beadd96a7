/** A reading as its players let it stand: without the notes that they say were not so, under the names that they want to be called by. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { findingsOf } from './findings/index.ts';
import type { ReadForJournal } from './journal/takeRecord.ts';
import type { Reading, ReadingFigures } from './reading.ts';
import { figuresOf } from './readingFigures.ts';

export interface LetStand {
  /** Ids of notes that are left out of all figures; the raw reading keeps them. */
  readonly out: ReadonlySet<string>;
  /** Seconds on the drill's timeline at which playing was stopped; null: it came to its end. */
  readonly until: number | null;
}

/** All figures and findings anew, from the notes that are left. Same reading, same answer. */
export const readingWithout = (worked: WorkedDrill, reading: Reading, { out, until }: LetStand): Reading => {
  if (out.size === 0 && until === null) return reading;
  const notes = reading.notes
    .filter(({ expected }) => until === null || expected < until)
    .map((note) => (out.has(note.id) ? { ...note, state: 'unsure' as const } : note));
  const played = {
    ...reading,
    notes,
    ...figuresOf(worked, notes, reading.clock, reading.playing === 'free'),
  };
  const figures: ReadingFigures = played;
  return { ...figures, findings: findingsOf(figures) };
};

/** What counts of a reading beyond its own page, for the journal: notes that were left out are no notes that were missed. */
export const countedReading = (
  { bars, click, playing, parts, notes, pairs, barLines, tempo, seams, played }: Reading,
  out: ReadonlySet<string>,
): ReadForJournal => ({
  bars,
  click,
  playing,
  parts,
  notes: notes.filter(({ id }) => !out.has(id)),
  pairs,
  barLines,
  tempo,
  seams,
  played,
});

/** The same with other names for the parts, by id; a part without one keeps its own. Recordings are then called by their parts. */
export const calledBy = <T extends Reading>(reading: T, names: Readonly<Record<string, string>>): T => ({
  ...reading,
  parts: reading.parts.map((part) => ({ ...part, name: names[part.id] ?? part.name, file: part.id })),
  clock: reading.clock.map((clock) => ({ ...clock, file: clock.part })),
});
