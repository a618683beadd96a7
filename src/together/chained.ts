/**
 * Least squares for intervals between notes. Neighbouring intervals share a note, so that what shortens one lengthens the
 * next: their errors have a covariance with two diagonals. It is divided out before the fit (generalised least squares,
 * A. C. Aitken 1935).
 */
import { leastSquares, type Fit } from './leastSquares.ts';
import { total } from './moments.ts';

/** Covariance of a row of values in which only neighbours hang together. */
export interface Chained {
  readonly diagonal: readonly number[];
  /** Covariance of value i with value i + 1; 0 where they share no note. One shorter than `diagonal`. */
  readonly neighbours: readonly number[];
}

/** Columns freed of the covariance, L^-1 v with L L' = covariance, and the logarithm of its determinant. */
interface Freed {
  readonly columns: readonly (readonly number[])[];
  readonly logDeterminant: number;
}

/** Null where the covariance is none: not positive definite. */
const freed = ({ diagonal, neighbours }: Chained, columns: readonly (readonly number[])[]): Freed | null => {
  const roots: number[] = [];
  const below: number[] = [];
  for (let i = 0; i < diagonal.length; i++) {
    const before = i === 0 ? 0 : (neighbours[i - 1] ?? 0) / (roots[i - 1] ?? 1);
    const left = (diagonal[i] ?? 0) - before * before;
    if (!(left > 0) || !Number.isFinite(left)) return null;
    below.push(before);
    roots.push(Math.sqrt(left));
  }
  return {
    columns: columns.map((column) => {
      let before = 0;
      return column.map((value, i) => (before = (value - (below[i] ?? 0) * before) / (roots[i] ?? 1)));
    }),
    logDeterminant: 2 * total(roots.map(Math.log)),
  };
};

/** A fit and what the likelihood of its covariance is told by. */
export interface ChainedFit extends Fit {
  readonly logDeterminant: number;
}

/**
 * Generalised least squares of y by the columns. Residuals of the result are freed of the covariance too; its `variance` is
 * near 1 where the covariance is right. Null as in `leastSquares`, or where the covariance is none.
 */
export const chainedFit = (
  columns: readonly (readonly number[])[],
  y: readonly number[],
  covariance: Chained,
): ChainedFit | null => {
  const loose = freed(covariance, [...columns, y]);
  const target = loose?.columns.at(-1);
  if (loose === null || target === undefined) return null;
  const fit = leastSquares(loose.columns.slice(0, -1), target);
  return fit === null ? null : { ...fit, logDeterminant: loose.logDeterminant };
};
