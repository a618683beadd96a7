/** Bar lines as the axis of a chart: a place in a bar lies as far between its bar lines as it lies in its time. */
import type { ChartBar } from './model.ts';

/** Pixels from the left edge to the first bar line, behind the last one, and of a bar of middle length where a chart does not say. Our choice. */
export const left = 72;
const right = 44;
const usual = 84;

export interface BarAxis {
  /** Pixels of each bar's line, and of the last one's end. */
  readonly lines: readonly number[];
  /** Pixels of a place: the index of its bar and the share of the bar that has gone by. */
  readonly at: (bar: number, within: number) => number;
  readonly width: number;
}

/** Bars are as wide as they last. */
export const barAxis = (bars: readonly ChartBar[], perBar = usual): BarAxis => {
  const lengths = bars.map(({ start, end }) => Math.max(0, end - start));
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  const scale = whole > 0 ? (perBar * bars.length) / whole : 0;
  const lines = [left];
  for (const length of lengths) lines.push((lines.at(-1) ?? left) + scale * length);
  return {
    lines,
    at: (bar, within) => {
      const [from, to] = [lines[bar] ?? left, lines[bar + 1] ?? lines.at(-1) ?? left];
      return from + within * (to - from);
    },
    width: (lines.at(-1) ?? left) + right,
  };
};
