/**
 * The two-level model of timing (Wing & Kristofferson 1973, Percept Psychophys 14:5): an inner clock sets intervals of
 * variance C, each note is played after a delay of variance M. Then intervals between notes have variance C + 2M and
 * autocovariance -M at lag 1: a note that is late shortens the next interval.
 */
import { around, confidence, type Estimate, type Interval } from './interval.ts';
import type { Step } from './model.ts';
import { leastSquares } from './leastSquares.ts';
import { total } from './moments.ts';
import { normalQuantile } from './quantiles.ts';

export interface ClockMotor {
  /** Intervals used. */
  readonly n: number;
  /** Mean interval in seconds. */
  readonly interval: number;
  /** Variances in square seconds; an estimate below zero is given as it comes out. */
  readonly clockVariance: Estimate;
  readonly motorVariance: Estimate;
  /** Their roots in seconds; null where the variance came out below zero. Limits below zero are given as 0. */
  readonly clockSd: Estimate | null;
  readonly motorSd: Estimate | null;
  /** Autocorrelation of the intervals at lag 1 by the estimates: between -1/2 and 0 where the model holds. */
  readonly lag1: number;
  /** False where a variance came out below zero: the model does not describe this playing, or there are too few notes. */
  readonly fits: boolean;
}

/** Intervals below which nothing is estimated. */
export const fewestForClock = 24;

const rooted = ({ value, ci95 }: Estimate): Estimate | null => {
  if (value < 0) return null;
  const limits: Interval | null =
    ci95 === null ? null : { low: Math.sqrt(Math.max(0, ci95.low)), high: Math.sqrt(Math.max(0, ci95.high)) };
  return { value: Math.sqrt(value), ci95: limits };
};

/**
 * All values x that the estimate does not contradict: (value - x)^2 <= z^2 / n times the variance that it would have at
 * x, (a g^2 + c x^2) with g the variance of an interval. So the limits know that a larger variance is also known less well (a score
 * interval, as Wilson's for shares). No limits where n is too small for an upper one.
 */
const scored = (value: number, g: number, [a, c]: readonly [number, number], share: number): Estimate => {
  const square = 1 - share * c;
  if (square < 0.1) return { value, ci95: null };
  const middle = value / square;
  const inside = middle * middle - (value * value - share * a * g * g) / square;
  return { value, ci95: around(middle, Math.sqrt(Math.max(0, inside))) };
};

/**
 * Clock and motor variance of evenly spaced notes (`evenSteps`). A straight drift of the intervals is taken out first; what
 * that and the mean take from the sample variances is given back exactly: for residuals e, E[e'Ae] = trace(A Cov) is
 * linear in the two unknowns, so two equations are solved. Intervals: Bartlett's variances of autocovariances (Box &
 * Jenkins, 2.1.6) for this model. Null for fewer than `fewestForClock` intervals or where few of them are joined.
 */
export const clockMotor = (steps: readonly Step[]): ClockMotor | null => {
  const n = steps.length;
  if (n < fewestForClock) return null;
  const seconds = steps.map((step) => step.seconds);
  const pairs = steps.flatMap(({ joined }, i) => (joined && i > 0 ? [i] : []));
  if (pairs.length < n / 2) return null;
  const middle = (n - 1) / 2;
  const flat = steps.map(() => 1 / Math.sqrt(n));
  const tilted = steps.map((_, i) => i - middle);
  const size = Math.sqrt(total(tilted.map((x) => x * x)));
  const basis = [flat, tilted.map((x) => x / size)];
  const fit = leastSquares(basis, seconds);
  if (fit === null) return null;
  const e = fit.residuals;
  /** Each value's neighbours in the chain, half of them: the form v' L w counts each joined pair once. */
  const half = (v: readonly number[]): readonly number[] => {
    const result = v.map(() => 0);
    for (const i of pairs) {
      result[i] = (result[i] ?? 0) + (v[i - 1] ?? 0) / 2;
      result[i - 1] = (result[i - 1] ?? 0) + (v[i] ?? 0) / 2;
    }
    return result;
  };
  const dot = (a: readonly number[], b: readonly number[]): number => total(a.map((x, i) => x * (b[i] ?? 0)));
  const near = basis.map(half);
  const across = basis.map((q) => near.map((l) => dot(q, l)));
  const trace = (across[0]?.[0] ?? 0) + (across[1]?.[1] ?? 0);
  // Residuals e = P y, P taking mean and drift out; Cov(y) = g0 I + g1 W with W = 2 L.
  // E[e'e] = g0 tr(P) + g1 tr(PW); E[e'Le] = g0 tr(LP) + g1 tr(LPWP).
  const a11 = n - 2;
  const a12 = -2 * trace;
  const a21 = -trace;
  const bothSides = total(across.flatMap((row) => row.map((x) => x * x)));
  const a22 = pairs.length - 4 * total(near.map((l) => dot(l, l))) + 2 * bothSides;
  const [b1, b2] = [dot(e, e), dot(e, half(e))];
  const determinant = a11 * a22 - a12 * a21;
  if (!(determinant > 0) || !(b1 > 0)) return null;
  const g0 = (b1 * a22 - a12 * b2) / determinant;
  const g1 = (a11 * b2 - a21 * b1) / determinant;
  const z = normalQuantile((1 + confidence) / 2) ?? 0;
  const [motor, clock] = [-g1, g0 + 2 * g1];
  // Var(M) = (g0^2 + 3 M^2) / n; Var(C) = (2 g0^2 + 4 C^2) / n, both with M = (g0 - C) / 2.
  const motorVariance = scored(motor, g0, [1, 3], (z * z) / pairs.length);
  const clockVariance = scored(clock, g0, [2, 4], (z * z) / a11);
  return {
    n,
    interval: total(seconds) / n,
    clockVariance,
    motorVariance,
    clockSd: rooted(clockVariance),
    motorSd: rooted(motorVariance),
    lag1: g0 > 0 ? g1 / g0 : 0,
    fits: motorVariance.value >= 0 && clockVariance.value >= 0,
  };
};
