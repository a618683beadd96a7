/**
 * Phase correction: how much of the distance to the others a player makes good with the next note. The linear model
 * (Vorberg & Schulze 2002, J Math Psychol 46:56; for ensembles Wing, Endo, Bradbury & Vorberg 2014, J R Soc Interface
 * 11:20131125): own interval = clock interval - sum over others of gain x (own onset - other's onset) + change of motor
 * delay. A gain of 0 follows nobody; 1 makes good at once.
 */
import { chainedFit, type ChainedFit } from './chained.ts';
import { studentInterval } from './estimates.ts';
import type { Estimate } from './interval.ts';
import { leastSquares } from './leastSquares.ts';
import { lowest } from './lowest.ts';
import { evenSteps, stepsOf, type Onset, type Place, type Step } from './model.ts';
import { total } from './moments.ts';

export interface Correction {
  /** Intervals used. */
  readonly n: number;
  /** The gain towards each of the others, in their order. */
  readonly gains: readonly Estimate[];
  /** Standard deviations of the player's own clock and motor delay in seconds, with the clock's at least as large. */
  readonly clockSd: number;
  readonly motorSd: number;
}

/** Intervals for each unknown below which nothing is estimated: shorter series are too biased to be told. */
const fewestForCorrection = 15;

/**
 * The noise of the intervals is e(i) - theta e(i - 1) with motor / (clock + 2 motor) = theta / (1 + theta^2). The clock is
 * taken to vary at least as much as the hand (Jacoby & Repp 2012, Biol Cybern 106:135), so that theta lies between 0 and
 * (3 - root 5) / 2: without that bound correction and motor delay cannot be told apart in series as short as music.
 */
const largestTheta = (3 - Math.sqrt(5)) / 2;

/** A column run through 1 / (1 - theta lag), beginning anew with each chain. */
const filtered = (
  column: readonly number[],
  joined: readonly boolean[],
  theta: number,
): readonly number[] => {
  const result: number[] = [];
  for (const [i, value] of column.entries()) {
    result.push(value + (joined[i] === true ? theta * (result[i - 1] ?? 0) : 0));
  }
  return result;
};

/**
 * Gains by bounded maximum likelihood: for each theta the best gains are generalised least squares, as in the bounded method
 * of Jacoby, Tishby, Repp, Ahissar & Keller 2015 (Timing Time Percept 3:52), and theta is where they are most likely. Plain
 * regression would take motor delay, which stands on both sides, for correction. Intervals count in that theta is not known
 * (prediction-error method, L. Ljung, System Identification, 1999, ch. 9). `intervals` in seconds; `distances`: one column
 * for each other player, own onset less theirs at the note where the interval begins; `joined`: whether interval i
 * follows interval i - 1. In short series gains come out too high: docs/evidence/together.md has the figures. Measuring
 * noise of a player's own onsets counts as motor delay; of the others' it draws gains towards 0. Null for too few
 * intervals or distances that never change.
 */
export const correctionGains = (
  intervals: readonly number[],
  distances: readonly (readonly number[])[],
  joined: readonly boolean[],
): Correction | null => {
  const n = intervals.length;
  if (distances.length === 0 || n < fewestForCorrection * (distances.length + 1)) return null;
  const columns = [intervals.map(() => 1), ...distances];
  const fitAt = (theta: number): ChainedFit | null =>
    chainedFit(columns, intervals, {
      diagonal: intervals.map(() => 1 + theta * theta),
      neighbours: joined.slice(1).map((chained) => (chained ? -theta : 0)),
    });
  const theta = lowest(
    (x) => {
      const fit = fitAt(x);
      return fit === null || !(fit.variance > 0) ? Infinity : n * Math.log(fit.variance) + fit.logDeterminant;
    },
    0,
    largestTheta,
  );
  const fit = fitAt(theta);
  if (fit === null || !(fit.variance > 0)) return null;
  const { coefficients, variance } = fit;
  const residuals = intervals.map(
    (y, row) => y - total(columns.map((column, k) => (column[row] ?? 0) * (coefficients[k] ?? 0))),
  );
  const news = filtered(residuals, joined, theta);
  const before = news.map((_, i) => (joined[i] === true ? (news[i - 1] ?? 0) : 0));
  const slopes = [...columns, before].map((column) => filtered(column, joined, theta));
  const joint = leastSquares(slopes, news);
  const gains = distances.map((_, k) => {
    const value = -(coefficients[k + 1] ?? 0);
    const error = Math.sqrt(variance * (joint?.inverse[k + 1]?.[k + 1] ?? 0));
    return { value, ci95: error > 0 ? studentInterval(value, error, fit.df - 1) : null };
  });
  return {
    n,
    gains,
    clockSd: Math.sqrt(variance) * (1 - theta),
    motorSd: Math.sqrt(variance * theta),
  };
};

/**
 * The gains of a player towards others, from their onsets: evenly spaced notes of the player (of the commonest length) at
 * the beginning of which all the others play too. Null as in `correctionGains`.
 */
export const correctionOf = (
  own: readonly Onset[],
  others: readonly (readonly Onset[])[],
  places: readonly Place[],
): Correction | null => {
  const even = evenSteps(stepsOf(own, places));
  if (even === null) return null;
  const rows: { step: Step; distances: readonly number[]; index: number }[] = [];
  for (const [index, step] of even.steps.entries()) {
    const distances = others.flatMap((other) => {
      const theirs = other[step.place] ?? null;
      return theirs === null ? [] : [step.start - theirs];
    });
    if (distances.length === others.length) rows.push({ step, distances, index });
  }
  return correctionGains(
    rows.map(({ step }) => step.seconds),
    others.map((_, k) => rows.map(({ distances }) => distances[k] ?? 0)),
    rows.map(({ step, index }, i) => step.joined && rows[i - 1]?.index === index - 1),
  );
};
