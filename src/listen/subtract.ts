/**
 * Takes the click out of a recording: the click as it was sent, behind the filter that its way became (clickFilter.ts), is subtracted. What
 * the filter leaves of a stretch is music, and the more of it there is at a frequency the less that stretch counts there when the filter is found the
 * next time, so that clicks which sound alone, as a count-in's do, say most. In between, the clock is turned so that the clicks lie
 * where they are heard: a microsecond beside its place leaves 1.3 % (-38 dB) of a click of 2 kHz.
 */
import { besideLine, besideOf, type Line } from './clickClock.ts';
import {
  clickFilter,
  filtered,
  leftOf,
  nothing,
  powerAround,
  samplesOf,
  size,
  type Spectrum,
} from './clickFilter.ts';
import { clickRest, type ClickRest } from './clickRest.ts';
import { clickStretches, levelOf, onGrid, type Lie, type Placed, type Stretches } from './clickStretches.ts';
import { listeningRate, type ClickSound, type Clock, type ExpectedClick } from './model.ts';

/** Fewer clicks than this tell nothing. Our choice. */
const fewest = 4;
/** Samples a second of what may have played the clicks: a file or a device at one of the usual rates; null: something else. */
const grids = [48_000, 44_100, null] as const;
/** Clicks by which the clock is turned, at most. */
const many = 300;
/** How often it is, the last times on the grid that was found. */
const turns = 4;

export interface WithoutClicks {
  readonly signal: Float32Array;
  /** By how much the stretches around the clicks became softer, in dB. */
  readonly softer: number;
  /** What of the clicks may be left; null where nothing was taken out. */
  readonly rest: ClickRest | null;
}

/** The last of a few filters, each found with what the one before tells of the music. */
const filterOf = ({ each }: Stretches, some: readonly Placed[], lie: Lie): Spectrum =>
  clickFilter(each(some, lie), clickFilter(each(some, lie), nothing).filter).filter;

/** How the clicks lie, with the level of those that words were said over: that which makes what is left least, as noise of the power found around each frequency (likelihood). */
const withLevel = (stretches: Stretches, clicks: readonly ExpectedClick[], lie: Lie): Lie => {
  const spoken = clicks.filter(({ underWord }) => underWord !== undefined);
  const plain = stretches.placed(
    clicks.filter(({ underWord }) => underWord === undefined),
    lie,
  );
  if (plain.length < fewest || spoken.length === 0) return lie;
  const filter = filterOf(stretches, plain, lie);
  const all = stretches.placed(spoken, lie);
  const leftAt = (level: number): number => {
    let sum = 0;
    for (const stretch of stretches.each(all, { ...lie, level }))
      for (const power of powerAround(leftOf(stretch, filter))) sum += Math.log(power);
    return sum;
  };
  const trials = [1, spoken[0]?.underWord ?? 1, 0].map((level) => ({ level, left: leftAt(level) }));
  return { ...lie, level: trials.reduce((best, trial) => (trial.left < best.left ? trial : best)).level };
};

/** The lie turned to where the clicks are heard, the grid being one of those given, and by how many seconds a click may lie beside still. */
const turned = (
  { placed, stretch }: Stretches,
  clicks: readonly ExpectedClick[],
  lie: Lie,
  filter: Spectrum,
  choice: readonly (number | null)[],
  slopeError: number,
): { readonly lie: Lie; readonly beside: number } => {
  const some = placed(clicks, lie);
  const places = some.map((one) => besideOf(stretch(one, lie), filter));
  const times = some.map(({ click }) => click.time);
  const lineOn = (grid: number | null): Line => {
    const apart = times.map((time) => (onGrid(time, grid) - onGrid(time, lie.grid)) * listeningRate);
    const moved = places.map(({ by, variance }, i) => ({ by: by - (apart[i] ?? 0), variance }));
    return besideLine(times, moved, slopeError);
  };
  const lines = choice.map((grid) => ({ grid, line: lineOn(grid) }));
  const { grid, line } = lines.reduce((best, next) => (next.line.scatter < best.line.scatter ? next : best));
  const clock = {
    offset: lie.clock.offset + line.at / listeningRate,
    ppm: lie.clock.ppm + (1e6 * line.slope) / listeningRate,
  };
  return { lie: { ...lie, clock, grid }, beside: line.error / listeningRate };
};

/**
 * The recording without the click. The click is taken out of the array that is handed in, as an hour is not to be held twice. `clicks`: by
 * time. With fewer than four nothing can be learnt and nothing is done.
 */
export const withoutClicks = (
  signal: Float32Array,
  clicks: readonly ExpectedClick[],
  sound: ClickSound,
  clock: Pick<Clock, 'offset' | 'ppm'> & Partial<Pick<Clock, 'ppmError'>>,
): WithoutClicks => {
  const stretches = clickStretches(signal, sound);
  const { each, heardFrom, placed, sent, shapes } = stretches;
  let lie = withLevel(stretches, clicks, { clock, grid: null, level: 1 });
  const all = placed(clicks, lie).map(({ click }) => click);
  if (all.length < fewest) return { signal, softer: 0, rest: null };
  const some = all.filter((_, i) => i % Math.ceil(all.length / many) === 0);
  let filter = clickFilter(each(placed(some, lie), lie), nothing).filter;
  let beside = 0;
  for (let turn = 0; turn < turns; turn += 1) {
    filter = clickFilter(each(placed(some, lie), lie), filter).filter;
    const choice = turn === 1 ? grids : [lie.grid];
    ({ lie, beside } = turned(stretches, some, lie, filter, choice, (clock.ppmError ?? 0) * 1e-6));
  }
  const there = placed(all, lie);
  const found = clickFilter(each(there, lie), filter);

  let [before, after] = [0, 0];
  // What the last stretch was before the click was taken out of it: the next one may overlap it.
  let last: { readonly start: number; readonly heard: Float32Array } = {
    start: -size,
    heard: new Float32Array(0),
  };
  for (const one of there) {
    const { start } = one;
    const click = samplesOf(filtered(sent(one, lie), found.filter));
    const heard = heardFrom(start);
    heard.set(last.heard.subarray(Math.min(last.heard.length, start - last.start)));
    last = { start, heard };
    for (let n = Math.max(0, -start); n < size; n += 1) {
      const value = heard[n] ?? 0;
      signal[start + n] = (signal[start + n] ?? 0) - (click[n] ?? 0);
      before += value * value;
      after += (value - (click[n] ?? 0)) ** 2;
    }
  }
  const softer = 10 * Math.log10(Math.max(1e-12, before) / Math.max(1e-12, after));
  const out = there.map(({ click, start }) => ({ start, first: click.first, level: levelOf(click, lie) }));
  return { signal, softer, rest: clickRest(out, shapes, found, beside) };
};
