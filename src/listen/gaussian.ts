/**
 * The energy of one partial through time: a short-time Fourier transform at one frequency with a Gaussian window, whose
 * spread in time can be chosen (Gabor 1946). Shifted to zero frequency, smoothed and thinned once with a spread of 1 ms,
 * then smoothed to the spread that is asked for: spreads add as squares.
 */
import { hop, listeningRate } from './model.ts';
import { gaussian, shifted, smoothed } from './shifted.ts';

/** Samples between thinned values: a quarter of a hop, 0.5 ms. */
const thin = hop / 4;
const firstSpread = 0.001 * listeningRate;

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
  const values = shifted(signal, hertz, from - reach * thin, length, thin, firstWeights);
  const wave = (spread: number): Float64Array => smoothed(values, reach, count, weightsFor(spread));
  const energy = (spread: number): Float64Array => energyOf(wave(spread));
  const deviation = (first: number, last: number): number | null => {
    let [a, b] = [0, 0];
    for (let n = reach + 4 * first; n < reach + 4 * last; n += 1) {
      const [x, y] = [values[2 * n] ?? 0, values[2 * n + 1] ?? 0];
      const [u, v] = [values[2 * n + 2] ?? 0, values[2 * n + 3] ?? 0];
      a += u * x + v * y;
      b += v * x - u * y;
    }
    if (Math.hypot(a, b) < 1e-15) return null;
    return (Math.atan2(b, a) * listeningRate) / thin / (2 * Math.PI);
  };
  return { energy, wave, deviation };
};
