/**
 * A tone shifted to zero frequency, smoothed by Gaussian windows and thinned: the parts of a short-time Fourier transform at one frequency
 * whose window can be chosen afterwards (Gabor 1946), since spreads add as squares.
 */
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

/** Real and imaginary parts. */
export type Shifted = readonly [Float64Array, Float64Array];

/**
 * `length` values, one each `thin` samples, of a signal at `hertz`, smoothed by `weights`; the first is centred on sample `first`. Silence
 * beyond the signal's ends.
 */
export const shifted = (
  signal: Float32Array,
  hertz: number,
  first: number,
  length: number,
  thin: number,
  weights: Float64Array,
): Shifted => {
  const start = first - (weights.length - 1) / 2;
  const samples = (length - 1) * thin + weights.length;
  const [re, im] = [new Float64Array(samples), new Float64Array(samples)];
  const turn = (-2 * Math.PI * hertz) / listeningRate;
  const [stepC, stepS] = [Math.cos(turn), Math.sin(turn)];
  let c = 1;
  let s = 0;
  for (let i = 0; i < samples; i += 1) {
    const x = signal[start + i] ?? 0;
    re[i] = x * c;
    im[i] = x * s;
    const turned = c * stepC - s * stepS;
    s = c * stepS + s * stepC;
    c = turned;
  }
  const [thinRe, thinIm] = [new Float64Array(length), new Float64Array(length)];
  for (let n = 0; n < length; n += 1) {
    let a = 0;
    let b = 0;
    const at = n * thin;
    for (let k = 0; k < weights.length; k += 1) {
      const w = weights[k] ?? 0;
      a += (re[at + k] ?? 0) * w;
      b += (im[at + k] ?? 0) * w;
    }
    thinRe[n] = a;
    thinIm[n] = b;
  }
  return [thinRe, thinIm];
};

/** `frames` frames, one each fourth value from that at `first` on, smoothed by `weights`: in turn real and imaginary part. */
export const smoothed = (
  [re, im]: Shifted,
  first: number,
  frames: number,
  weights: Float64Array,
): Float64Array => {
  const half = (weights.length - 1) / 2;
  const out = new Float64Array(2 * frames);
  for (let f = 0; f < frames; f += 1) {
    let a = 0;
    let b = 0;
    const at = first + 4 * f - half;
    for (let k = 0; k < weights.length; k += 1) {
      const w = weights[k] ?? 0;
      a += (re[at + k] ?? 0) * w;
      b += (im[at + k] ?? 0) * w;
    }
    out[2 * f] = a;
    out[2 * f + 1] = b;
  }
  return out;
};
