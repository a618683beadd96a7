/** What one player is to play, chord by chord. */
import type { ExpectedNote } from './model.ts';

/** Notes of one part that begin together. */
export interface Event {
  readonly notes: readonly ExpectedNote[];
  /** Seconds on the drill's timeline. */
  readonly time: number;
  /** Of the longest note. */
  readonly duration: number;
  readonly midis: readonly number[];
  /** What sounds from then on, where that is more than what begins: several players through one microphone. */
  readonly sounding?: readonly number[];
  readonly slurred: boolean;
  readonly entry: boolean;
  /** Has a pitch in common with the event before it. */
  readonly repeated: boolean;
}

/** Notes closer than this belong to one chord: a drill's times are exact, so only rounding lies in between. */
const together = 1e-6;

/** Groups notes, by time. */
export const eventsOf = (notes: readonly ExpectedNote[]): readonly Event[] => {
  const sorted = [...notes].sort((a, b) => a.time - b.time);
  const groups: ExpectedNote[][] = [];
  for (const note of sorted) {
    const last = groups.at(-1);
    if (last?.[0] !== undefined && note.time - last[0].time < together) last.push(note);
    else groups.push([note]);
  }
  let before: readonly number[] = [];
  return groups.map((group) => {
    const midis = group.flatMap(({ midi }) => (midi === null ? [] : [midi]));
    const repeated = midis.length === 0 || midis.some((midi) => before.includes(midi));
    before = midis;
    return {
      notes: group,
      time: group[0]?.time ?? 0,
      duration: Math.max(...group.map(({ duration }) => duration)),
      midis,
      slurred: group.every(({ slurred }) => slurred),
      entry: group.some(({ entry }) => entry),
      repeated,
    };
  });
};
