/** How far apart two players are where both play: the first's onset less the second's. */
import { meanEstimate, meanSizeEstimate, sdEstimate, sdWithoutNoise, shareEstimate } from './estimates.ts';
import type { Estimate } from './interval.ts';
import type { Onset } from './model.ts';
import { spread } from './serial.ts';

export interface Asynchrony {
  /** Places where both play. */
  readonly n: number;
  /** Seconds; above 0 the first comes later. Null where they share no note. */
  readonly mean: Estimate | null;
  /** Sample standard deviation, seconds. Null for fewer than two notes. */
  readonly sd: Estimate | null;
  /** Seconds. */
  readonly meanSize: Estimate | null;
  /** Standard deviation without the measuring noise, seconds. Null where no noise is told. */
  readonly sdWithoutNoise: Estimate | null;
  /** Share of the notes on which the first is ahead; ties count half. */
  readonly firstAhead: Estimate | null;
  /** Correlation of one asynchrony with the next; null for fewer than two notes. */
  readonly lag1: number | null;
  /** How many independent notes would tell as much about the mean. */
  readonly effective: number | null;
}

/** Asynchronies in seconds, first less second, in the order of the music; places where one is silent are passed over. */
export const asynchronies = (first: readonly Onset[], second: readonly Onset[]): readonly number[] =>
  first.flatMap((a, i) => {
    const b = second[i] ?? null;
    return a === null || b === null ? [] : [a - b];
  });

/**
 * Asynchrony of a pair. Formulas and intervals: estimates.ts. `noiseVariance`: mean variance of the measuring error of one
 * asynchrony (both players' together) in square seconds, null where it is not known.
 */
export const asynchrony = (
  first: readonly Onset[],
  second: readonly Onset[],
  noiseVariance: number | null = null,
): Asynchrony => {
  const values = asynchronies(first, second);
  const seen = spread(values);
  const ahead = values.reduce((sum, value) => sum + (value < 0 ? 1 : value === 0 ? 0.5 : 0), 0);
  return {
    n: values.length,
    mean: meanEstimate(values),
    sd: sdEstimate(values),
    meanSize: meanSizeEstimate(values),
    sdWithoutNoise: noiseVariance === null ? null : sdWithoutNoise(values, noiseVariance),
    firstAhead: shareEstimate(ahead, values.length, seen?.effective),
    lag1: seen?.serial.lag1 ?? null,
    effective: seen?.effective ?? null,
  };
};
