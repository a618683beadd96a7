/** Where a recording resembles the click: a matched filter, held against what is around it. */
import { correlate } from './fft.ts';
import type { ClickSound } from './model.ts';

/** Samples of one bin of the search grid: 2 ms. */
export const bin = 44;
/** Bins on each side over which the surroundings are taken: 0.4 s. */
const around = 200;

export interface ClickLikeness {
  /** Size of the matched filter's output for each character, per sample; 1 for the click itself at its full level. */
  readonly beat: Float32Array;
  readonly first: Float32Array;
  /** The largest in each bin against the mean around it, at most `most`. */
  readonly beatBins: Float32Array;
  readonly firstBins: Float32Array;
  /** By bin, above 0 where it resembles a beat more than a first beat, below 0 the other way round; -1 to 1. */
  readonly character: Float32Array;
}

/** One click that stands out a hundredfold counts no more than a few that stand out clearly. */
const most = 8;

const matched = (signal: Float32Array, shape: Float32Array): Float32Array => {
  const energy = shape.reduce((sum, x) => sum + x * x, 0);
  const out = correlate(
    signal,
    Float64Array.from(shape, (x) => x / Math.max(energy, 1e-12)),
  );
  for (let n = 0; n < out.length; n += 1) out[n] = Math.abs(out[n] ?? 0);
  return out;
};

/** The largest value in each bin. */
const highest = (filtered: Float32Array): Float32Array => {
  const count = Math.ceil(filtered.length / bin);
  const high = new Float32Array(count);
  for (let n = 0; n < filtered.length; n += 1) {
    const b = Math.floor(n / bin);
    if ((filtered[n] ?? 0) > (high[b] ?? 0)) high[b] = filtered[n] ?? 0;
  }
  return high;
};

const againstAround = (high: Float32Array): Float32Array => {
  const count = high.length;
  const sums = new Float64Array(count + 1);
  for (let b = 0; b < count; b += 1) sums[b + 1] = (sums[b] ?? 0) + (high[b] ?? 0);
  const mean = (sums[count] ?? 0) / Math.max(1, count);
  const out = new Float32Array(count);
  for (let b = 0; b < count; b += 1) {
    const [from, to] = [Math.max(0, b - around), Math.min(count, b + around)];
    const local = ((sums[to] ?? 0) - (sums[from] ?? 0)) / (to - from);
    // In digital silence everything stands out: the floor is a hundredth of the recording's mean.
    out[b] = Math.min(most, (high[b] ?? 0) / Math.max(local, mean / 100, 1e-9));
  }
  return out;
};

/** Compares a recording with both characters of the click, at the listening rate. */
export const clickLikeness = (signal: Float32Array, sound: ClickSound): ClickLikeness => {
  const [beat, first] = [matched(signal, sound.beat), matched(signal, sound.first)];
  const [beatHigh, firstHigh] = [highest(beat), highest(first)];
  const character = beatHigh.map((own, b) => {
    const other = firstHigh[b] ?? 0;
    return (own - other) / Math.max(1e-9, own, other);
  });
  return { beat, first, beatBins: againstAround(beatHigh), firstBins: againstAround(firstHigh), character };
};
