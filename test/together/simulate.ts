/** Playing made from known parameters, to see whether they are found again. All randomness is seeded. */
import { seeded, type Random } from '../../src/units/index.ts';
import type { Place, Step } from '../../src/together/model.ts';

/** Standard normal numbers (Box & Muller 1958). */
export const normals = (seed: number): Random => {
  const random = seeded(seed);
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
};

export const times = <T>(n: number, make: (i: number) => T): T[] =>
  Array.from({ length: n }, (_, i) => make(i));

/** AR(1) of standard deviation 1 around 0. */
export const autoregressive = (n: number, rho: number, normal: Random): number[] => {
  const scale = Math.sqrt(1 - rho * rho);
  let value = normal();
  return times(n, () => {
    const now = value;
    value = rho * value + scale * normal();
    return now;
  });
};

/**
 * Onsets by Wing & Kristofferson 1973: a clock (SD `clock` per beat) and a motor delay at each note (SD `motor`), in
 * seconds, at given positions in beats; tempo `pace` in seconds a beat, which falls by the share `rate` a second.
 */
export const twoLevel = (
  positions: readonly number[],
  { pace, clock, motor, rate = 0 }: { pace: number; clock: number; motor: number; rate?: number },
  normal: Random,
): number[] => {
  let inner = 0;
  let before = positions[0] ?? 0;
  return positions.map((position) => {
    const length = position - before;
    before = position;
    // The tempo is 1 / pace x exp(rate t): seconds that `length` beats last from the time reached.
    const seconds =
      rate === 0 ? length * pace : Math.log1p(rate * pace * length * Math.exp(-rate * inner)) / rate;
    inner += seconds + clock * Math.sqrt(length) * normal();
    return inner + motor * normal();
  });
};

export interface EnsembleOptions {
  readonly notes: number;
  readonly pace: number;
  readonly clock: number;
  readonly motor: number;
  /** gains[i][j]: what player i corrects towards player j. */
  readonly gains: readonly (readonly number[])[];
}

/** Onsets of an ensemble by the linear model (Wing et al. 2014), one column for each player, after a run-in of 50 notes. */
export const ensemble = (
  { notes, pace, clock, motor, gains }: EnsembleOptions,
  normal: Random,
): number[][] => {
  const players = gains.length;
  let heard = times(players, () => 0);
  let delay = times(players, () => motor * normal());
  const columns: number[][] = times(players, () => []);
  for (let note = 0; note < notes + 50; note++) {
    const next = times(players, () => motor * normal());
    const now = heard;
    heard = now.map((own, i) => {
      const corrected = now.reduce((sum, other, j) => sum + (gains[i]?.[j] ?? 0) * (own - other), 0);
      return own + pace + clock * normal() + (next[i] ?? 0) - (delay[i] ?? 0) - corrected;
    });
    delay = next;
    if (note >= 50) for (const [i, time] of heard.entries()) columns[i]?.push(time);
  }
  return columns;
};

/** Places a beat apart, in bars of four. */
export const evenPlaces = (n: number): Place[] =>
  times(n, (i) => ({
    beats: i,
    bar: Math.floor(i / 4),
    barName: String(Math.floor(i / 4) + 1),
    onBarLine: i % 4 === 0,
  }));

/** The intervals of onsets a beat apart. */
export const evenStepsOf = (onsets: readonly number[]): Step[] =>
  onsets.slice(1).map((time, i) => ({
    place: i,
    middle: i + 0.5,
    beats: 1,
    seconds: time - (onsets[i] ?? 0),
    start: onsets[i] ?? 0,
    joined: i > 0,
  }));

/** Of how many trials the interval holds the truth, in percent, with the mean of the values. */
export const coverage = (
  trials: number,
  truth: number,
  trial: (
    i: number,
  ) => { readonly value: number; readonly ci95: { low: number; high: number } | null } | null,
): { readonly percent: number; readonly mean: number; readonly missing: number } => {
  let [held, sum, missing] = [0, 0, 0];
  for (let i = 0; i < trials; i++) {
    const seen = trial(i);
    if (seen?.ci95 === undefined || seen.ci95 === null) {
      missing += 1;
      continue;
    }
    sum += seen.value;
    if (seen.ci95.low <= truth && truth <= seen.ci95.high) held += 1;
  }
  const made = trials - missing;
  return { percent: (100 * held) / made, mean: sum / made, missing };
};
