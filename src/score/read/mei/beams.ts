/** Beam values of notes under one beam, as MusicXML 4.0 names them (beam-value): MEI draws them from the note values. */
import { noteTypes } from '../../notes.ts';
import type { Building } from './state.ts';

/** One event under a beam; `note` is null for rests, which break the inner beams. */
export interface Beamed {
  readonly note: Building | null;
  /** How many beams go on after it (`breaksec`); 0: all. */
  readonly breakTo: number;
}

const quarter = noteTypes.indexOf('quarter');

const flagsOf = ({ note }: Beamed): number => {
  if (note?.value === null || note === null) return 0;
  return Math.max(1, noteTypes.indexOf(note.value.type) - quarter);
};

/** Sets the beam values of all notes; a beam over fewer than two notes is none. */
export const setBeams = (events: readonly Beamed[]): void => {
  const flags = events.map(flagsOf);
  const first = flags.findIndex((count) => count > 0);
  const last = flags.findLastIndex((count) => count > 0);
  if (first === last) return;
  const values: string[][] = events.map(() => []);
  const deepest = flags.reduce((most, count) => Math.max(most, count), 0);
  for (let level = 1; level <= deepest; level += 1) {
    const goesOn = (from: number): boolean => {
      if (level === 1) return from < last;
      const next = from + 1;
      if ((flags[next] ?? 0) < level) return false;
      const breakTo = events[from]?.breakTo ?? 0;
      return breakTo === 0 || level <= breakTo;
    };
    for (let index = first; index <= last; index += 1) {
      if ((flags[index] ?? 0) < level) continue;
      const before =
        index > first && (level === 1 || ((flags[index - 1] ?? 0) >= level && goesOn(index - 1)));
      const after = goesOn(index);
      values[index]?.push(
        before
          ? after
            ? 'continue'
            : 'end'
          : after
            ? 'begin'
            : index === first
              ? 'forward hook'
              : 'backward hook',
      );
    }
  }
  events.forEach(({ note }, index) => {
    if (note !== null) note.beams = values[index] ?? [];
  });
};
