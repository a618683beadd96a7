/** How long notes sound for their length, how uneven runs are, and how much neighbouring lengths differ. */
import { studentInterval } from './estimates.ts';
import type { Estimate } from './interval.ts';
import { mean, total, variance } from './moments.ts';

/** A note as it sounded. */
export interface Sounded {
  /** Seconds. */
  readonly onset: number;
  /** End of the sound, seconds; null where it was not heard. */
  readonly offset: number | null;
}

/**
 * Duration ratios of a line: sounding length over the interval to the next onset (Bresin & Battel 2000, JNMR 29:211). 1 is
 * joined, above 1 overlaps. Notes without an offset, the last note and notes after which time does not go on have none.
 */
export const durationRatios = (notes: readonly Sounded[]): readonly number[] =>
  notes.flatMap(({ onset, offset }, i) => {
    const next = notes[i + 1]?.onset;
    if (offset === null || next === undefined || !(next > onset) || offset < onset) return [];
    return [(offset - onset) / (next - onset)];
  });

/**
 * Logarithms of long-short ratios of a run in pairs: the first of each two intervals over the second; 0 is even, log 2 a
 * triplet swing (Friberg & Sundstrom 2002, Music Percept 19:333). `onsets`: seconds, in pairs from the first, the next onset
 * after the last pair included; null where one was not heard, and the pairs that it touches are passed over.
 */
export const longShortLogs = (onsets: readonly (number | null)[]): readonly number[] => {
  const logs: number[] = [];
  for (let i = 0; i + 2 < onsets.length; i += 2) {
    const [a, b, c] = [onsets[i] ?? null, onsets[i + 1] ?? null, onsets[i + 2] ?? null];
    if (a !== null && b !== null && c !== null && b > a && c > b) logs.push(Math.log((b - a) / (c - b)));
  }
  return logs;
};

/**
 * The difference of the means of two series, first less second, with Welch's interval (B. L. Welch 1947, Biometrika 34:28).
 * Null where one is empty; no interval where one has fewer than two values or neither varies.
 */
export const meanDifference = (first: readonly number[], second: readonly number[]): Estimate | null => {
  const [a, b] = [mean(first), mean(second)];
  if (a === null || b === null) return null;
  const value = a - b;
  const [s, t] = [variance(first), variance(second)];
  if (s === null || t === null) return { value, ci95: null };
  const [p, q] = [s / first.length, t / second.length];
  if (!(p + q > 0)) return { value, ci95: null };
  const df = (p + q) ** 2 / (p ** 2 / (first.length - 1) + q ** 2 / (second.length - 1));
  return { value, ci95: studentInterval(value, Math.sqrt(p + q), df) };
};

/**
 * The mean difference within kinds of notes, first less second: each kind's difference of means, weighted by ab / (a + b) for a and b values in it
 * (the weights of Mantel & Haenszel 1959, J Natl Cancer Inst 22:719), so that what only one side has of a kind counts for nothing. Interval: Student's t with
 * Satterthwaite's degrees of freedom (F. E. Satterthwaite 1946, Biometrics Bull 2:110); both from memory. Of one kind it is Welch's. Kinds of which one
 * side has fewer than two values are passed over. Null where none is left; no interval where nothing varies.
 */
export const differenceWithin = (
  kinds: readonly { readonly first: readonly number[]; readonly second: readonly number[] }[],
): Estimate | null => {
  const known = kinds.flatMap(({ first, second }) => {
    const [a, b, s, t] = [mean(first), mean(second), variance(first), variance(second)];
    if (a === null || b === null || s === null || t === null) return [];
    const weight = (first.length * second.length) / (first.length + second.length);
    return [{ weight, value: a - b, sides: [side(s, first.length), side(t, second.length)] }];
  });
  const whole = total(known.map(({ weight }) => weight));
  if (!(whole > 0)) return null;
  const value = total(known.map(({ weight, value: own }) => (weight / whole) * own));
  const terms = known.flatMap(({ weight, sides }) =>
    sides.map(({ squared, df }) => ({ squared: (weight / whole) ** 2 * squared, df })),
  );
  const squared = total(terms.map((term) => term.squared));
  if (!(squared > 0)) return { value, ci95: null };
  const df = squared ** 2 / total(terms.map((term) => term.squared ** 2 / term.df));
  return { value, ci95: studentInterval(value, Math.sqrt(squared), df) };
};

/** The squared standard error of a mean of n values, and its degrees of freedom. */
const side = (squares: number, n: number): { readonly squared: number; readonly df: number } => ({
  squared: squares / n,
  df: n - 1,
});

/**
 * Normalised pairwise variability index of durations (Grabe & Low 2002; Patel & Daniele 2003, Cognition 87:B35):
 * 100 times the mean of |a - b| / ((a + b) / 2) over neighbours. 0 where all are alike. Null for fewer than two
 * durations or where one is not positive.
 */
export const npvi = (durations: readonly number[]): number | null => {
  if (durations.length < 2 || durations.some((duration) => !(duration > 0))) return null;
  const terms = durations.slice(1).map((b, i) => {
    const a = durations[i] ?? b;
    return Math.abs(a - b) / ((a + b) / 2);
  });
  return (100 * total(terms)) / terms.length;
};
