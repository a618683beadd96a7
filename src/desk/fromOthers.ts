/** How far each note lies from the middle of all that were played at its place. */
import { joined } from './figure.ts';
import { heldAgainst } from './freeTimes.ts';
import type { Figure, Reading, ReadingNote } from './reading.ts';

const placeOf = ({ rep, expected }: ReadingNote): string => `${rep}/${expected.toFixed(6)}`;

type Sure = ReadingNote & { readonly perceived: number };

/** Each note less the mean of the notes at its place: its own error counts with 1 - 1/k, that of each other with 1/k. */
const fromOthers = (note: Sure, here: readonly Sure[]): Figure => {
  const k = here.length;
  const middle = here.reduce((sum, { perceived }) => sum + perceived / k, 0);
  const variance = here.reduce((sum, one) => {
    const share = one.id === note.id ? 1 - 1 / k : 1 / k;
    return sum + (share * (one.perceivedUncertainty ?? 0)) ** 2;
  }, 0);
  const [value, half] = [1000 * (note.perceived - middle), 1960 * Math.sqrt(variance)];
  return { value, low: value - half, high: value + half };
};

export interface FromOthers {
  readonly note: ReadingNote;
  /** Milliseconds: below 0 it comes before. */
  readonly figure: Figure;
}

/** All surely heard notes on one clock, where two players or more have notes at one place. */
export const notesFromOthers = ({
  notes,
  written,
  clock,
}: Pick<Reading, 'notes' | 'written' | 'clock'>): readonly FromOthers[] => {
  const byPlace = new Map<string, Sure[]>();
  for (const note of heldAgainst(notes, written)) {
    const { perceived } = note;
    if (note.state !== 'heard' || perceived === null || !joined([note.part], clock)) continue;
    byPlace.set(placeOf(note), [...(byPlace.get(placeOf(note)) ?? []), { ...note, perceived }]);
  }
  return [...byPlace.values()].flatMap((here) =>
    new Set(here.map(({ part }) => part)).size < 2
      ? []
      : here.map((note) => ({ note, figure: fromOthers(note, here) })),
  );
};
