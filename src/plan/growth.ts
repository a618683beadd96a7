/**
 * How a figure goes from rehearsal to rehearsal. A change that is smaller than its uncertainty is not called progress, nor the opposite: the
 * interval of the difference has to leave out zero.
 */
import { mean, total } from '../together/moments.ts';
import { studentQuantile } from '../together/quantiles.ts';
import type { TakeFigure } from './take.ts';

/** A figure of one rehearsal, or of several taken together. */
export interface GrowthPoint extends TakeFigure {
  /** Days of the first and the last rehearsal in it. */
  readonly from: string;
  readonly to: string;
  /** Takes, and rehearsals. */
  readonly takes: number;
  readonly rehearsals: number;
}

export interface DatedFigure {
  readonly rehearsal: string;
  readonly day: string;
  /** Above zero: a spread. */
  readonly figure: TakeFigure;
}

/** Newest rehearsals that stand for themselves, and stretches into which all earlier ones are taken together. Our choice: what can be read. */
const apart = 6;
const stretches = 6;

const half95 = 1.96;

/** Half of a 95 % interval in standard errors; from 10 degrees of freedom on by the first terms of its series (Abramowitz & Stegun 26.7.5). */
const studentHalf = (df: number): number =>
  df < 10
    ? (studentQuantile(0.975, df) ?? half95)
    : half95 +
      (half95 ** 3 + half95) / (4 * df) +
      (5 * half95 ** 5 + 16 * half95 ** 3 + 3 * half95) / (96 * df ** 2);

/** Standard error of the logarithm of a figure above zero, from its interval; null without one. */
const errorOf = ({ value, low, high }: TakeFigure): number | null =>
  low === null || high === null || !(low > 0) || !(value > 0) ? null : Math.log(high / low) / (2 * half95);

/**
 * Figures taken together, on logarithms: the mean weighed by how sure each is; its error is the greater of what the intervals give and what the
 * figures' own scatter gives (a rehearsal is not like the next). Null where none is above zero.
 */
export const pooled = (figures: readonly TakeFigure[]): TakeFigure | null => {
  const logs = figures.flatMap((figure) => {
    const error = errorOf(figure);
    return error === null || error === 0 ? [] : [{ log: Math.log(figure.value), weight: 1 / error ** 2 }];
  });
  if (logs.length === 0) {
    const values = figures.filter(({ value }) => value > 0).map(({ value }) => Math.log(value));
    const middle = mean(values);
    return middle === null ? null : { value: Math.exp(middle), low: null, high: null };
  }
  const weights = total(logs.map(({ weight }) => weight));
  const value = total(logs.map(({ log, weight }) => (log * weight) / weights));
  const n = logs.length;
  const scatter = n < 2 ? 0 : Math.sqrt(total(logs.map(({ log }) => (log - value) ** 2)) / (n - 1) / n);
  const t = n < 2 ? half95 : studentHalf(n - 1);
  const half = Math.max(half95 / Math.sqrt(weights), t * scatter);
  return { value: Math.exp(value), low: Math.exp(value - half), high: Math.exp(value + half) };
};

const point = (figures: readonly DatedFigure[]): readonly GrowthPoint[] => {
  const taken = pooled(figures.map(({ figure }) => figure));
  const [first, last] = [figures[0], figures.at(-1)];
  return taken === null || first === undefined || last === undefined
    ? []
    : [
        {
          ...taken,
          from: first.day,
          to: last.day,
          takes: figures.length,
          rehearsals: new Set(figures.map(({ rehearsal }) => rehearsal)).size,
        },
      ];
};

/**
 * At most twelve points, however many years: the six newest rehearsals each by itself, all earlier ones in six stretches of as many rehearsals
 * each. `figures`: oldest first, takes of a rehearsal one after the other.
 */
export const growthPoints = (figures: readonly DatedFigure[]): readonly GrowthPoint[] => {
  const rehearsals: DatedFigure[][] = [];
  for (const figure of figures) {
    const last = rehearsals.at(-1);
    if (last?.[0]?.rehearsal === figure.rehearsal) last.push(figure);
    else rehearsals.push([figure]);
  }
  const early = Math.max(0, rehearsals.length - apart);
  const count = Math.min(stretches, early);
  const edges = Array.from({ length: count + 1 }, (_, i) => Math.round((i * early) / Math.max(1, count)));
  return [
    ...edges.slice(1).flatMap((edge, i) => point(rehearsals.slice(edges[i] ?? 0, edge).flat())),
    ...rehearsals.slice(early).flatMap((one) => point(one)),
  ];
};

/** "closer": the figure became smaller, and that is sure; "wider": larger; "untold": within the uncertainty. */
export type GrowthTold = 'closer' | 'wider' | 'untold';

export interface Growth {
  readonly told: GrowthTold;
  /** The last point over the first: 0.8 is a fifth less. */
  readonly ratio: TakeFigure;
}

/** From the first point to the last; null for fewer than two. */
export const growthOf = (points: readonly TakeFigure[]): Growth | null => {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 2) return null;
  const [a, b] = [errorOf(first), errorOf(last)];
  const log = Math.log(last.value / first.value);
  if (a === null || b === null || !Number.isFinite(log))
    return { told: 'untold', ratio: { value: last.value / first.value, low: null, high: null } };
  const half = half95 * Math.hypot(a, b);
  const [low, high] = [log - half, log + half];
  return {
    told: high < 0 ? 'closer' : low > 0 ? 'wider' : 'untold',
    ratio: { value: Math.exp(log), low: Math.exp(low), high: Math.exp(high) },
  };
};
