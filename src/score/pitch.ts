import type { Pitch } from './notes.ts';

const semitones: Readonly<Record<Pitch['step'], number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** MIDI key number of a pitch as written: C4 is 60 (MIDI 1.0). Fractional for quarter tones. */
export const midiOf = ({ step, alter, octave }: Pitch): number => 12 * (octave + 1) + semitones[step] + alter;

/** "B-flat" as in scientific pitch notation: "Bb4", "F#5", "C4". Quarter tones as "C+0.5". */
export const pitchText = ({ step, alter, octave }: Pitch): string => {
  if (!Number.isInteger(alter)) return `${step}${alter > 0 ? '+' : ''}${alter} ${octave}`;
  return `${step}${(alter < 0 ? 'b' : '#').repeat(Math.abs(alter))}${octave}`;
};
