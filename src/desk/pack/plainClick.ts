/** How to set a plain click, one that only ticks evenly, so that it does what the drill does; worked out from the drill's own clicks. */
import type { WorkedDrill } from '../../drill/workOut.ts';
import { F, type Fraction } from '../../units/index.ts';

/**
 * Numbers on the usual scale of a mechanical click, 40 to 208: by 2 to 60, by 3 to 72, by 4 to 120, by 6 to 144, by 8 to 208. Common practice
 * since the nineteenth century, no source.
 */
const marks: readonly number[] = [
  [40, 60, 2],
  [60, 72, 3],
  [72, 120, 4],
  [120, 144, 6],
  [144, 208, 8],
]
  .flatMap(([from = 0, to = 0, by = 1]) => Array.from({ length: (to - from) / by }, (_, i) => from + i * by))
  .concat(208);

export type PlainClick =
  /** There is none: no click at all, or one that does not tick evenly. */
  | { readonly kind: 'none' }
  | { readonly kind: 'uneven' }
  | {
      readonly kind: 'even';
      /** Ticks a minute, rounded to hundredths. */
      readonly perMinute: number;
      /** Length from one tick that is set to the next, as a fraction of a whole note. */
      readonly unit: string;
      /** What to set, and how many of its ticks make one click of the drill: 1, or more where the click is slower than the scale. */
      readonly set: number;
      readonly each: number;
      /** The nearest number of the scale, where `set` is none of its numbers; else null. */
      readonly mark: number | null;
      /** Where the first click falls: printed bar and beat. */
      readonly bar: string;
      readonly beat: string;
      /** Beats of a bar on which it falls, as they occur in the first bars; from 1. */
      readonly beats: readonly string[];
      /** Tempo steps after the first, for which it is set anew. */
      readonly steps: number;
    };

/** Slower than this a plain click cannot be set. */
const slowest = 40;

const rounded = (value: Fraction): number => Math.round(100 * F.toNumber(value)) / 100;

export const plainClick = ({ timeline, drill, grids }: WorkedDrill): PlainClick => {
  const clicks = timeline.clicks.filter(({ kind, rep }) => kind === 'click' && rep === 1);
  const [first, second] = clicks;
  if (first === undefined || second === undefined) return { kind: 'none' };
  const gap = F.sub(second.time, first.time);
  const even = clicks.every((click, i) => {
    const before = clicks[i - 1];
    return before === undefined || F.equal(F.sub(click.time, before.time), gap);
  });
  if (!even) return { kind: 'uneven' };
  const perMinute = F.div(F.fraction(60), gap);
  const length = F.sub(second.at, first.at);
  const beat = grids[first.barIndex ?? 0]?.tempoUnit ?? length;
  const whole = (a: Fraction, b: Fraction): boolean => F.div(a, b).d === 1n;
  // A tick is a beat, several, or an even share of one; never, say, half a bar of three.
  const fits = (count: number): boolean => {
    const tick = F.div(length, F.fraction(count));
    return F.toNumber(perMinute) * count >= slowest && (whole(tick, beat) || whole(beat, tick));
  };
  const each = Array.from({ length: 96 }, (_, i) => i + 1).find(fits) ?? 1;
  const set = rounded(F.mul(perMinute, F.fraction(each)));
  const nearest = marks.reduce(
    (best, mark) => (Math.abs(mark - set) < Math.abs(best - set) ? mark : best),
    slowest,
  );
  return {
    kind: 'even',
    perMinute: rounded(perMinute),
    unit: F.format(F.div(length, F.fraction(each))),
    set,
    each,
    mark: marks.includes(set) ? null : nearest,
    bar: first.bar ?? '',
    beat: first.beat,
    beats: [...new Set(clicks.slice(0, 16).map(({ beat }) => beat))].sort(
      (a, b) => Number.parseFloat(a) - Number.parseFloat(b) || (a < b ? -1 : 1),
    ),
    steps: Math.max(0, drill.tempo.length - 1),
  };
};
