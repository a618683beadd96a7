/**
 * The name of a MIDI key in a key signature. Rule: of the names that a key on the keyboard can have, the one nearest to
 * the centre of the scale on the line of fifths (... F C G D A E B F# ...), as in Temperley, The Cognition of Basic
 * Musical Structures, 2001, chapter 5 (from memory), without its look at the notes around. The scale of f sharps lies
 * from f-1 to f+5, its centre is f+2; twelve names from f-3 to f+8 are used, so that the sixth and seventh degree of
 * the minor are raised by sharps: in C and a: E-flat B-flat F C G D A E B F-sharp C-sharp G-sharp.
 */
import type { Pitch } from '../../notes.ts';

const steps = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const;
const semitones: Readonly<Record<Pitch['step'], number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** `key` is 0 to 127, `fifths` -7 to 7. */
export const spell = (key: number, fifths: number): Pitch => {
  // C is 0 on the line; a fifth is 7 semitones, and 7 x 7 = 1 modulo 12.
  const place = (((key * 7) % 12) + 12) % 12;
  const lowest = fifths - 3;
  const fifth = lowest + ((((place - lowest) % 12) + 12) % 12);
  const fromF = fifth + 1;
  const step = steps[((fromF % 7) + 7) % 7] ?? 'C';
  const alter = Math.floor(fromF / 7);
  return { step, alter, octave: (key - alter - semitones[step]) / 12 - 1 };
};
