/** From key numbers to frequencies, in equal temperament, by plain arithmetic (see exponential.ts for the reason). */
import { fail, ok, type Result } from '../units/index.ts';
import { exponential } from './exponential.ts';

/** Reference pitches that are taken, A4 in Hz, both ends included: French baroque to high church pitch (design section 8). */
export const referencePitches = { lowest: 392, highest: 466, usual: 440 } as const;

/** Checks a reference pitch (A4, in Hz, fractions allowed). Error: "reference-pitch". */
export const checkReference = (reference: number): Result<number> => {
  const { lowest, highest, usual } = referencePitches;
  return reference >= lowest && reference <= highest
    ? ok(reference)
    : fail(
        'reference-pitch',
        `A reference pitch of ${reference} Hz cannot be used. Give the A above middle C in Hz, from ${lowest} to ${highest}; ${usual} is usual, 415 in early music.`,
      );
};

/**
 * Frequency in Hz of a MIDI key number (A4 = 69, fractions of semitones allowed), where A4 sounds at `reference` Hz:
 * reference x 2^((key - 69) / 12). Keys from 0 to 138.
 */
export const hertz = (key: number, reference: number): number =>
  reference * exponential(((key - 69) * Math.LN2) / 12, 0).re;

/** The amplitude factor of a level in dB, 10^(dB/20), the same to the last bit everywhere. From -170 to 80 dB. */
export const factorOf = (level: number): number => exponential((level * Math.LN10) / 20, 0).re;

/** The square root of x >= 0 by Newton's rule, the same to the last bit everywhere. */
export const squareRoot = (x: number): number => {
  if (x <= 0) return 0;
  let root = x > 1 ? x : 1;
  // Falls towards the root from above, and stops where rounding lets it fall no more.
  for (;;) {
    const next = (root + x / root) / 2;
    if (next >= root) return root;
    root = next;
  }
};

/** Length of `sineTable`, a power of two. */
export const tableLength = 2048;

/** One period of the sine in `tableLength` steps. */
export const sineTable: Float64Array = Float64Array.from(
  { length: tableLength },
  (_, n) => exponential(0, (2 * Math.PI * (n < tableLength / 2 ? n : n - tableLength)) / tableLength).im,
);
