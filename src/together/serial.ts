/**
 * How much a series of n values that hang together tells. Players who were late on one note are likely late on the next:
 * such values count for fewer than n. The correlation is taken to fall by a constant factor from lag 1 on, which covers
 * AR(1) and AR(1) seen through measuring noise (asynchronies under phase correction are of this kind: Vorberg & Schulze
 * 2002, J Math Psychol 46:56).
 */
import { autocorrelation, centred, mean, total } from './moments.ts';

export interface Serial {
  /** Autocorrelation at lag 1, freed of its bias in short series. */
  readonly lag1: number;
  /** Sum of all correlations, 1 for independent values: the variance of the mean is this times sigma^2 / n. */
  readonly forMean: number;
  /** Sum of all squared correlations: the variance of the variance is this times that of independent values. */
  readonly forVariance: number;
}

/** Values below which no correlation is estimated: they are taken as independent. */
const fewestForSerial = 8;

const independent: Serial = { lag1: 0, forMean: 1, forVariance: 1 };

const within = (x: number, low: number, high: number): number => Math.max(low, Math.min(high, x));

/**
 * Estimates how values in a row hang together. The bias of r1 in short series, -(1 + 3 rho) / n, is taken out
 * (Marriott & Pope 1954, Biometrika 41:390; from memory). Where r1 is clearly positive, r2 / r1 tells how fast the
 * correlation falls; it is never taken to fall faster than AR(1).
 */
const serial = (values: readonly number[]): Serial => {
  const n = values.length;
  if (n < fewestForSerial) return independent;
  const [r1, r2] = [autocorrelation(values, 1), autocorrelation(values, 2)];
  if (r1 === null || r2 === null) return independent;
  const lag1 = within(r1 + (1 + 3 * r1) / n, -0.95, 0.95);
  const lag2 = r2 + (1 + 2 * lag1) / n;
  const falls = lag1 > 1.64 / Math.sqrt(n) ? within(lag2 / lag1, lag1, 0.95) : lag1;
  return {
    lag1,
    forMean: within(1 + (2 * lag1) / (1 - falls), 0.1, n / 2),
    forVariance: 1 + (2 * lag1 * lag1) / (1 - falls * falls),
  };
};

export interface Spread {
  readonly n: number;
  readonly mean: number;
  /** Variance of one value, freed of the bias that correlation gives the sample variance. */
  readonly variance: number;
  /** Degrees of freedom of that variance. */
  readonly df: number;
  /** Standard error of the mean. */
  readonly standardError: number;
  /** Degrees of freedom of the standard error: correlation is estimated too, and that costs some. */
  readonly dfMean: number;
  /** How many independent values would tell as much about the mean (Bayley & Hammersley 1946, JRSS Suppl 8:184). */
  readonly effective: number;
  readonly serial: Serial;
}

/**
 * Mean and variance of a series with what correlation leaves of their certainty. Null for fewer than two values.
 * Degrees of freedom of the standard error by Satterthwaite's rule: 2/df of a product is the sum of the relative
 * variances, here 2/df of the variance and 4 / (n (1 - rho^2)) of the factor for correlation (delta method).
 */
export const spread = (values: readonly number[]): Spread | null => {
  const n = values.length;
  const middle = mean(values);
  if (middle === null || n < 2) return null;
  const hangs = serial(values);
  const free = n - hangs.forMean;
  const squared = total(centred(values).map((value) => value * value));
  const sigma2 = squared / free;
  const df = Math.max(1, free / hangs.forVariance);
  const effective = Math.max(2, n / hangs.forMean);
  const estimated = n < fewestForSerial ? 0 : 2 / (n * (1 - Math.min(hangs.lag1 ** 2, 0.9)));
  return {
    n,
    mean: middle,
    variance: sigma2,
    df,
    standardError: Math.sqrt(sigma2 / effective),
    dfMean: Math.max(1, 1 / (1 / df + estimated)),
    effective,
    serial: hangs,
  };
};
