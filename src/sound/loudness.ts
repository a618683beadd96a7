/**
 * Loudness as ITU-R BS.1770-4 measures it, with the momentary, short-term and range figures of EBU Tech 3341 and 3342.
 * A reading for people and tests; no sound is made from it.
 */
import type { Lufs } from '../units/index.ts';

/** Coefficients of a second-order filter, a0 = 1. */
export interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/**
 * The two filters of the K weighting at a sample rate in Hz: a shelf for the head and a high-pass. BS.1770-4 prints
 * the coefficients for 48 kHz only; these are the analogue filters behind them (values from memory; at 48 kHz they give
 * the printed coefficients), by the bilinear transform.
 */
export const weighting = (rate: number): readonly [Biquad, Biquad] => {
  const shelf = { frequency: 1681.974450955533, gain: 3.999843853973347, q: 0.7071752369554196 };
  const pass = { frequency: 38.13547087602444, q: 0.5003270373238773 };
  const k = Math.tan((Math.PI * shelf.frequency) / rate);
  const high = 10 ** (shelf.gain / 20);
  const middle = high ** 0.4996667741545416;
  const scale = 1 + k / shelf.q + k * k;
  const l = Math.tan((Math.PI * pass.frequency) / rate);
  const under = 1 + l / pass.q + l * l;
  return [
    {
      b: [
        (high + (middle * k) / shelf.q + k * k) / scale,
        (2 * (k * k - high)) / scale,
        (high - (middle * k) / shelf.q + k * k) / scale,
      ],
      a: [(2 * (k * k - 1)) / scale, (1 - k / shelf.q + k * k) / scale],
    },
    { b: [1, -2, 1], a: [(2 * (l * l - 1)) / under, (1 - l / pass.q + l * l) / under] },
  ];
};

const filtered = (samples: ArrayLike<number>, { b, a }: Biquad): Float64Array => {
  const result = new Float64Array(samples.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let n = 0; n < samples.length; n += 1) {
    const x = samples[n] ?? 0;
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    result[n] = y;
  }
  return result;
};

export interface Loudness {
  /** Of the whole, gated; -Infinity where nothing passes the gate. */
  readonly integrated: Lufs;
  /** Largest of any 400 ms and of any 3 s, in steps of 100 ms; -Infinity where the sound is shorter. */
  readonly momentary: Lufs;
  readonly shortTerm: Lufs;
  /** Loudness range in LU (EBU Tech 3342); 0 where there is too little to tell. */
  readonly range: number;
}

const lufs = (power: number): number => -0.691 + 10 * Math.log10(power);
const power = (level: number): number => 10 ** ((level + 0.691) / 10);
const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

/** Powers of all windows of so many steps of 100 ms. */
const windows = (steps: readonly number[], count: number): readonly number[] =>
  Array.from({ length: Math.max(0, steps.length - count + 1) }, (_, i) => mean(steps.slice(i, i + count)));

/** What is louder than -70 LUFS, and then than so much below the mean of that. */
const gated = (powers: readonly number[], below: number): readonly number[] => {
  const audible = powers.filter((value) => value > power(-70));
  const gate = mean(audible) * 10 ** (below / 10);
  return audible.filter((value) => value > gate);
};

/** EBU Tech 3342: from the 10th to the 95th percentile of the short-term loudness above a gate of -20 LU. */
const rangeOf = (short: readonly number[]): number => {
  const kept = [...gated(short, -20)].sort((a, b) => a - b);
  const at = (share: number): number => lufs(kept[Math.floor((kept.length - 1) * share + 0.5)] ?? 1);
  return kept.length < 2 ? 0 : at(0.95) - at(0.1);
};

/** What a channel behind or beside the listener counts against one in front (BS.1770-4, table 3). */
export const surround = 1.41;

/**
 * Measures a sound. `rate` in Hz, full scale 1. `weights`: what each channel's power counts; 1 where none is given (left,
 * right and centre). A channel for low effects is to be left out.
 */
export const loudness = (
  channels: readonly ArrayLike<number>[],
  rate: number,
  weights: readonly number[] = [],
): Loudness => {
  const [shelf, pass] = weighting(rate);
  const step = Math.round(rate / 10);
  const steps: number[] = [];
  for (const [c, channel] of channels.entries()) {
    const weighted = filtered(filtered(channel, shelf), pass);
    for (let i = 0; (i + 1) * step <= weighted.length; i += 1) {
      let sum = 0;
      for (let n = i * step; n < (i + 1) * step; n += 1) sum += (weighted[n] ?? 0) ** 2;
      steps[i] = (steps[i] ?? 0) + ((weights[c] ?? 1) * sum) / step;
    }
  }
  const momentary = windows(steps, 4);
  const short = windows(steps, 30);
  const largest = (values: readonly number[]): Lufs =>
    lufs(values.reduce((high, value) => Math.max(high, value), 0)) as Lufs;
  return {
    integrated: lufs(mean(gated(momentary, -10))) as Lufs,
    momentary: largest(momentary),
    shortTerm: largest(short),
    range: rangeOf(short),
  };
};
