/** One period of a voice at one pitch, summed from its partials, in a dull and a bright form. */
import { remembered } from '../../units/index.ts';
import { sineTable, squareRoot, tableLength } from '../tuning.ts';
import type { Character } from './character.ts';

export interface Tables {
  /** `tableLength` values and the first again, from the place at which the bright form is strongest. */
  readonly dull: Float32Array;
  readonly bright: Float32Array;
  /** The largest that a mixture of the two gets. */
  readonly peak: number;
}

/** No tone at all: what unpitched percussion is but for its noise. */
export const silence: Tables = {
  dull: new Float32Array(tableLength + 1),
  bright: new Float32Array(tableLength + 1),
  peak: 0,
};

/** Partials above this share of the sample rate are left out; the converters' filters begin there. */
const highest = 0.45;
const mostPartials = 96;

/** The power that BS.1770 gives to a frequency in Hz: its two filters in their analogue form (see loudness.ts). */
const weight = (frequency: number): number => {
  const x = frequency / 1681.97445;
  const [high, middle, q] = [1.58486, 1.25872, 0.70718];
  const top = (1 - high * x * x) * (1 - high * x * x) + ((middle * x) / q) * ((middle * x) / q);
  const shelf = top / ((1 - x * x) * (1 - x * x) + (x / q) * (x / q));
  const y = frequency / 38.13547;
  const pass = (y * y * y * y) / ((1 - y * y) * (1 - y * y) + (y / 0.50033) * (y / 0.50033));
  return shelf * pass;
};

const whole = (base: number, power: number): number => (power === 0 ? 1 : base * whole(base, power - 1));

/**
 * How strong each partial is, from the first. `duller`: the number of the partial at which a soft tone has lost half of
 * its strength. `shift`: what moves the resonances of one player of two on the same instrument; 1 for none.
 */
const strengths = (
  { knee, slope, even, floor, resonances, singer }: Character,
  frequency: number,
  count: number,
  duller: number | null,
  shift: number,
): readonly number[] => {
  // A soprano's vowel lies about a sixth above a bass's: 15 % over two octaves from 110 Hz. From memory.
  const register = singer ? 1 + 0.15 * Math.min(1, Math.max(0, (frequency - 110) / 330)) : 1;
  return Array.from({ length: count }, (_, i) => {
    const k = i + 1;
    const at = k * frequency;
    let body = floor;
    for (const [centre, width, gain] of resonances) {
      const away = (at - centre * register * shift) / width;
      body += gain / (1 + away * away);
    }
    const high = at / 2_000;
    const odd = k % 2 === 1 ? 1 : even + ((1 - even) * high * high) / (1 + high * high);
    const soft = duller === null ? 1 : 1 / (1 + (k / duller) * (k / duller));
    return (body * odd * soft) / (1 + whole(k / knee, slope));
  });
};

/** Sums the partials. The phases k² pi / K keep the peak low (Schroeder 1970, IEEE Trans Inf Theory 16:85). */
const summed = (partials: readonly number[], frequency: number): Float64Array => {
  const sum = new Float64Array(tableLength);
  let power = 0;
  partials.forEach((strength, i) => {
    const k = i + 1;
    power += (strength * strength * weight(k * frequency)) / 2;
    const phase = Math.floor((tableLength * k * k) / (2 * partials.length));
    let at = phase & (tableLength - 1);
    for (let n = 0; n < tableLength; n += 1) {
      sum[n] = (sum[n] ?? 0) + strength * (sineTable[at] ?? 0);
      at = (at + k) & (tableLength - 1);
    }
  });
  const scale = 1 / squareRoot(power);
  return sum.map((value) => value * scale);
};

const peakOf = (values: Float64Array): { at: number; size: number } => {
  let [at, size] = [0, 0];
  for (let n = 0; n < values.length; n += 1) {
    const value = Math.abs(values[n] ?? 0);
    if (value > size) {
      at = n;
      size = value;
    }
  }
  return { at, size };
};

const turned = (values: Float64Array, from: number): Float32Array => {
  const table = new Float32Array(tableLength + 1);
  table.set(values.subarray(from));
  table.set(values.subarray(0, from + 1), tableLength - from);
  return table;
};

/** So many tables of one voice are kept, 16 kB each: all its pitches at two or three tunings. */
const mostKept = 300;

const keptTables = remembered<Character, Map<string, Tables>>(() => new Map<string, Tables>());

/**
 * The tables of a voice at a frequency in Hz, worked out once for many drills. Both forms have a mean power of 1 after the weighting of BS.1770, so that
 * all voices and notes are equally loud to that measure. `variant` tells players of the same voice apart, from 0.
 */
export const tablesOf = (character: Character, frequency: number, rate: number, variant: number): Tables => {
  const kept = keptTables(character);
  const key = `${frequency}:${rate}:${variant}`;
  const found = kept.get(key) ?? madeTables(character, frequency, rate, variant);
  if (kept.size >= mostKept) kept.clear();
  kept.set(key, found);
  return found;
};

const madeTables = (character: Character, frequency: number, rate: number, variant: number): Tables => {
  const count = Math.max(1, Math.min(mostPartials, Math.floor((highest * rate) / frequency)));
  const shift = 1 - 0.08 * (variant % 4);
  const bright = summed(strengths(character, frequency, count, null, shift), frequency);
  const dull = summed(strengths(character, frequency, count, 3, shift), frequency);
  const loudest = peakOf(bright);
  return {
    bright: turned(bright, loudest.at),
    dull: turned(dull, loudest.at),
    peak: Math.max(loudest.size, peakOf(dull).size),
  };
};
