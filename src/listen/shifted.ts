/**
 * A tone shifted to zero frequency, smoothed by Gaussian windows and thinned: the parts of a short-time Fourier transform at one frequency
 * whose window can be chosen afterwards (Gabor 1946), since spreads add as squares.
 */
import { lanes, type Lanes } from './lanes/lanes.ts';
import { listeningRate } from './model.ts';

/** How far a Gaussian is followed, in spreads. */
export const reachOfGaussian = 3.2;

/** Weights of a Gaussian with this spread (one standard deviation, in steps); an odd number of them, with the sum 1. */
export const gaussian = (spread: number): Float64Array => {
  const half = Math.max(1, Math.ceil(reachOfGaussian * spread));
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - half) / spread) ** 2),
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / sum);
};

/** Pairs: real and imaginary part in turn. */
export type Shifted = Float64Array;

/** Fills `out` with pairs of the signal from sample `start` on, shifted by `hertz`; silence beyond its ends. */
const turned = (signal: Float32Array, hertz: number, start: number, out: Float64Array): void => {
  const turn = (-2 * Math.PI * hertz) / listeningRate;
  const [stepC, stepS] = [Math.cos(turn), Math.sin(turn)];
  const [from, to] = [-start, signal.length - start];
  let c = 1;
  let s = 0;
  for (let i = 0; 2 * i < out.length; i += 1) {
    // The signal is not asked beyond its ends, for that is slow.
    const x = i >= from && i < to ? (signal[start + i] ?? 0) : 0;
    out[2 * i] = x * c;
    out[2 * i + 1] = x * s;
    const next = c * stepC - s * stepS;
    s = c * stepS + s * stepC;
    c = next;
  }
};

/** `count` sums of pairs under `weights`, the first from the pair at `first` on, the others each `apart` pairs later. */
const weighted = (
  values: Float64Array,
  first: number,
  apart: number,
  count: number,
  weights: Float64Array,
): Float64Array => {
  const out = new Float64Array(2 * count);
  for (let n = 0; n < count; n += 1) {
    let a = 0;
    let b = 0;
    const at = 2 * (first + n * apart);
    for (let k = 0; k < weights.length; k += 1) {
      const w = weights[k] ?? 0;
      a += (values[at + 2 * k] ?? 0) * w;
      b += (values[at + 2 * k + 1] ?? 0) * w;
    }
    out[2 * n] = a;
    out[2 * n + 1] = b;
  }
  return out;
};

/**
 * `length` pairs, one each `thin` samples, of a signal at `hertz`, smoothed by `weights`; the first is centred on sample `first`. Silence
 * beyond the signal's ends. `by`: what adds up; it makes no difference to the sums.
 */
export const shifted = (
  signal: Float32Array,
  hertz: number,
  first: number,
  length: number,
  thin: number,
  weights: Float64Array,
  by: Lanes | null = lanes(),
): Shifted => {
  const start = first - (weights.length - 1) / 2;
  const samples = (length - 1) * thin + weights.length;
  const values = by === null ? new Float64Array(2 * samples) : by.room(samples);
  turned(signal, hertz, start, values);
  return by === null ? weighted(values, 0, thin, length, weights) : by.weighted(0, thin, length, weights);
};

/** `frames` pairs, one each fourth pair from that at `first` on, smoothed by `weights`. */
export const smoothed = (
  values: Shifted,
  first: number,
  frames: number,
  weights: Float64Array,
  by: Lanes | null = lanes(),
): Float64Array => {
  const from = first - (weights.length - 1) / 2;
  if (by === null) return weighted(values, from, 4, frames, weights);
  by.room(values.length / 2).set(values);
  return by.weighted(from, 4, frames, weights);
};
