/**
 * Partials of one note through time, for the network of a mixture: a short-time Fourier transform at one frequency with Gaussian windows of
 * several spreads (Gabor 1946). Shifted to zero frequency, smoothed and thinned to one value a millisecond, then smoothed to each spread:
 * spreads add as squares.
 */
import { listeningRate } from '../model.ts';

/** Samples between the network's frames: 3.99 ms. */
export const frameHop = 88;
/** Samples between thinned values: a quarter of a frame. */
const thin = frameHop / 4;
const firstSpread = 0.002;
/** Spreads of the windows in seconds. */
export const spreads = [0.005, 0.011, 0.024] as const;
const shortest = 0.0025;
/** A partial 14 cents off its place loses 4.3 dB: players' tuning and vibrato are heard. */
const tolerance = 0.008;
/** How far a Gaussian is followed, in spreads. */
const reach = 3.2;

/** Standard deviation in seconds of each window at a frequency, shortened where the partial would else be missed. */
export const spreadsAt = (hertz: number): readonly number[] => {
  const longest = Math.max(shortest, 1 / (2 * Math.PI * tolerance * hertz));
  return spreads.map((spread) => Math.min(spread, longest));
};

/** Passband of a window in Hz (one standard deviation). */
export const bandOf = (spread: number): number => 1 / (2 * Math.PI * spread);

const gaussian = (spread: number): Float64Array => {
  const half = Math.max(1, Math.ceil(reach * spread));
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - half) / spread) ** 2),
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / sum);
};

const firstWeights = gaussian(firstSpread * listeningRate);
const firstHalf = (firstWeights.length - 1) / 2;
/** Thinned values on each side that the widest window needs. */
const margin = Math.ceil((reach * 0.024 * listeningRate) / thin) + 1;

/** The partial at the frames: in turn real and imaginary part, one list a spread. */
export const partialWaves = (
  signal: Float32Array,
  from: number,
  frames: number,
  hertz: number,
): readonly Float64Array[] => {
  const length = (frames - 1) * 4 + 1 + 2 * margin;
  const start = from - margin * thin - firstHalf;
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
  const known = new Map<number, Float64Array>();
  return spreadsAt(hertz).map((spread) => {
    const there = known.get(spread);
    if (there !== undefined) return there;
    const rest = Math.sqrt(Math.max(1e-9, spread ** 2 - firstSpread ** 2)) * (listeningRate / thin);
    const weights = gaussian(rest);
    const half = (weights.length - 1) / 2;
    const out = new Float64Array(2 * frames);
    for (let f = 0; f < frames; f += 1) {
      let a = 0;
      let b = 0;
      const at = margin + 4 * f - half;
      for (let k = 0; k < weights.length; k += 1) {
        const w = weights[k] ?? 0;
        a += (thinRe[at + k] ?? 0) * w;
        b += (thinIm[at + k] ?? 0) * w;
      }
      out[2 * f] = a;
      out[2 * f + 1] = b;
    }
    known.set(spread, out);
    return out;
  });
};
