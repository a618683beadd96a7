/**
 * Figures with the uncertainty that belongs to them. All statistics here work on plain numbers: what was measured is a
 * double, not an exact fraction, and differences, means and residuals of times are seconds again, so that a brand on
 * each would only put a cast into every line. The unit stands in the name or in the docstring: seconds unless said.
 */

/** How sure every interval of this folder is: 95 %. */
export const confidence = 0.95;

/** An interval that holds the true value with the probability `confidence`, in the unit of its value. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** A value and its 95 % interval; null where there are too few notes, or none that differ, for an interval. */
export interface Estimate {
  readonly value: number;
  readonly ci95: Interval | null;
}

/** value ± half. Null where half is no finite number. */
export const around = (value: number, half: number): Interval | null =>
  Number.isFinite(value) && Number.isFinite(half) ? { low: value - half, high: value + half } : null;

/** The interval under a rising function, such as a change of unit. */
export const mapped = (interval: Interval | null, rising: (x: number) => number): Interval | null =>
  interval === null ? null : { low: rising(interval.low), high: rising(interval.high) };

/** A value and its interval under a rising function. */
export const mappedEstimate = ({ value, ci95 }: Estimate, rising: (x: number) => number): Estimate => ({
  value: rising(value),
  ci95: mapped(ci95, rising),
});
