/** One note through a magnifying glass: its own partials and the whole sound, around where it is expected. */
import { floorOf, type ClickRest } from './clickRest.ts';
import { energyOf, followPartial } from './gaussian.ts';
import { hop, listeningRate } from './model.ts';
import { phaseNovelty } from './novelty.ts';
import { hertzOf } from './tuning.ts';

export interface NoteView {
  /** Seconds in the recording of frame 0; frames are `hop` samples apart. */
  readonly start: number;
  readonly frames: number;
  /** Energy in dB of each partial that is told apart from what else sounds. */
  readonly partials: readonly Float64Array[];
  /** Energy in dB of those partials together, with the shortest windows that can be had. */
  readonly own: Float64Array;
  /** The same of the partials from the third on; of all, where there are none. */
  readonly high: Float64Array;
  /** 0 to 1: how little the partials go on as they went before (below). */
  readonly novelty: Float64Array;
  /** Highest level of the whole sound over 10 ms from the expected time to the next note, in dB. */
  readonly peak: number;
  /** Mean spread in seconds of the windows. */
  readonly spread: number;
  /** No partial stands clear of what else sounds. */
  readonly covered: boolean;
  /** Level in dB of the whole sound above half the fundamental, over 2 ms and over 10 ms. */
  readonly fine: Float64Array;
  readonly smooth: Float64Array;
}

/** Seconds in the recording. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly next: number;
}

export const frameStep = hop / listeningRate;

const spreads = [0.003, 0.006, 0.012, 0.024] as const;
const mostPartials = 8;
const highest = 8500;
/** The third partial and those above tell the beginning of a bow or tongue before the fundamental does. */
const fromHigh = 3;
/** Frames (2 ms each) by which a partial is foretold. */
const ahead = 4;
/** Seconds after the expected time in which the note's highest level is sought, if the next comes no sooner. */
const longest = 1.2;
/** A Gaussian window of spread s passes what lies 0.48/s beside it 40 dB softer. */
const clear = 0.48;
/** Seconds on each side in which what is left of a click is looked at: as far as the windows reach. */
const aside = 0.1;
/** What lies this far below the strongest is no longer looked at, in dB. */
const depth = 60;

/** The shortest window in which partial `h` of a note stands clear of these other pitches, in Hz; null: none does. */
const spreadFor = (hertz: number, h: number, others: readonly number[]): number | null => {
  let nearest = Infinity;
  for (const other of others) {
    const k = Math.max(1, Math.round((h * hertz) / other));
    nearest = Math.min(nearest, Math.abs(h * hertz - k * other));
  }
  return spreads.find((spread) => nearest >= clear / spread && hertz >= (0.7 * clear) / spread) ?? null;
};

const decibels = (energy: Float64Array, floor: number): Float64Array =>
  energy.map((value) => 10 * Math.log10(value + floor));

/** Energies with what nothing counts below. */
const above = (energy: Float64Array, floor: Float64Array | null): Float64Array =>
  floor === null ? energy : energy.map((value, f) => value + (floor[f] ?? 0));

const largest = (values: Float64Array): number => values.reduce((high, value) => Math.max(high, value), 0);

/** A one-pole high-pass at `hertz`, twice, so that rumble and lower players count less. */
const highPassed = (signal: Float32Array, from: number, length: number, hertz: number): Float64Array => {
  const out = new Float64Array(length);
  const keep = Math.exp((-2 * Math.PI * hertz) / listeningRate);
  let [x1, y1, z1] = [0, 0, 0];
  for (let i = -512; i < length; i += 1) {
    const x = signal[from + i] ?? 0;
    const y = keep * (y1 + x - x1);
    const z = keep * (z1 + y - y1);
    [x1, y1, z1] = [x, y, z];
    if (i >= 0) out[i] = z;
  }
  return out;
};

const meanSquares = (samples: Float64Array, first: number, count: number, half: number): Float64Array => {
  const sums = new Float64Array(samples.length + 1);
  for (let i = 0; i < samples.length; i += 1) sums[i + 1] = (sums[i] ?? 0) + (samples[i] ?? 0) ** 2;
  return Float64Array.from({ length: count }, (_, f) => {
    const middle = first + f * hop;
    return Math.max(0, (sums[middle + half + 1] ?? 0) - (sums[middle - half] ?? 0)) / (2 * half + 1);
  });
};

/**
 * How far the partials are, a few frames on, from where they would be if they went on in the same phase and size: complex-domain
 * novelty.
 */
const noveltyOf = (
  waves: readonly Float64Array[],
  floors: readonly Float64Array[],
  count: number,
): Float64Array =>
  Float64Array.from({ length: count }, (_, f) => {
    const [at, before, now] = [f - 2 * ahead, f - ahead / 2, f + ahead];
    if (at < 0 || now >= count) return 0;
    // The turn from the first to the second point, as far again: both are 1.5 × `ahead` frames.
    return phaseNovelty(waves, at, before, now, floors);
  });

/**
 * Looks at a note of these keys from `from` to `to` seconds of the recording. `others`: keys that sound around it in the
 * same recording (the note before it). `cents`: the take's tuning. `at`, `next`: seconds at which it and the next note are expected. `rest`: what
 * of a click may be left; null: nothing is.
 */
export const viewNote = (
  signal: Float32Array,
  { from, to, at, next }: Stretch,
  midis: readonly number[],
  others: readonly number[],
  cents: number,
  rest: ClickRest | null = null,
): NoteView => {
  const first = Math.round((from * listeningRate) / hop) * hop;
  const count = Math.max(2, Math.round(((to - from) * listeningRate) / hop));
  const pitch = (midi: number): number => hertzOf(midi + cents / 100);
  const otherHertz = others.filter((midi) => !midis.includes(midi)).map(pitch);
  const around = Math.ceil(aside * listeningRate);
  const left = rest?.between(first - around, first + count * hop + around) ?? null;
  const found: {
    wave: Float64Array;
    energy: Float64Array;
    floor: Float64Array | null;
    spread: number;
    h: number;
  }[] = [];
  const look = (besides: readonly number[]): void => {
    for (const midi of midis) {
      const hertz = pitch(midi);
      for (let h = 1; h <= mostPartials && h * hertz < highest; h += 1) {
        const spread = spreadFor(hertz, h, besides);
        if (spread === null) continue;
        const wave = followPartial(signal, first, count, h * hertz).wave(spread);
        const floor =
          left === null ? null : floorOf(followPartial(left, around, count, h * hertz).energy(spread));
        found.push({ wave, energy: above(energyOf(wave), floor), floor, spread, h });
      }
    }
  };
  look(otherHertz);
  const covered = found.length === 0 && midis.length > 0;
  // An octave above what still sounds has no partial of its own: then what there is has to do.
  if (covered) look([]);
  const pad = Math.ceil(0.006 * listeningRate);
  const low = midis.length === 0 ? 80 : 0.5 * Math.min(...midis.map(pitch));
  const sounding = Math.max(at + 0.06, Math.min(at + longest, next - 0.03));
  const whole = Math.max(count, Math.round((sounding * listeningRate - first) / hop));
  const passed = highPassed(signal, first - pad, (whole - 1) * hop + 1 + 2 * pad, Math.min(low, 400));
  const leftPassed =
    left === null
      ? null
      : highPassed(left, around - pad, (count - 1) * hop + 1 + 2 * pad, Math.min(low, 400));
  /** Mean squares over so many seconds on each side, above what may be left of a click. */
  const squares = (half: number): Float64Array => {
    const samples = Math.round(half * listeningRate);
    const floor = leftPassed === null ? null : floorOf(meanSquares(leftPassed, pad, count, samples));
    return above(meanSquares(passed, pad, count, samples), floor);
  };
  const [fine, smooth] = [squares(0.001), squares(0.005)];
  const all = meanSquares(passed, pad, whole, Math.round(0.005 * listeningRate));
  const ownFrom = Math.round((at * listeningRate - first) / hop);
  const ownTo = Math.round((sounding * listeningRate - first) / hop);
  const below = 10 ** (-depth / 10);
  const strongest = Math.max(1e-12, ...found.map(({ energy }) => largest(energy)));
  const summed = (some: typeof found): Float64Array => {
    const sum = new Float64Array(count);
    for (const { energy } of some)
      for (let f = 0; f < count; f += 1) sum[f] = (sum[f] ?? 0) + (energy[f] ?? 0);
    return decibels(sum, Math.max(1e-12, largest(sum)) * below);
  };
  const upper = found.filter(({ h }) => h >= fromHigh);
  return {
    start: first / listeningRate,
    frames: count,
    partials: found.map(({ energy }) =>
      decibels(energy, Math.max(largest(energy), 0.01 * strongest) * 10 ** -4),
    ),
    own: summed(found),
    high: summed(upper.length === 0 ? found : upper),
    novelty: noveltyOf(
      found.map(({ wave }) => wave),
      found.flatMap(({ floor }) => floor ?? []),
      count,
    ),
    peak: 10 * Math.log10(largest(all.subarray(Math.max(0, ownFrom), ownTo)) + 1e-12),
    covered,
    spread: found.reduce((total, { spread }) => total + spread, 0) / Math.max(1, found.length),
    fine: decibels(fine, Math.max(1e-12, largest(fine)) * below),
    smooth: decibels(smooth, Math.max(1e-12, largest(smooth)) * below),
  };
};
