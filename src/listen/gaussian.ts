/**
 * The energy of one partial through time: a short-time Fourier transform at one frequency with a Gaussian window, whose
 * spread in time can be chosen (Gabor 1946). Shifted to zero frequency, smoothed and thinned once with a spread of 1 ms,
 * then smoothed to the spread that is asked for: spreads add as squares.
 */
import { hop, listeningRate } from './model.ts';

/** Samples between thinned values: a quarter of a hop, 0.5 ms. */
const thin = hop / 4;
const firstSpread = 0.001 * listeningRate;

const gaussian = (spread: number): Float64Array => {
  const half = Math.ceil(3.2 * spread);
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - half) / spread) ** 2),
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / sum);
};

const firstWeights = gaussian(firstSpread);
const laterWeights = new Map<number, Float64Array>();
const weightsFor = (spread: number): Float64Array => {
  const known = laterWeights.get(spread);
  if (known !== undefined) return known;
  const rest = Math.sqrt(Math.max(1e-12, spread ** 2 - 0.001 ** 2)) * (listeningRate / thin);
  const made = gaussian(rest);
  laterWeights.set(spread, made);
  return made;
};

export interface Partial {
  /** Energy (mean square of the partial) at the frames from the first on, for a spread in seconds (0.001 or more). */
  readonly energy: (spread: number) => Float64Array;
  /** The partial itself, shifted to zero frequency: in turn real and imaginary part of each frame. */
  readonly wave: (spread: number) => Float64Array;
  /** Mean deviation from the frequency asked for, in Hz, weighted by energy, from one frame to another; null in silence. */
  readonly deviation: (from: number, to: number) => number | null;
}

/** Mean square of a partial at each frame of its wave. */
export const energyOf = (wave: Float64Array): Float64Array =>
  Float64Array.from({ length: wave.length / 2 }, (_, f) => {
    const [a, b] = [wave[2 * f] ?? 0, wave[2 * f + 1] ?? 0];
    return 2 * (a * a + b * b);
  });

/** Seconds on each side that the widest window needs. */
const margin = 0.08;

/** Follows a partial at `hertz` over `count` fine frames, the first centred on sample `from`. */
export const followPartial = (signal: Float32Array, from: number, count: number, hertz: number): Partial => {
  const reach = Math.ceil((margin * listeningRate) / thin);
  const length = (count - 1) * 4 + 1 + 2 * reach;
  const half = (firstWeights.length - 1) / 2;
  const start = from - reach * thin - half;
  const samples = (length - 1) * thin + firstWeights.length;
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
    for (let k = 0; k < firstWeights.length; k += 1) {
      const w = firstWeights[k] ?? 0;
      a += (re[at + k] ?? 0) * w;
      b += (im[at + k] ?? 0) * w;
    }
    thinRe[n] = a;
    thinIm[n] = b;
  }
  const wave = (spread: number): Float64Array => {
    const weights = weightsFor(spread);
    const wide = (weights.length - 1) / 2;
    const out = new Float64Array(2 * count);
    for (let f = 0; f < count; f += 1) {
      let a = 0;
      let b = 0;
      const at = reach + 4 * f - wide;
      for (let k = 0; k < weights.length; k += 1) {
        const w = weights[k] ?? 0;
        a += (thinRe[at + k] ?? 0) * w;
        b += (thinIm[at + k] ?? 0) * w;
      }
      out[2 * f] = a;
      out[2 * f + 1] = b;
    }
    return out;
  };
  const energy = (spread: number): Float64Array => energyOf(wave(spread));
  const deviation = (first: number, last: number): number | null => {
    let [a, b] = [0, 0];
    for (let n = reach + 4 * first; n < reach + 4 * last; n += 1) {
      const [x, y] = [thinRe[n] ?? 0, thinIm[n] ?? 0];
      const [u, v] = [thinRe[n + 1] ?? 0, thinIm[n + 1] ?? 0];
      a += u * x + v * y;
      b += v * x - u * y;
    }
    if (Math.hypot(a, b) < 1e-15) return null;
    return (Math.atan2(b, a) * listeningRate) / thin / (2 * Math.PI);
  };
  return { energy, wave, deviation };
};
