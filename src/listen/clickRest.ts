/**
 * What of the clicks may be left where they were taken out: no more than so much can be told from music there. A rise that is not higher than
 * that is no beginning.
 */
import {
  bins,
  filtered,
  keptOf,
  lead,
  samplesOf,
  shifted,
  size,
  spectrumOf,
  type ClickFilter,
  type Spectrum,
} from './clickFilter.ts';
import { listeningRate } from './model.ts';
import { seeded } from '../units/index.ts';

/** A click that was taken out. `start`: the sample at which its stretch begins. */
export interface TakenOut {
  readonly start: number;
  readonly first: boolean;
  /** Amplitude against the others. */
  readonly level: number;
}

export interface ClickRest {
  /** Samples from one to another, the latter left out, of a sound as strong as what may be left, in time and in frequency; null: nothing is. */
  readonly between: (from: number, to: number) => Float32Array | null;
}

/** Standard deviations of a clock that count. */
const wide = 2;

/**
 * A sound as strong as what may be left of a click: the click behind a noise of the size of the filter's error, as long as the filter; and how it
 * changes when it comes `beside` seconds (one standard deviation) later.
 */
const restOf = (click: Spectrum, { filter, off }: ClickFilter, beside: number): Float32Array => {
  const random = seeded(1);
  const noise = spectrumOf(
    Float32Array.from({ length: size }, (_, n) => keptOf(n) * (random() - 0.5) * Math.sqrt(12 / size)),
  );
  const [re, im] = [new Float64Array(bins), new Float64Array(bins)];
  for (let k = 0; k < bins; k += 1) {
    const turn = (2 * Math.PI * k * listeningRate * wide * beside) / size;
    const far = Math.sqrt(off[k] ?? 0);
    re[k] = far * (noise.re[k] ?? 0) + turn * (filter.im[k] ?? 0);
    im[k] = far * (noise.im[k] ?? 0) - turn * (filter.re[k] ?? 0);
  }
  return Float32Array.from(samplesOf(filtered(shifted(click, lead), { re, im })));
};

/** What may be left of these clicks, by time, of both characters, when a filter was used. */
export const clickRest = (
  clicks: readonly TakenOut[],
  shapes: { readonly beat: Spectrum; readonly first: Spectrum },
  found: ClickFilter,
  beside: number,
): ClickRest => {
  const sounds = { beat: restOf(shapes.beat, found, beside), first: restOf(shapes.first, found, beside) };
  /** The first click that is not over by sample `from`. */
  const nextTo = (from: number): number => {
    let [low, high] = [0, clicks.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((clicks[middle]?.start ?? Infinity) + size <= from) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const between = (from: number, to: number): Float32Array | null => {
    let out: Float32Array | null = null;
    for (let i = nextTo(from); i < clicks.length; i += 1) {
      const click = clicks[i];
      if (click === undefined || click.start >= to) break;
      out ??= new Float32Array(to - from);
      const sound = click.first ? sounds.first : sounds.beat;
      for (let n = Math.max(from, click.start); n < Math.min(to, click.start + size); n += 1)
        out[n - from] = (out[n - from] ?? 0) + click.level * (sound[n - click.start] ?? 0);
    }
    return out;
  };
  return { between };
};

/**
 * Below what energy nothing counts, from the energies that may be left: the highest that is yet to come, so that it never rises and makes no
 * beginning by itself.
 */
export const floorOf = (energies: Float64Array): Float64Array => {
  const out = new Float64Array(energies.length);
  let highest = 0;
  for (let f = energies.length - 1; f >= 0; f -= 1) {
    highest = Math.max(highest, energies[f] ?? 0);
    out[f] = highest;
  }
  return out;
};
