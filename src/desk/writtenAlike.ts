/** Levels and lengths by bar, held against each other only where the notes are written alike. */
import { meanEstimate } from '../together/estimates.ts';
import { figure } from './figure.ts';
import type { Figure, Reading, ReadingNote, ReadingWritten } from './reading.ts';
import { heldAs } from './readingWritten.ts';

export interface InBar {
  readonly part: string;
  /** A note of the bar. */
  readonly first: ReadingNote;
  readonly value: Figure;
}

type Told = Pick<Reading, 'parts' | 'notes' | 'written' | 'lengths'>;

interface Valued {
  readonly note: ReadingNote;
  readonly value: number;
}

const grouped = <T>(items: readonly T[], keyOf: (item: T) => string): ReadonlyMap<string, readonly T[]> => {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
};

const barOf = ({ barIndex, pass }: ReadingNote): string => `${barIndex}/${pass}`;

/** The mean of each player's values in each bar, all repetitions together. */
const byBar = (values: readonly Valued[]): readonly InBar[] =>
  [...grouped(values, ({ note }) => `${note.part}/${barOf(note)}`).values()].flatMap((group) => {
    const mean = meanEstimate(group.map(({ value }) => value));
    const first = group[0]?.note;
    return mean === null || first === undefined ? [] : [{ part: first.part, first, value: figure(mean) }];
  });

const writtenById = ({ written }: Told): ReadonlyMap<string, ReadingWritten> =>
  new Map(written.map((one) => [one.id, one]));

/**
 * Decibels by which each plays in each bar above their own mean of notes with the same written loudness, so that neither what is written nor
 * the microphone counts. Of a loudness that a player has one note of nothing is told.
 */
export const levelsByBar = (reading: Told): readonly InBar[] => {
  const written = writtenById(reading);
  const heard = reading.notes.flatMap((note): readonly Valued[] =>
    note.state === 'heard' && note.level !== null ? [{ note, value: note.level }] : [],
  );
  const kinds = grouped(heard, ({ note }) => `${note.part}/${written.get(note.id)?.level ?? ''}`);
  return byBar(
    [...kinds.values()].flatMap((kind) => {
      if (kind.length < 2) return [];
      const mean = kind.reduce((sum, { value }) => sum + value / kind.length, 0);
      return kind.map(({ note, value }) => ({ note, value: value - mean }));
    }),
  );
};

/**
 * Length ratios of each player in each bar, of notes that someone else has written alike in that bar (value, articulation, slurs); of one player alone
 * all. Where it is not known how notes are written there are none for several.
 */
export const lengthsByBar = (reading: Told): readonly InBar[] => {
  const written = writtenById(reading);
  const ratios = new Map(reading.lengths.map(({ id, ratio }) => [id, ratio]));
  const heard = reading.notes.flatMap((note): readonly Valued[] => {
    const value = ratios.get(note.id);
    return value === undefined || note.state !== 'heard' ? [] : [{ note, value }];
  });
  if (reading.parts.length < 2) return byBar(heard);
  const kindOf = ({ note }: Valued): string | null => {
    const found = written.get(note.id);
    return found === undefined ? null : `${barOf(note)}/${heldAs(found)}`;
  };
  const kinds = grouped(
    heard.filter((one) => kindOf(one) !== null),
    (one) => kindOf(one) ?? '',
  );
  return byBar(
    [...kinds.values()].filter((kind) => new Set(kind.map(({ note }) => note.part)).size > 1).flat(),
  );
};
