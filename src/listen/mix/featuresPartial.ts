/**
 * Partials of one note through time, for the network of a mixture: a short-time Fourier transform at one frequency with Gaussian windows of
 * several spreads (Gabor 1946). Shifted to zero frequency, smoothed and thinned to one value a millisecond, then smoothed to each spread:
 * spreads add as squares.
 */
import { listeningRate } from '../model.ts';
import { gaussian, reachOfGaussian, shifted, smoothed } from '../shifted.ts';

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

/** Standard deviation in seconds of each window at a frequency, shortened where the partial would else be missed. */
export const spreadsAt = (hertz: number): readonly number[] => {
  const longest = Math.max(shortest, 1 / (2 * Math.PI * tolerance * hertz));
  return spreads.map((spread) => Math.min(spread, longest));
};

/** Passband of a window in Hz (one standard deviation). */
export const bandOf = (spread: number): number => 1 / (2 * Math.PI * spread);

const firstWeights = gaussian(firstSpread * listeningRate);
/** Thinned values on each side that the widest window needs. */
const margin = Math.ceil((reachOfGaussian * 0.024 * listeningRate) / thin) + 1;

/** The partial at the frames: in turn real and imaginary part, one list a spread. */
export const partialWaves = (
  signal: Float32Array,
  from: number,
  frames: number,
  hertz: number,
): readonly Float64Array[] => {
  const length = (frames - 1) * 4 + 1 + 2 * margin;
  const values = shifted(signal, hertz, from - margin * thin, length, thin, firstWeights);
  const known = new Map<number, Float64Array>();
  return spreadsAt(hertz).map((spread) => {
    const there = known.get(spread);
    if (there !== undefined) return there;
    const rest = Math.sqrt(Math.max(1e-9, spread ** 2 - firstSpread ** 2)) * (listeningRate / thin);
    const out = smoothed(values, margin, frames, gaussian(rest));
    known.set(spread, out);
    return out;
  });
};
