/** Loudness as players write it: letters from pp to ff beside a part's name. */
import { factorOf } from './tuning.ts';

export const levelLetters = ['pp', 'p', 'mp', 'mf', 'f', 'ff'] as const;
export type LevelLetter = (typeof levelLetters)[number];

/** Decibels from one letter to the next; common practice, no source. */
const stepBetween = 5;

/** Decibels below ff. */
export const belowLoudest = (letter: LevelLetter): number =>
  (levelLetters.length - 1 - levelLetters.indexOf(letter)) * stepBetween;

/** Factor of an amplitude, 1 for ff; 0 where a part is silent (null). */
export const factorOfLetter = (letter: LevelLetter | null): number =>
  letter === null ? 0 : factorOf(-belowLoudest(letter));
