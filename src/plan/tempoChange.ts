/**
 * How the tempo of free playing goes from the beginning of a passage to its end, where nobody has marked that it should give way; and how
 * bar lines come under a sparse click.
 */
import { studentInterval } from '../together/estimates.ts';
import { mean, standardDeviation, total } from '../together/moments.ts';
import type { TakeFigure } from './take.ts';

/** A bar as it was played by all who were heard. */
export interface PlayedTempo {
  /** Repetition, from 1. */
  readonly rep: number;
  /** Tempo over what is asked for there. Above zero. */
  readonly share: number;
}

/** A late bar line makes the next one late, too: the correlation that is reckoned with. Too few bar lines tell their own. Our choice. */
const carriedOn = 0.5;

/**
 * Mean of bar lines' distances from the click, in their unit; Student's interval, wider by the root of (1 + r) / (1 - r) for values that hang
 * together with r (first-order autoregression, Box & Jenkins). Null for fewer than three.
 */
export const meanArrival = (late: readonly number[]): TakeFigure | null => {
  const [value, sd] = [mean(late), standardDeviation(late)];
  if (value === null || sd === null || late.length < 3) return null;
  const error = (sd / Math.sqrt(late.length)) * Math.sqrt((1 + carriedOn) / (1 - carriedOn));
  const limits = error > 0 ? studentInterval(value, error, late.length - 1) : null;
  return { value, low: limits?.low ?? null, high: limits?.high ?? null };
};

/** Bars of a repetition below which nothing is told: two for each third. */
const fewest = 6;

/**
 * Percent by which the tempo grows from the first third of the bars to the last, the mean of all repetitions; on logarithms, with Student's
 * interval from the scatter of the bars within their thirds. `bars`: in the order of playing, those with a marked ritardando, breath or fermata
 * left out. Null where no repetition has six bars.
 */
export const tempoChange = (bars: readonly PlayedTempo[]): TakeFigure | null => {
  const groups: (readonly number[])[] = [];
  const changes: number[] = [];
  let weight = 0;
  for (const rep of new Set(bars.map((bar) => bar.rep))) {
    const logs = bars.filter((bar) => bar.rep === rep && bar.share > 0).map(({ share }) => Math.log(share));
    const third = Math.floor(logs.length / 3);
    const [first, last] = [logs.slice(0, third), logs.slice(logs.length - third)];
    const [from, to] = [mean(first), mean(last)];
    if (logs.length < fewest || from === null || to === null) continue;
    groups.push(first, last);
    changes.push(to - from);
    weight += 2 / third;
  }
  const value = mean(changes);
  if (value === null) return null;
  const df = total(groups.map((group) => group.length - 1));
  const squares = total(groups.flatMap((group) => group.map((one) => (one - (mean(group) ?? 0)) ** 2)));
  const error = Math.sqrt((squares / df) * weight) / changes.length;
  const limits = error > 0 ? studentInterval(value, error, df) : null;
  const percent = (x: number): number => 100 * Math.expm1(x);
  return {
    value: percent(value),
    low: limits === null ? null : percent(limits.low),
    high: limits === null ? null : percent(limits.high),
  };
};
