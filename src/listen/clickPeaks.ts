/** Where a recording resembles the click: a matched filter, held against what is around it. */
import { correlation } from './fft.ts';
import type { ClickSound } from './model.ts';

/** Samples of one bin of the search grid: 2 ms. */
export const bin = 44;
/** Bins on each side over which the surroundings are taken: 0.4 s. */
const around = 200;

/** A curve with a value for each sample, of which only the pieces that are asked for are worked out. */
export interface Curve {
  readonly length: number;
  /** Values from one sample to another, the latter left out; both within the curve. */
  readonly piece: (from: number, to: number) => Float32Array;
}

export interface ClickLikeness {
  /** Size of the matched filter's output for each character, per sample; 1 for the click itself at its full level. */
  readonly beat: Curve;
  readonly first: Curve;
  /** The largest in each bin against the mean around it, at most `most`. */
  readonly beatBins: Float32Array;
  readonly firstBins: Float32Array;
  /** By bin, above 0 where it resembles a beat more than a first beat, below 0 the other way round; -1 to 1. */
  readonly character: Float32Array;
}

/** One click that stands out a hundredfold counts no more than a few that stand out clearly. */
const most = 8;

interface Matched extends Curve {
  /** The largest value in each bin. */
  readonly highest: () => Float32Array;
}

/** Samples that are kept together once they were asked for (6 ms), and of how many such cells: 8 MB, the places around an hour's clicks. */
const cell = 128;
const mostCells = 16_000;

/** An hour of values takes as much as the hour itself: only bins are kept of all, and values only near clicks. */
const matched = (signal: Float32Array, shape: Float32Array): Matched => {
  const energy = shape.reduce((sum, x) => sum + x * x, 0);
  const { length, step, block } = correlation(
    signal,
    Float64Array.from(shape, (x) => x / Math.max(energy, 1e-12)),
  );
  const sizes = (start: number): Float32Array => {
    const values = block(start);
    for (let i = 0; i < values.length; i += 1) values[i] = Math.abs(values[i] ?? 0);
    return values;
  };
  const highest = (): Float32Array => {
    const high = new Float32Array(Math.ceil(length / bin));
    for (let start = 0; start < length; start += step)
      sizes(start).forEach((value, i) => {
        const b = Math.floor((start + i) / bin);
        if (value > (high[b] ?? 0)) high[b] = value;
      });
    return high;
  };
  const known = new Map<number, Float32Array>();
  let last: { readonly start: number; readonly values: Float32Array } = {
    start: -1,
    values: new Float32Array(0),
  };
  const cellAt = (c: number): Float32Array => {
    const found = known.get(c);
    if (found !== undefined) return found;
    const values = new Float32Array(cell);
    const end = Math.min(length, (c + 1) * cell);
    for (let n = c * cell; n < end;) {
      const start = n - (n % step);
      if (last.start !== start) last = { start, values: sizes(start) };
      const part = last.values.subarray(n - start, end - start);
      values.set(part, n - c * cell);
      n += part.length;
    }
    if (known.size >= mostCells) known.clear();
    known.set(c, values);
    return values;
  };
  const piece = (from: number, to: number): Float32Array => {
    const values = new Float32Array(to - from);
    for (let n = from; n < to;) {
      const c = Math.floor(n / cell);
      const part = cellAt(c).subarray(n - c * cell, to - c * cell);
      values.set(part, n - from);
      n += part.length;
    }
    return values;
  };
  return { length, piece, highest };
};

/** Holds each value against the mean around it, in place. */
const againstAround = (high: Float32Array): Float32Array => {
  const count = high.length;
  const mean = high.reduce((sum, value) => sum + value, 0) / Math.max(1, count);
  /** Sums of all values before a bin, for the bins around. */
  const sums = new Float64Array(2 * around + 1);
  let [summed, sum] = [0, 0];
  for (let b = 0; b < count; b += 1) {
    const [from, to] = [Math.max(0, b - around), Math.min(count, b + around)];
    for (; summed < to; summed += 1) {
      sum += high[summed] ?? 0;
      sums[(summed + 1) % sums.length] = sum;
    }
    const local = (sum - (sums[from % sums.length] ?? 0)) / (to - from);
    // In digital silence everything stands out: the floor is a hundredth of the recording's mean.
    high[b] = Math.min(most, (high[b] ?? 0) / Math.max(local, mean / 100, 1e-9));
  }
  return high;
};

/** Compares a recording with both characters of the click, at the listening rate. */
export const clickLikeness = (signal: Float32Array, sound: ClickSound): ClickLikeness => {
  const [beat, first] = [matched(signal, sound.beat), matched(signal, sound.first)];
  const [beatHigh, firstHigh] = [beat.highest(), first.highest()];
  const character = beatHigh.map((own, b) => {
    const other = firstHigh[b] ?? 0;
    return (own - other) / Math.max(1e-9, own, other);
  });
  return { beat, first, beatBins: againstAround(beatHigh), firstBins: againstAround(firstHigh), character };
};
