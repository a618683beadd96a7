/** Whether the tempo rises or falls in the long run, in percent a minute. */
import { chainedFit, type ChainedFit } from './chained.ts';
import { mappedEstimate, type Estimate } from './interval.ts';
import { studentInterval } from './estimates.ts';
import type { Step } from './model.ts';
import { mean, total } from './moments.ts';

export interface Pace {
  /** Beats a minute in the middle of the notes. */
  readonly perMinute: Estimate;
  /** What the tempo gains in a minute, in percent; below 0 it falls. */
  readonly driftPercent: Estimate;
  /** Intervals used. */
  readonly n: number;
}

/** Intervals below which no drift is told. */
export const fewestForDrift = 4;

/** Less is likelier: -2 log restricted likelihood, but for constants; two columns. */
const unlikelihood = (fit: ChainedFit | null): number => {
  if (fit === null || !(fit.variance > 0)) return fit === null ? Infinity : -Infinity;
  const [[a = 0, b = 0] = [], [c = 0, d = 0] = []] = fit.inverse;
  return fit.df * Math.log(fit.variance) + fit.logDeterminant - Math.log(Math.max(1e-300, a * d - b * c));
};

const percentAMinute = (rate: number): number => 100 * Math.expm1(60 * rate);

/** Rounds of fitting; the second already changes little. */
const rounds = 3;

/**
 * Shares of the clock in the variance of a mean interval that are tried, closer together near none: there a small share
 * changes most.
 */
const clockShares = Array.from({ length: 20 }, (_, i) => ((i + 0.5) / 20) ** 3);

interface Weighed {
  readonly fit: ChainedFit;
  readonly weight: number;
}

/** Fits with their restricted likelihoods as weights, which sum to 1; the exact fit alone where there is one. */
const weighed = (fits: readonly (ChainedFit | null)[]): readonly Weighed[] => {
  const there = fits.flatMap((fit) => (fit === null ? [] : [{ fit, height: unlikelihood(fit) }]));
  const least = there.reduce((low, { height }) => Math.min(low, height), Infinity);
  const exact = there.find(({ height }) => height === -Infinity);
  if (exact !== undefined) return [{ fit: exact.fit, weight: 1 }];
  const weights = there.map(({ height }) => Math.exp((least - height) / 2));
  const all = total(weights);
  return there.map(({ fit }, i) => ({ fit, weight: (weights[i] ?? 0) / all }));
};

/** The k-th coefficient over all weighed fits: the mean, and its variance within and between them. */
const mixed = (fits: readonly Weighed[], k: number): Estimate => {
  const value = total(fits.map(({ fit, weight }) => weight * (fit.coefficients[k] ?? 0)));
  const squared = total(
    fits.map(
      ({ fit, weight }) =>
        weight * (fit.variance * (fit.inverse[k]?.[k] ?? 0) + ((fit.coefficients[k] ?? 0) - value) ** 2),
    ),
  );
  const df = (fits[0]?.fit.df ?? 0) / 4;
  return { value, ci95: squared > 0 && df > 0 ? studentInterval(value, Math.sqrt(squared), df) : null };
};

/**
 * Tempo and drift of a line of notes, of whatever lengths. A tempo that gains a constant share a second, v' = r v, rises
 * evenly from beat to beat: dv/db = r. So seconds = beats / (level + r x position) + noise, fitted by Gauss-Newton. A late
 * note lengthens one interval and shortens the next, and long notes vary more than short ones; both are in the covariance of
 * the fit, after Wing & Kristofferson (clock variance in proportion to length, motor variance by note). How much is clock
 * and how much motor is not known: fits for all shares are weighed by their restricted likelihood (Patterson & Thompson
 * 1971, Biometrika 58:545), so that the interval knows of that too. Student's t with a
 * quarter of the usual degrees of freedom, found by simulation (see the test of coverage); it holds for playing that is a straight
 * drift and such noise, and is too short where the tempo also swings with the phrase. Null for fewer than four
 * intervals or where they all stand at one place.
 */
export const drift = (steps: readonly Step[]): Pace | null => {
  const n = steps.length;
  if (n < fewestForDrift) return null;
  const centre = mean(steps.map(({ middle }) => middle)) ?? 0;
  const positions = steps.map(({ middle }) => middle - centre);
  const columns = [steps.map(() => 1), positions];
  const allBeats = total(steps.map(({ beats }) => beats));
  const length = allBeats / n;
  const speed = allBeats / total(steps.map(({ seconds }) => seconds));
  let fits: readonly Weighed[] = [];
  let line: readonly [number, number] = [speed, 0];
  for (let round = 0; round < rounds; round++) {
    const [level, rise] = line;
    // A line that would cross zero within the notes is no tempo; it is held at a tenth of the mean there.
    const speeds = positions.map((position) => Math.max(speed / 10, level + rise * position));
    /** Beats a second that a second more takes away. */
    const turns = steps.map(({ beats }, row) => (speeds[row] ?? 1) ** 2 / beats);
    const targets = steps.map(({ beats, seconds }, row) => {
      const v = speeds[row] ?? 1;
      return v - (turns[row] ?? 1) * (seconds - beats / v);
    });
    const fitAt = (clock: number): ChainedFit | null => {
      const motor = 1 - clock;
      return chainedFit(columns, targets, {
        diagonal: steps.map(
          ({ beats }, row) => (clock * (beats / length) + 2 * motor) * (turns[row] ?? 1) ** 2,
        ),
        neighbours: steps
          .slice(1)
          .map(({ joined }, row) => (joined ? -motor * (turns[row + 1] ?? 1) * (turns[row] ?? 1) : 0)),
      });
    };
    fits = weighed(clockShares.map(fitAt));
    if (fits.length === 0) return null;
    line = [mixed(fits, 0).value, mixed(fits, 1).value];
  }
  return {
    n,
    perMinute: mappedEstimate(mixed(fits, 0), (x) => 60 * x),
    driftPercent: mappedEstimate(mixed(fits, 1), percentAMinute),
  };
};
