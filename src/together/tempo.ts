/** The tempo of each bar, and how each bar line is reached. */
import { studentInterval } from './estimates.ts';
import { mapped, type Estimate } from './interval.ts';
import { line } from './leastSquares.ts';
import type { Onset, Place } from './model.ts';
import { mean, total } from './moments.ts';

export interface BarTempo {
  /** Bar, in order from 0. */
  readonly bar: number;
  readonly barName: string;
  /** Onsets that tell it, those on the next bar line among them. */
  readonly n: number;
  /** Beats a minute. */
  readonly perMinute: Estimate;
}

export interface BarLine {
  readonly bar: number;
  readonly barName: string;
  /** Seconds; above 0 later than expected. */
  readonly late: Estimate;
  /** Onsets of the bar before that lead there; against a click those on the bar line. */
  readonly n: number;
}

interface Point {
  readonly beats: number;
  readonly time: number;
  readonly bar: number;
  readonly onBarLine: boolean;
}

const pointsOf = (lines: readonly (readonly Onset[])[], places: readonly Place[]): readonly Point[] =>
  lines.flatMap((onsets) =>
    onsets.flatMap((time, i) => {
      const { beats = null, bar = null, onBarLine = false } = places[i] ?? {};
      return time === null || beats === null || bar === null ? [] : [{ beats, time, bar, onBarLine }];
    }),
  );

const names = (places: readonly Place[]): ReadonlyMap<number, string> =>
  new Map(places.flatMap(({ bar, barName }) => (bar === null ? [] : [[bar, barName]])));

/** Points of each bar; those on the bar line that ends it belong to it too. */
const byBar = (points: readonly Point[]): ReadonlyMap<number, readonly Point[]> => {
  const bars = new Map<number, Point[]>();
  const put = (bar: number, point: Point): void => {
    const there = bars.get(bar);
    if (there === undefined) bars.set(bar, [point]);
    else there.push(point);
  };
  for (const point of points) {
    put(point.bar, point);
    if (point.onBarLine) put(point.bar - 1, point);
  }
  return bars;
};

const spreadOf = (values: readonly number[]): number => {
  const middle = mean(values) ?? 0;
  return total(values.map((value) => (value - middle) ** 2));
};

/**
 * Tempo by bar: the straight line of onsets over beats, in each bar from its bar line to the next, one player or several
 * together. All bars share one residual spread, so that a bar with two onsets has an interval too (pooled variance of
 * parallel regressions; Snedecor & Cochran, Statistical Methods, ch. 18). It holds where onsets scatter around the bar's
 * own line. Bars with fewer than two different places, or where time does not go on, are left out.
 */
export const tempoByBar = (
  lines: readonly (readonly Onset[])[],
  places: readonly Place[],
): readonly BarTempo[] => {
  const named = names(places);
  const fits = [...byBar(pointsOf(lines, places))].flatMap(([bar, points]) => {
    const beats = points.map((point) => point.beats);
    const fit = line(
      beats,
      points.map(({ time }) => time),
    );
    return fit !== null && fit.slope.value > 0 && named.has(bar)
      ? [{ bar, fit, n: points.length, spread: spreadOf(beats) }]
      : [];
  });
  const df = total(fits.map(({ fit }) => fit.df));
  const squares = total(fits.map(({ fit }) => fit.df * fit.residualSd ** 2));
  return fits
    .sort((a, b) => a.bar - b.bar)
    .map(({ bar, fit, n, spread }) => {
      const slope = fit.slope.value;
      const error = df > 0 ? Math.sqrt(squares / df / spread) : 0;
      const limits = error > 0 ? studentInterval(slope, error, df) : null;
      // Seconds a beat turn over as beats a minute; where the slope may be zero the tempo has no upper limit to tell.
      const turned =
        limits === null || limits.low <= 0
          ? null
          : mapped({ low: -limits.high, high: -limits.low }, (x) => -60 / x);
      return { bar, barName: named.get(bar) ?? '', n, perMinute: { value: 60 / slope, ci95: turned } };
    });
};

/**
 * Arrival at each bar line against the running tempo: the onset there (the mean of those who play) less what the straight
 * line through the bar before, without that bar line, goes on to. Interval: what one further onset with the usual scatter
 * may do (prediction interval, Draper & Smith 1.4, residual spread pooled over bars). Needs three different places in the
 * bar before; bar lines without are left out.
 */
export const arrivals = (
  lines: readonly (readonly Onset[])[],
  places: readonly Place[],
): readonly BarLine[] => {
  const points = pointsOf(lines, places);
  const named = names(places);
  const fits = [...new Set(points.map(({ bar }) => bar))].flatMap((bar) => {
    const before = points.filter((point) => point.bar === bar - 1);
    const there = points.filter((point) => point.bar === bar && point.onBarLine);
    const beats = before.map((point) => point.beats);
    if (new Set(beats).size < 3 || there.length === 0) return [];
    const fit = line(
      beats,
      before.map(({ time }) => time),
    );
    const where = there[0]?.beats ?? 0;
    if (fit === null) return [];
    const late = (mean(there.map(({ time }) => time)) ?? 0) - fit.predict(where).value;
    const reach = 1 / there.length + 1 / beats.length + (where - (mean(beats) ?? 0)) ** 2 / spreadOf(beats);
    return [{ bar, late, reach, fit, n: before.length }];
  });
  const df = total(fits.map(({ fit }) => fit.df));
  const variance = df > 0 ? total(fits.map(({ fit }) => fit.df * fit.residualSd ** 2)) / df : 0;
  return fits
    .sort((a, b) => a.bar - b.bar)
    .map(({ bar, late, reach, n }) => ({
      bar,
      barName: named.get(bar) ?? '',
      n,
      late: {
        value: late,
        ci95: variance > 0 ? studentInterval(late, Math.sqrt(variance * reach), df) : null,
      },
    }));
};

/**
 * Arrival at each bar line against a click: the mean onset of those who play less the click. `noiseVariance` of one onset in
 * square seconds, one for all or one for each place, gives the interval; without it there is none, for one arrival by itself
 * does not tell how sure it is.
 */
export const arrivalsAtClick = (
  lines: readonly (readonly Onset[])[],
  click: readonly Onset[],
  places: readonly Place[],
  noiseVariance: number | readonly number[] | null = null,
): readonly BarLine[] =>
  places.flatMap(({ bar, barName, onBarLine }, i) => {
    const beat = click[i] ?? null;
    const there = lines.flatMap((onsets) => onsets[i] ?? []);
    const middle = mean(there);
    if (bar === null || !onBarLine || beat === null || middle === null) return [];
    const value = middle - beat;
    const noise =
      noiseVariance === null || typeof noiseVariance === 'number' ? noiseVariance : noiseVariance[i];
    const error = Math.sqrt((noise ?? 0) / there.length);
    const late = { value, ci95: error > 0 ? studentInterval(value, error, 1e6) : null };
    return [{ bar, barName, late, n: there.length }];
  });
