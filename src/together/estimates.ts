/** Mean, spread and mean size of a series, each with its interval; what hangs together counts for less (serial.ts). */
import { around, confidence, type Estimate, type Interval } from './interval.ts';
import { mean, standardDeviation } from './moments.ts';
import { chiSquareQuantile, normalQuantile, studentQuantile } from './quantiles.ts';
import { spread, type Spread } from './serial.ts';

const upper = (1 + confidence) / 2;

/** value ± t times the standard error. */
export const studentInterval = (value: number, standardError: number, df: number): Interval | null => {
  const t = studentQuantile(upper, df);
  return t === null ? null : around(value, t * standardError);
};

/** Limits of a variance that was estimated with df degrees of freedom: df s^2 / chi-square (normal values). */
const varianceInterval = (sigma2: number, df: number): Interval | null => {
  const [above, below] = [chiSquareQuantile(upper, df), chiSquareQuantile(1 - upper, df)];
  if (above === null || below === null || !(below > 0)) return null;
  return { low: (df * sigma2) / above, high: (df * sigma2) / below };
};

const root = ({ low, high }: Interval): Interval => ({
  low: Math.sqrt(Math.max(0, low)),
  high: Math.sqrt(Math.max(0, high)),
});

/** Whether there is something that an interval can be made of. */
const varies = (seen: Spread | null): seen is Spread => seen !== null && seen.variance > 0;

/** The mean, with Student's t on the effective number of values. Null of nothing; no interval for one value. */
export const meanEstimate = (values: readonly number[]): Estimate | null => {
  const value = mean(values);
  if (value === null) return null;
  const seen = spread(values);
  return { value, ci95: varies(seen) ? studentInterval(value, seen.standardError, seen.dfMean) : null };
};

/** The sample standard deviation, with chi-square limits. Null for fewer than two values. */
export const sdEstimate = (values: readonly number[]): Estimate | null => {
  const value = standardDeviation(values);
  if (value === null) return null;
  const seen = spread(values);
  if (!varies(seen)) return { value, ci95: null };
  const limits = varianceInterval(seen.variance, seen.df);
  return { value, ci95: limits === null ? null : root(limits) };
};

/**
 * The mean size of values whatever their sign. Its interval is Student's on the logarithm (delta method): a mean size is
 * positive and leans to the right, and the test of coverage shows this to hold where the plain one is too short.
 * Chosen before a bootstrap, which would need a seed and covers less in short series.
 */
export const meanSizeEstimate = (values: readonly number[]): Estimate | null => {
  const sizes = values.map(Math.abs);
  const value = mean(sizes);
  if (value === null) return null;
  const seen = spread(sizes);
  if (!varies(seen) || !(value > 0)) return { value, ci95: null };
  const t = studentQuantile(upper, seen.dfMean);
  if (t === null) return { value, ci95: null };
  const factor = Math.exp((t * seen.standardError) / value);
  return { value, ci95: { low: value / factor, high: value * factor } };
};

/**
 * The standard deviation that is left when the measuring noise is taken out: root of max(0, s^2 - mean noise variance).
 * `noiseVariance`: mean variance of the measuring error of one value, same unit squared, taken as known; the interval is
 * that of s^2 less the same amount, so that it reaches down to 0 where noise explains all. Null for fewer than two values
 * or a noise variance below 0.
 */
export const sdWithoutNoise = (values: readonly number[], noiseVariance: number): Estimate | null => {
  const sd = standardDeviation(values);
  if (sd === null || !(noiseVariance >= 0)) return null;
  const value = Math.sqrt(Math.max(0, sd * sd - noiseVariance));
  const seen = spread(values);
  if (!varies(seen)) return { value, ci95: null };
  const limits = varianceInterval(seen.variance, seen.df);
  if (limits === null) return { value, ci95: null };
  return { value, ci95: root({ low: limits.low - noiseVariance, high: limits.high - noiseVariance }) };
};

/**
 * A share of n with Wilson's interval (E. B. Wilson 1927, JASA 22:209): `count` of `n`. Null for n = 0. `effective`: how
 * many independent values the n are worth.
 */
export const shareEstimate = (count: number, n: number, effective = n): Estimate | null => {
  if (!(n > 0) || count < 0 || count > n) return null;
  const value = count / n;
  const z = normalQuantile(upper);
  const size = Math.min(Math.max(1, effective), n);
  if (z === null) return { value, ci95: null };
  const below = 1 + (z * z) / size;
  const middle = (value + (z * z) / (2 * size)) / below;
  const half = (z / below) * Math.sqrt((value * (1 - value)) / size + (z * z) / (4 * size * size));
  return { value, ci95: { low: Math.max(0, middle - half), high: Math.min(1, middle + half) } };
};
