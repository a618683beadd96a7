/** The bootstrap: how a figure varies when the same music is drawn anew from what was heard. */
import type { Random } from '../units/index.ts';
import { confidence, type Estimate } from './interval.ts';
import { sampleQuantile } from './moments.ts';

export interface BootstrapOptions {
  /** Seeded by the caller, so that the same seed gives the same interval. */
  readonly random: Random;
  /** How often values are drawn anew; 1000 if nothing is said. */
  readonly times?: number;
  /** Values that stay together, in a row; 1 if nothing is said. Longer for values that hang together. */
  readonly block?: number;
}

/**
 * Percentile interval of any figure (Efron & Tibshirani 1993, ch. 13), drawing blocks that may wrap around (Politis & Romano
 * 1992). Null where the figure is null of the values themselves; no interval for fewer than two values or where most draws
 * give no figure.
 */
export const bootstrap = (
  values: readonly number[],
  figure: (values: readonly number[]) => number | null,
  { random, times = 1000, block = 1 }: BootstrapOptions,
): Estimate | null => {
  const value = figure(values);
  if (value === null) return null;
  const n = values.length;
  if (n < 2) return { value, ci95: null };
  const length = Math.max(1, Math.min(n, Math.floor(block)));
  const figures: number[] = [];
  for (let i = 0; i < times; i++) {
    const drawn: number[] = [];
    while (drawn.length < n) {
      const start = Math.floor(random() * n);
      for (let j = 0; j < length && drawn.length < n; j++) drawn.push(values[(start + j) % n] ?? 0);
    }
    const one = figure(drawn);
    if (one !== null) figures.push(one);
  }
  const low = sampleQuantile(figures, (1 - confidence) / 2);
  const high = sampleQuantile(figures, (1 + confidence) / 2);
  if (figures.length < times / 2 || low === null || high === null) return { value, ci95: null };
  return { value, ci95: { low, high } };
};
