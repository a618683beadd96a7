/** Whether the tempo rises or falls in the long run, in percent a minute. */
import { chainedFit, type ChainedFit } from './chained.ts';
import { mappedEstimate, type Estimate } from './interval.ts';
import { lowest } from './lowest.ts';
import { coefficient, type Fit } from './leastSquares.ts';
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

/** Least and largest share of the motor in the variance of a mean interval's ends. */
const shares = [0, 1 - 1e-6] as const;

/**
 * Tempo and drift of a line of notes, of whatever lengths. A tempo that gains a constant share a second, v' = r v, rises
 * evenly from beat to beat: dv/db = r. So seconds = beats / (level + r x position) + noise, fitted by Gauss-Newton. A late
 * note lengthens one interval and shortens the next, and long notes vary more than short ones; both are in the
 * covariance of the fit, after Wing & Kristofferson (clock variance in proportion to length, motor variance by note); how
 * much is clock and how much is motor is the likeliest by restricted maximum likelihood (Patterson & Thompson 1971,
 * Biometrika 58:545). Intervals by Student's t with a third of
 * the usual degrees of freedom, for the share of the motor is estimated too (by simulation: see the test); they hold for playing that is a straight drift and such noise, and are
 * too short where the tempo also swings with the phrase. Null for fewer than four intervals or where they all stand at one
 * place.
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
  let fit: Fit | null = null;
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
    const fitAt = (motor: number): ChainedFit | null =>
      chainedFit(columns, targets, {
        diagonal: steps.map(
          ({ beats }, row) => ((1 - motor) * (beats / length) + 2 * motor) * (turns[row] ?? 1) ** 2,
        ),
        neighbours: steps
          .slice(1)
          .map(({ joined }, row) => (joined ? -motor * (turns[row + 1] ?? 1) * (turns[row] ?? 1) : 0)),
      });
    fit = fitAt(lowest((motor) => unlikelihood(fitAt(motor)), ...shares));
    const [nextLevel, nextRise] = fit?.coefficients ?? [];
    if (fit === null || nextLevel === undefined || nextRise === undefined) return null;
    line = [nextLevel, nextRise];
  }
  if (fit === null) return null;
  const careful = { ...fit, df: (n - 2) / 3 };
  return {
    n,
    perMinute: mappedEstimate(coefficient(careful, 0), (x) => 60 * x),
    driftPercent: mappedEstimate(coefficient(careful, 1), percentAMinute),
  };
};
