import type { Brand } from './brand.ts';
import { add, floor, fraction, mul, sub, toNumber, type Fraction } from './fraction.ts';

/** A position or length in music: an exact fraction of a whole note. A quarter is 1/4. */
export type Beats = Brand<Fraction, 'Beats'>;
/** A time or length in seconds, exact. */
export type Seconds = Brand<Fraction, 'Seconds'>;
/** A position or length in samples: a whole number. */
export type Samples = Brand<number, 'Samples'>;
/** Beats per minute, exact; of which beat is said beside it (see Tempo). Always positive. */
export type Bpm = Brand<Fraction, 'Bpm'>;
/** A ratio of amplitudes, 20 log10. */
export type Decibels = Brand<number, 'Decibels'>;
/** Loudness, ITU-R BS.1770-4. */
export type Lufs = Brand<number, 'Lufs'>;

/** Brands an exact fraction of a whole note. */
export const beats = (value: Fraction): Beats => value as Beats;
/** n/d of a whole note. */
export const note = (n: number | bigint, d: number | bigint = 1): Beats => fraction(n, d) as Beats;
export const seconds = (value: Fraction): Seconds => value as Seconds;
export const bpm = (value: Fraction): Bpm => value as Bpm;
export const decibels = (value: number): Decibels => value as Decibels;

/** Adds two lengths of the same unit. */
export const plus = <T extends Beats | Seconds>(a: T, b: T): T => add(a, b) as T;
export const minus = <T extends Beats | Seconds>(a: T, b: T): T => sub(a, b) as T;

/** The sample on which a time falls: floor(t x rate + 1/2) from the exact t (design section 6). Rate in Hz. */
export const samplesAt = (time: Seconds, rate: number): Samples =>
  Number(floor(add(mul(time, fraction(rate)), fraction(1, 2)))) as Samples;

/** The exact time of a sample: the inverse of `samplesAt` on whole samples. */
export const secondsAt = (sample: Samples, rate: number): Seconds => seconds(fraction(sample, rate));

/** Seconds as a double, for files and displays. */
export const secondsNumber = (time: Seconds): number => toNumber(time);
