/** What all players together are to play, one onset after another. */
import type { Event } from '../events.ts';
import type { ExpectedNote } from '../model.ts';

/** A player's part. */
export interface MixPart {
  readonly id: string;
  /** By time. */
  readonly notes: readonly ExpectedNote[];
}

/** A note with whose it is. */
export interface Member {
  /** Index of the part. */
  readonly part: number;
  readonly note: ExpectedNote;
}

/** Notes that the score has together, of all parts. */
export interface Group extends Event {
  readonly members: readonly Member[];
  readonly sounding: readonly number[];
}

/** Seconds: a drill's times are exact, so only rounding lies in between. */
const together = 1e-6;
/** Seconds before its end from which on a note is no longer expected to sound into what follows. */
const fading = 0.02;

/** Groups the notes of all parts by time. */
export const groupsOf = (parts: readonly MixPart[]): readonly Group[] => {
  const all = parts
    .flatMap(({ notes }, part) => notes.map((note): Member => ({ part, note })))
    .sort((a, b) => a.note.time - b.note.time || a.part - b.part);
  const gathered: Member[][] = [];
  for (const member of all) {
    const last = gathered.at(-1);
    if (last?.[0] !== undefined && member.note.time - last[0].note.time < together) last.push(member);
    else gathered.push([member]);
  }
  let held: readonly ExpectedNote[] = [];
  let before: readonly number[] = [];
  return gathered.map((members) => {
    const notes = members.map(({ note }) => note);
    const time = notes[0]?.time ?? 0;
    held = [...held.filter((note) => note.time + note.duration > time + fading), ...notes];
    const keys = (of: readonly ExpectedNote[]): readonly number[] => [
      ...new Set(of.flatMap(({ midi }) => (midi === null ? [] : [midi]))),
    ];
    const [midis, sounding] = [keys(notes), keys(held)];
    const repeated = midis.length === 0 || midis.every((midi) => before.includes(midi));
    before = sounding;
    return {
      members,
      notes,
      time,
      duration: Math.max(...notes.map(({ duration }) => duration)),
      midis,
      sounding,
      slurred: notes.every(({ slurred }) => slurred),
      entry: notes.some(({ entry }) => entry),
      repeated,
    };
  });
};
