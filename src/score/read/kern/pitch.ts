/**
 * From sounding to written pitch. Source: Humdrum reference, trans (https://www.humdrum.org/tool/trans): "*ITr means that the
 * instrumentalist reads from a score whose pitches are notated differently from concert pitch; nevertheless, the ensuing data
 * is encoded at concert pitch"; *ITrd1c2 is the B flat instrument, notated one step and two semitones higher.
 */
import type { Pitch } from '../../notes.ts';
import { midiOf } from '../../pitch.ts';

export interface Shift {
  readonly diatonic: number;
  readonly chromatic: number;
}

export const noShift: Shift = { diatonic: 0, chromatic: 0 };
const steps = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;

/** The pitch that many staff steps and semitones higher. */
export const shifted = (pitch: Pitch, { diatonic, chromatic }: Shift): Pitch => {
  if (diatonic === 0 && chromatic === 0) return pitch;
  const place = 7 * pitch.octave + steps.indexOf(pitch.step) + diatonic;
  const octave = Math.floor(place / 7);
  const step = steps[place - 7 * octave] ?? 'C';
  const plain = midiOf({ step, alter: 0, octave });
  return { step, alter: midiOf(pitch) + chromatic - plain, octave };
};

/** By how many fifths a key signature moves with an interval: seven semitones up a fifth, twelve to the octave. */
export const fifthsOf = ({ diatonic, chromatic }: Shift): number => 7 * chromatic - 12 * diatonic;

const sharps = 'FCGDAEB';

/** Alteration of a step under a key signature of that many sharps (flats below zero). */
export const alterIn = (fifths: number, step: Pitch['step']): number => {
  const index = sharps.indexOf(step);
  return fifths >= 0 ? Math.floor((fifths - index + 6) / 7) : -Math.floor((-fifths - (6 - index) + 6) / 7);
};

/** "f#c#" as 2, "b-e-" as -2; null for what is no signature in the usual order. Any order of its notes is taken. */
export const signatureOf = (text: string): number | null => {
  const notes = text.match(/[a-gA-G](?:#+|-+|n)?/g) ?? [];
  if (notes.join('') !== text || notes.length > 14) return null;
  const given = new Map<string, number>();
  for (const one of notes) {
    const mark = one.slice(1);
    const alter = mark.startsWith('#') ? mark.length : mark.startsWith('-') ? -mark.length : 0;
    given.set(one.charAt(0).toUpperCase(), alter);
  }
  for (let fifths = -14; fifths <= 14; fifths += 1)
    if (steps.every((step) => alterIn(fifths, step) === (given.get(step) ?? 0))) return fifths;
  return null;
};
