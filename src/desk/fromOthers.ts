/** How far each note lies from the middle of all that were played at its place. */
import { joined, ms, perceptionError, systematicFromMiddle } from './figure.ts';
import { heldAgainst } from './freeTimes.ts';
import type { Figure, Reading, ReadingClock, ReadingNote } from './reading.ts';

const placeOf = ({ rep, expected }: ReadingNote): string => `${rep}/${expected.toFixed(6)}`;

type Sure = ReadingNote & { readonly perceived: number };

/**
 * Each note less the mean of the notes at its place: its own error counts with 1 - 1/k, that of each other with 1/k.
 */
const fromOthers = (note: Sure, here: readonly Sure[], clock: readonly ReadingClock[]): FromOthers => {
  const k = here.length;
  const middle = here.reduce((sum, { perceived }) => sum + perceived / k, 0);
  const variance = here.reduce((sum, one) => {
    const share = one.id === note.id ? 1 - 1 / k : 1 / k;
    return sum + (share * Math.hypot(one.perceivedUncertainty ?? 0, perceptionError(one.part, clock))) ** 2;
  }, 0);
  const parts = here.map(({ part }) => part);
  const shared = systematicFromMiddle(note.part, parts, clock);
  const [value, half] = [ms * (note.perceived - middle), 1.96 * ms * Math.sqrt(variance)];
  return { note, figure: { value, low: value - half, high: value + half }, shared };
};

export interface FromOthers {
  readonly note: ReadingNote;
  /** Milliseconds: below 0 it comes before. */
  readonly figure: Figure;
  /** Milliseconds, half of a 95 % interval: the part of it that is the same for all notes of the player. */
  readonly shared: number;
}

/** All surely heard notes on one clock, where two players or more have notes at one place. */
export const notesFromOthers = ({
  notes,
  written,
  clock,
}: Pick<Reading, 'notes' | 'written' | 'clock'>): readonly FromOthers[] => {
  const byPlace = new Map<string, Sure[]>();
  // Through one microphone all are on one clock, with a click or without.
  const everyone = joined(
    clock.map(({ part }) => part),
    clock,
  );
  for (const note of heldAgainst(notes, written)) {
    const { perceived } = note;
    if (note.state !== 'heard' || perceived === null || !(everyone || joined([note.part], clock))) continue;
    byPlace.set(placeOf(note), [...(byPlace.get(placeOf(note)) ?? []), { ...note, perceived }]);
  }
  return [...byPlace.values()].flatMap((here) =>
    new Set(here.map(({ part }) => part)).size < 2 ? [] : here.map((note) => fromOthers(note, here, clock)),
  );
};
