/** What else sounds around a note, and which of its partials stand clear of it. */
import type { MixNote } from './types.ts';

/** Seconds: how long a note may ring on after its written length, and how much earlier than expected one may begin. */
const ringing = 0.12;
const early = 0.08;

/** Hz of the other pitches that sound while the note begins: of other parts, and of its own part before it. `notes`: by time. */
export const pitchesAround = (notes: readonly MixNote[], i: number): readonly number[] => {
  const own = notes[i];
  if (own === undefined) return [];
  const found = new Set<number>();
  const consider = ({ hertz, time, length }: MixNote): void => {
    if (hertz <= 0 || Math.abs(hertz / own.hertz - 1) < 1e-6) return;
    if (time - early < own.time + early && time + length + ringing > own.time - early) found.add(hertz);
  };
  for (let k = i - 1; k >= 0; k -= 1) {
    const other = notes[k];
    // No note is held longer than this.
    if (other === undefined || other.time < own.time - longestHeld) break;
    consider(other);
  }
  for (let k = i + 1; k < notes.length; k += 1) {
    const other = notes[k];
    if (other === undefined || other.time > own.time + 2 * early) break;
    consider(other);
  }
  return [...found];
};

const longestHeld = 12;

/** Hz to the nearest partial of these pitches. Partials beyond the sixteenth are weak. */
export const nearestPartial = (hertz: number, others: readonly number[]): number => {
  let nearest = Infinity;
  for (const other of others) {
    const k = Math.max(1, Math.min(16, Math.round(hertz / other)));
    nearest = Math.min(nearest, Math.abs(hertz - k * other));
  }
  return nearest;
};

/** Seconds: beginnings closer than this are one rise. */
const atOnce = 0.1;

/**
 * Whether another part begins the same pitch at the same time, or one an octave or more below: then what rises may be either's, and no partial tells
 * one from the other. `only`: the same pitch alone. One that sounds already is no such thing: what rises above it is the new one's.
 */
export const coveredBy = (notes: readonly MixNote[], i: number, only: 'unison' | null = null): boolean => {
  const own = notes[i];
  if (own === undefined || own.midi === null) return false;
  const { midi, time, part } = own;
  const covers = (other: MixNote | undefined): boolean =>
    other !== undefined &&
    other.part !== part &&
    other.midi !== null &&
    other.midi <= midi &&
    (only === null ? (midi - other.midi) % 12 === 0 : midi === other.midi);
  for (let k = i - 1; k >= 0 && (notes[k]?.time ?? -Infinity) > time - atOnce; k -= 1)
    if (covers(notes[k])) return true;
  for (let k = i + 1; k < notes.length && (notes[k]?.time ?? Infinity) < time + atOnce; k += 1)
    if (covers(notes[k])) return true;
  return false;
};
