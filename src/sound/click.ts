/**
 * The sound of the click, synthesised. Our own formula: two damped cosines under a falling window,
 *
 *     x(t) = g · w(t) · e^(-t/tau) · (a_1 · cos 2 pi f_1 t + a_2 · cos 2 pi f_2 t - d),   0 <= t < T
 *     w(t) = cos²(pi t / 2T),   tau = 7 ms,   T = 36 ms or shorter
 *
 * g brings the largest sample to the level asked for. d makes the samples add up to nought, so that there is no DC; it
 * is small (0.2 % of the first sample at 48 kHz). Cosines begin at their largest: the click starts on its very sample,
 * with no rise that a listener or a program could take for a later start. In the middle register both partials lie
 * between 1 and 3 kHz: above the fundamentals of most passages, where hearing is keen, and below the region that sounds
 * sharp. The two other registers are for passages that sound there themselves (registers.ts chooses). The two characters
 * differ in pitch and not in force.
 */
import {
  checkSampleRate,
  decibels,
  fail,
  ok,
  type Decibels,
  type Result,
  type Samples,
} from '../units/index.ts';
import { exponential, powers } from './exponential.ts';

export type ClickCharacter = 'beat' | 'first beat';

/** Where the click lies: one for a whole drill. */
export type ClickRegister = 'low' | 'middle' | 'high';

/** Peak of a click where nothing else is asked for, in dBFS. */
export const usualLevel: Decibels = decibels(-6);

/**
 * Levels that clicks are made for, peak in dBFS, both ends included. The wave that a player's converter draws through the
 * samples rises 1.1 dB above the largest of them (at 48 kHz, by band-limited interpolation), so that a click of 0 dBFS
 * would distort.
 */
const levels = { lowest: decibels(-60), highest: decibels(-1.5) } as const;

/** Hz. Twice the highest partial of the high register and some room. */
export const leastRateForHigh = 10_000;

/** Seconds. At most 40 ms, so that clicks stay apart; 36 ms let the pitch be heard. */
const longestClick = 0.036;
/** Seconds in which the sound falls to 1/e: long enough to keep the energy within the band, short enough to fade inside the window. */
const decay = 0.007;

export interface ClickPartial {
  /** Hz. Neither a pitch of the usual tunings nor in a simple ratio to its companion: wooden, not a note. */
  readonly frequency: number;
  readonly amplitude: number;
}

/** The low register sounds like a larger block of wood, an octave below; the high one keeps below 4.1 kHz. */
export const clickPartials: Readonly<
  Record<ClickRegister, Readonly<Record<ClickCharacter, readonly ClickPartial[]>>>
> = {
  low: {
    beat: [
      { frequency: 675, amplitude: 1 },
      { frequency: 1_085, amplitude: 0.35 },
    ],
    'first beat': [
      { frequency: 925, amplitude: 1 },
      { frequency: 1_285, amplitude: 0.35 },
    ],
  },
  middle: {
    beat: [
      { frequency: 1_350, amplitude: 1 },
      { frequency: 2_170, amplitude: 0.35 },
    ],
    'first beat': [
      { frequency: 1_850, amplitude: 1 },
      { frequency: 2_570, amplitude: 0.35 },
    ],
  },
  high: {
    beat: [
      { frequency: 2_130, amplitude: 1 },
      { frequency: 3_420, amplitude: 0.35 },
    ],
    'first beat': [
      { frequency: 2_920, amplitude: 1 },
      { frequency: 4_060, amplitude: 0.35 },
    ],
  },
};

/**
 * Gives the samples of one click, from the onset on; full scale is 1. `longest`, a whole number of samples above zero,
 * cuts it short; the window shrinks with it, so that it still ends softly. After the last sample comes exact silence.
 */
export type ClickMaker = (character: ClickCharacter, longest?: Samples) => Float64Array;

const clickSamples = (
  rate: number,
  partials: readonly ClickPartial[],
  peak: number,
  count: number,
): Float64Array => {
  const shrink = exponential(-1 / (decay * rate), 0);
  const window = powers(exponential(0, Math.PI / count), count);
  const envelope = powers(shrink, count).map(({ re }, n) => (re * (1 + (window[n]?.re ?? 1))) / 2);
  const sum = new Float64Array(count);
  for (const { frequency, amplitude } of partials) {
    powers(exponential(0, (2 * Math.PI * frequency) / rate), count).forEach(({ re }, n) => {
      sum[n] = (sum[n] ?? 0) + amplitude * re * (envelope[n] ?? 0);
    });
  }
  const total = sum.reduce((a, b) => a + b, 0) / envelope.reduce((a, b) => a + b, 0);
  // A click of a few samples cannot be free of DC and still begin at once; beginning at once matters more.
  const offset = Math.abs(total) > 0.5 ? 0 : total;
  const balanced = sum.map((value, n) => value - offset * (envelope[n] ?? 0));
  const largest = balanced.reduce((high, value) => Math.max(high, Math.abs(value)), 0);
  return balanced.map((value) => (value * peak) / largest);
};

/**
 * Prepares clicks for a sample rate in Hz (a whole number, 8,000 to 192,000) and a peak level in dBFS (-60 to -1.5), in a
 * register (the high one needs a rate of 10,000 Hz or more; below that it is the middle one). Errors: "sample-rate", "click-level".
 */
export const clickMaker = (
  sampleRate: number,
  level: Decibels = usualLevel,
  register: ClickRegister = 'middle',
): Result<ClickMaker> => {
  const wrong = checkSampleRate(sampleRate);
  if (wrong !== null) return { ok: false, error: wrong };
  if (!(level >= levels.lowest && level <= levels.highest)) {
    return fail(
      'click-level',
      `The click's level is given as ${level} dB. It is the peak below full scale: from ${levels.lowest} (barely there) to ${levels.highest} (as loud as can be without distortion); ${usualLevel} is usual.`,
    );
  }
  const peak = exponential((level * Math.LN10) / 20, 0).re;
  const full = Math.floor(longestClick * sampleRate);
  const partials = clickPartials[register === 'high' && sampleRate < leastRateForHigh ? 'middle' : register];
  const whole = {
    beat: clickSamples(sampleRate, partials.beat, peak, full),
    'first beat': clickSamples(sampleRate, partials['first beat'], peak, full),
  };
  return ok((character, longest) =>
    longest === undefined || longest >= full
      ? whole[character].slice()
      : clickSamples(sampleRate, partials[character], peak, Math.max(1, Math.floor(longest))),
  );
};
