/** By how much clicks lie beside the places at which a clock puts them, from what a filter leaves of them, and the line through that. */
import { bins, filtered, leftOf, powerAround, type Spectrum, type Stretch } from './clickFilter.ts';
import { listeningRate } from './model.ts';

/** A click's place against the one it was given, in samples. */
export interface Beside {
  readonly by: number;
  /** Its variance. */
  readonly variance: number;
}

/**
 * How much later than sent a click is heard: one step of weighted least squares (Gauss and Newton) along the delay, each frequency by the power of
 * what is left around it. Its variance is told from what is left (White 1980).
 */
export const besideOf = (stretch: Stretch, filter: Spectrum): Beside => {
  const click = filtered(stretch.sent, filter);
  const left = leftOf(stretch, filter);
  const music = powerAround(left);
  let [slope, square, noise] = [0, 1e-30, 0];
  for (let k = 1; k < bins; k += 1) {
    const turn = (Math.PI * k) / (bins - 1);
    const weight = 1 / (music[k] ?? 1);
    // The click a little later: d/dt of e^(-i turn t).
    const [u, v] = [turn * (click.im[k] ?? 0), -turn * (click.re[k] ?? 0)];
    const [x, y] = [left.re[k] ?? 0, left.im[k] ?? 0];
    const power = weight * (u * u + v * v);
    slope += weight * (u * x + v * y);
    square += power;
    noise += 0.5 * power * weight * (x * x + y * y);
  }
  return { by: slope / square, variance: noise / square ** 2 };
};

export interface Line {
  /** Samples at the time 0, and samples more for each second. */
  readonly at: number;
  readonly slope: number;
  /** The most by which, one standard deviation, its slope may put one of the clicks wrong, in samples; what all lie beside is the filter's. */
  readonly error: number;
  /** Mean square of how far the places lie from it, against their variances. */
  readonly scatter: number;
}

/** Samples: no click is known better (a tenth of a microsecond). Our choice. */
const least = 0.002;

/**
 * The line through the clicks' places, `times` in seconds, each by its variance; `slopeError`: one standard deviation by which it slopes at all.
 * Where the places lie further from the line than their variances say, its error is as much larger (Birge 1932, Physical Review 40:207).
 */
export const besideLine = (times: readonly number[], places: readonly Beside[], slopeError: number): Line => {
  const weights = places.map(({ variance }) => 1 / (variance + least ** 2));
  const sum = (value: (i: number) => number): number =>
    weights.reduce((total, weight, i) => total + weight * value(i), 0);
  const total = Math.max(
    1e-30,
    sum(() => 1),
  );
  const [time, by] = [sum((i) => times[i] ?? 0) / total, sum((i) => places[i]?.by ?? 0) / total];
  const away = (i: number): number => (times[i] ?? 0) - time;
  const known = sum((i) => away(i) ** 2) + 1 / Math.max(1e-12, slopeError * listeningRate) ** 2;
  const slope = sum((i) => away(i) * (places[i]?.by ?? 0)) / known;
  const furthest = times.reduce((most, _, i) => Math.max(most, Math.abs(away(i))), 0);
  const scatter =
    sum((i) => ((places[i]?.by ?? 0) - by - slope * away(i)) ** 2) / Math.max(1, places.length - 2);
  const error = furthest * Math.sqrt(Math.max(1, scatter) / known);
  return { at: by - slope * time, slope, error, scatter };
};
