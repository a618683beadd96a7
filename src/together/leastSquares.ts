/** Linear least squares by orthogonal columns, which keeps the digits that normal equations lose. */
import { studentInterval } from './estimates.ts';
import type { Estimate } from './interval.ts';
import { total } from './moments.ts';

export interface Fit {
  readonly coefficients: readonly number[];
  /** Inverse of X'X: times the residual variance, the covariance of the coefficients. */
  readonly inverse: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  /** Rows less columns. */
  readonly df: number;
  /** Sum of squared residuals over df; 0 where df is 0. */
  readonly variance: number;
}

/** The sum of products, its rounding errors carried along as in `total`. */
const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  let rest = 0;
  for (let i = 0; i < a.length; i++) {
    const value = (a[i] ?? 0) * (b[i] ?? 0);
    const next = sum + value;
    rest += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + rest;
};

/** Takes so many times b from a, in its place. */
const take = (a: number[], times: number, b: readonly number[]): void => {
  for (let i = 0; i < a.length; i++) a[i] = (a[i] ?? 0) - times * (b[i] ?? 0);
};

/** Below this share of its length a column is taken to be a mixture of those before it. */
const dependent = 1e-12;

/**
 * Fits y by the columns: Gram-Schmidt, each column made orthogonal twice (Giraud, Langou & Rozloznik 2005, Comput Math
 * Appl 50:1069: "twice is enough"). Null where rows are fewer than columns or the columns depend on one another.
 */
export const leastSquares = (columns: readonly (readonly number[])[], y: readonly number[]): Fit | null => {
  const p = columns.length;
  if (p === 0 || y.length < p || columns.some((column) => column.length !== y.length)) return null;
  const basis: (readonly number[])[] = [];
  const upper: number[][] = [];
  for (const column of columns) {
    const parts = basis.map(() => 0);
    const rest = column.slice();
    for (let pass = 0; pass < 2; pass++) {
      for (const [j, direction] of basis.entries()) {
        const part = dot(direction, rest);
        parts[j] = (parts[j] ?? 0) + part;
        take(rest, part, direction);
      }
    }
    const length = Math.sqrt(dot(rest, rest));
    if (!(length > dependent * Math.sqrt(dot(column, column)))) return null;
    basis.push(rest.map((value) => value / length));
    upper.push([...parts, length]);
  }
  const residuals = y.slice();
  const along = basis.map(() => 0);
  for (let pass = 0; pass < 2; pass++) {
    for (const [j, direction] of basis.entries()) {
      const part = dot(direction, residuals);
      along[j] = (along[j] ?? 0) + part;
      take(residuals, part, direction);
    }
  }
  const backwards = (right: readonly number[]): readonly number[] => {
    const solution = right.map(() => 0);
    for (let i = p - 1; i >= 0; i--) {
      let value = right[i] ?? 0;
      for (let j = i + 1; j < p; j++) value -= (upper[j]?.[i] ?? 0) * (solution[j] ?? 0);
      solution[i] = value / (upper[i]?.[i] ?? 1);
    }
    return solution;
  };
  const inverted = columns.map((_, k) => backwards(columns.map((__, i) => (i === k ? 1 : 0))));
  const inverse = columns.map((_, i) =>
    columns.map((__, j) => total(inverted.map((row) => (row[i] ?? 0) * (row[j] ?? 0)))),
  );
  const df = y.length - p;
  return {
    coefficients: backwards(along),
    inverse,
    residuals,
    df,
    variance: df > 0 ? dot(residuals, residuals) / df : 0,
  };
};

/** The k-th coefficient with Student's interval; without one where no row is to spare. */
const coefficient = (fit: Fit, k: number): Estimate => {
  const value = fit.coefficients[k] ?? 0;
  const error = Math.sqrt(fit.variance * (fit.inverse[k]?.[k] ?? 0));
  return { value, ci95: fit.df > 0 && error > 0 ? studentInterval(value, error, fit.df) : null };
};

export interface Line {
  readonly slope: Estimate;
  readonly intercept: Estimate;
  readonly slopeError: number;
  readonly interceptError: number;
  /** Standard deviation of the residuals, n - 2 below the line. */
  readonly residualSd: number;
  readonly df: number;
  /** The line at x, and the interval of one further value there (null where df is 0). */
  readonly predict: (x: number) => Estimate;
}

/**
 * The straight line through points by ordinary least squares, with Student's intervals (Draper & Smith, Applied Regression
 * Analysis, 1.4). For values that hang together along the line the intervals are too short: see `drift` for onsets.
 * Null for fewer than two different x.
 */
export const line = (x: readonly number[], y: readonly number[]): Line | null => {
  const fit = leastSquares([x.map(() => 1), x], y);
  if (fit === null) return null;
  const [at0 = 0, slope = 0] = fit.coefficients;
  const covariance = (i: number, j: number): number => fit.variance * (fit.inverse[i]?.[j] ?? 0);
  return {
    slope: coefficient(fit, 1),
    intercept: coefficient(fit, 0),
    slopeError: Math.sqrt(covariance(1, 1)),
    interceptError: Math.sqrt(covariance(0, 0)),
    residualSd: Math.sqrt(fit.variance),
    df: fit.df,
    predict: (where) => {
      const spread = covariance(0, 0) + 2 * where * covariance(0, 1) + where * where * covariance(1, 1);
      const value = at0 + slope * where;
      const error = Math.sqrt(fit.variance + Math.max(0, spread));
      return { value, ci95: fit.df > 0 && error > 0 ? studentInterval(value, error, fit.df) : null };
    },
  };
};
