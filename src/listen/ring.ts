/** How a note goes on after its beginning: when it ends, how loud and how high it is. */
import { lastFrame } from './fall.ts';
import { followPartial } from './gaussian.ts';
import { hop, listeningRate } from './model.ts';
import { frameStep } from './noteView.ts';
import { hertzOf } from './tuning.ts';

/** A second-order filter, a0 = 1. */
export interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

export interface Ring {
  /** Seconds in the recording: the last moment within 20 dB of the note's highest level (over about 10 ms), up to the next note. */
  readonly end: number;
  /** dB below full scale, weighted, mean power from beginning to end. */
  readonly level: number;
  /** Against the pitch expected; null where it cannot be told. */
  readonly cents: number | null;
}

const partials = 4;
const spread = 0.005;
/** Deviations beyond a quarter-tone and a half are another pitch. */
const mostCents = 80;

const weightedLevel = (
  signal: Float32Array,
  from: number,
  to: number,
  weighting: readonly Biquad[],
): number => {
  const lead = 1024;
  let samples = Float64Array.from(
    { length: Math.max(1, to - from) + lead },
    (_, i) => signal[from - lead + i] ?? 0,
  );
  for (const { a, b } of weighting) {
    let [x1, x2, y1, y2] = [0, 0, 0, 0];
    samples = samples.map((x) => {
      const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
      [x2, x1, y2, y1] = [x1, x, y1, y];
      return y;
    });
  }
  let sum = 0;
  for (let i = lead; i < samples.length; i += 1) sum += (samples[i] ?? 0) ** 2;
  return 10 * Math.log10(sum / (samples.length - lead) + 1e-12);
};

/** Follows a note from `onset` until `until` (the next note's beginning, or when it has to have ended), in seconds. */
export const ringOf = (
  signal: Float32Array,
  onset: number,
  until: number,
  midis: readonly number[],
  cents: number,
  weighting: readonly Biquad[],
): Ring => {
  const first = Math.round(onset * listeningRate);
  const count = Math.max(4, Math.ceil(((until - onset) * listeningRate) / hop));
  const sum = new Float64Array(count);
  const found: number[] = [];
  for (const midi of midis) {
    const hertz = hertzOf(midi + cents / 100);
    for (let h = 1; h <= partials && h * hertz < 5000; h += 1) {
      const partial = followPartial(signal, first, count, h * hertz);
      const energy = partial.energy(spread);
      for (let f = 0; f < count; f += 1) sum[f] = (sum[f] ?? 0) + (energy[f] ?? 0);
      if (midis.length > 1) continue;
      const off = partial.deviation(Math.floor(0.25 * count), Math.ceil(0.8 * count));
      if (off === null) continue;
      const own = 1200 * Math.log2(Math.max(0.5, 1 + off / (h * hertz)));
      if (Math.abs(own) < mostCents) found.push(own);
    }
  }
  if (midis.length === 0)
    for (let f = 0; f < count; f += 1) {
      let power = 0;
      for (let n = first + f * hop - hop; n < first + f * hop + hop; n += 1) power += (signal[n] ?? 0) ** 2;
      sum[f] = power;
    }
  const last = lastFrame(sum, frameStep);
  found.sort((a, b) => a - b);
  const end = Math.min(until, onset + (last + 0.5) * frameStep);
  return {
    end,
    level: weightedLevel(signal, first, Math.round(end * listeningRate), weighting),
    cents: found.length === 0 ? null : (found[found.length >> 1] ?? null),
  };
};
