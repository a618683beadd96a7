/** How tones begin and end: curves shared by all voices, so that none is heard later than another. */
import { exponential } from '../exponential.ts';

/**
 * Seconds of the common rise, and where it starts and ends (1 is full strength). It starts above nothing, so that the
 * very first sample sounds; 1/20 is a soft consonant and no click. Half of the full strength is reached after 4.5 ms: the
 * perceived onset (some 6 to 15 dB below the maximum; Vos and Rasch 1981, from memory) lies 2 to 5 ms after the physical one,
 * the same for every voice that lasts, and is not compensated.
 */
const rise = { seconds: 0.008, from: 0.05, to: 0.8 } as const;

/** Struck and plucked tones are there at once. */
const strike = { seconds: 0.002, from: 0.3, to: 1 } as const;

/** `count` values from 0 towards 1, half a period of a cosine: (1 - cos(pi n / count)) / 2. */
const halfCosine = (count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, n) => (1 - exponential(0, (Math.PI * n) / count).re) / 2);

/** Strength over the first samples of a tone, until it is 1. */
export const attack = (rate: number, struck: boolean, swell: number): Float64Array => {
  const { seconds, from, to } = struck ? strike : rise;
  const first = halfCosine(Math.max(1, Math.floor(seconds * rate)));
  const then = halfCosine(struck ? 0 : Math.floor(swell * rate));
  return Float64Array.from([
    ...first.map((value) => from + (to - from) * value),
    ...then.map((value) => to + (1 - to) * value),
  ]);
};

/** Strength over the last samples: entry k is k + 1 samples before the end. */
export const release = (count: number): Float64Array =>
  Float64Array.from(
    { length: count },
    (_, k) => (1 - exponential(0, (Math.PI * (k + 1)) / (count + 1)).re) / 2,
  );
