/** What players have at one place of the score, held against each other: a difference of seconds is no asynchrony. */
import type { ReadingNote } from './reading.ts';

/**
 * Seconds: notes that the score has together and that lie further apart were not played in the same attempt (after a stop players go on from
 * different notes), or one of them is misheard. Our choice: well beyond any asynchrony, and below a short stop.
 */
const sameAttempt = 0.7;

/** `clocked`: parts whose recordings lie on the drill by its clicks; others cannot be held against each other. Notes that fit less than half of the others at their place become unsure. */
export const togetherOnly = (
  notes: readonly ReadingNote[],
  clocked: ReadonlySet<string>,
): readonly ReadingNote[] => {
  const places = new Map<string, { readonly part: string; readonly at: number }[]>();
  const placeOf = ({ rep, expected }: ReadingNote): string => `${rep}/${expected.toFixed(6)}`;
  for (const note of notes) {
    if (note.state !== 'heard' || note.perceived === null || !clocked.has(note.part)) continue;
    const place = places.get(placeOf(note));
    const one = { part: note.part, at: note.perceived };
    if (place === undefined) places.set(placeOf(note), [one]);
    else place.push(one);
  }
  return notes.map((note) => {
    const { part, perceived } = note;
    if (note.state !== 'heard' || perceived === null || !clocked.has(part)) return note;
    const others = (places.get(placeOf(note)) ?? []).filter((other) => other.part !== part);
    const near = others.filter(({ at }) => Math.abs(at - perceived) <= sameAttempt);
    return 2 * near.length >= others.length ? note : { ...note, state: 'unsure' };
  });
};
