/** Quantiles of Student's t, chi-square and the normal distribution, by solving their integrals. */
import { betaI, gammaP } from './specialFunctions.ts';

/** Where a rising function passes `goal` in [low, high]: halving, to the last digits of a double. */
const solve = (rising: (x: number) => number, goal: number, low: number, high: number): number => {
  let [a, b] = [low, high];
  for (let i = 0; i < 200; i++) {
    const middle = a + (b - a) / 2;
    if (middle <= a || middle >= b) break;
    if (rising(middle) < goal) a = middle;
    else b = middle;
  }
  return a + (b - a) / 2;
};

/** Doubles `from` until the function reaches the goal. */
const beyond = (rising: (x: number) => number, goal: number, from: number): number => {
  let high = from;
  for (let i = 0; i < 1000 && rising(high) < goal; i++) high *= 2;
  return high;
};

/** Whether p lies between 0 and 1 and the degrees of freedom are a positive number. */
const sensible = (p: number, df: number): boolean => p > 0 && p < 1 && df > 0 && df < Infinity;

/** What was worked out of late, by p and degrees of freedom: a reading asks for the same few again and again. So many at most. */
const most = 2000;
const kept = (solved: (p: number, df: number) => number): ((p: number, df: number) => number | null) => {
  const known = new Map<string, number>();
  return (p, df) => {
    if (!sensible(p, df)) return null;
    const key = `${p} ${df}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    if (known.size >= most) known.clear();
    const quantile = solved(p, df);
    known.set(key, quantile);
    return quantile;
  };
};

/**
 * The p-quantile of Student's t. Degrees of freedom need not be whole. Null unless 0 < p < 1 and 0 < df < infinity.
 * P(|T| < t) = 1 - I_x(df/2, 1/2) with x = df / (df + t^2): A&S 26.7.1.
 */
export const studentQuantile = kept((p, df) => {
  if (p === 0.5) return 0;
  const wanted = Math.abs(2 * p - 1);
  const within = (t: number): number => 1 - betaI(df / (df + t * t), df / 2, 0.5);
  const size = solve(within, wanted, 0, beyond(within, wanted, 4));
  return p < 0.5 ? -size : size;
});

/** The p-quantile of chi-square; df need not be whole. Null as in `studentQuantile`. A&S 26.4.19: P(df/2, x/2). */
export const chiSquareQuantile = kept((p, df) => {
  const below = (x: number): number => gammaP(df / 2, x / 2);
  return solve(below, p, 0, beyond(below, p, df + 4));
});

/** The p-quantile of the standard normal distribution, whose square is chi-square with df = 1. Null unless 0 < p < 1. */
export const normalQuantile = (p: number): number | null => {
  if (p === 0.5) return 0;
  const square = chiSquareQuantile(Math.abs(2 * p - 1), 1);
  if (square === null) return null;
  return p < 0.5 ? -Math.sqrt(square) : Math.sqrt(square);
};
