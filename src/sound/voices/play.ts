/** One note of a voice, sample by sample, in whatever pieces it is asked for. */
import { exponential } from '../exponential.ts';
import { sineTable, tableLength } from '../tuning.ts';
import type { Character } from './character.ts';
import { noiseLength, noiseTable } from './noise.ts';
import type { Tables } from './tables.ts';

/** A note ready to sound. Places and lengths in samples. */
export interface Tone {
  readonly start: number;
  /** After the last sample. */
  readonly end: number;
  /** Which player's, from 0. */
  readonly part: number;
  /** Strength: 1 is the mean power of a usual note after weighting. */
  readonly level: number;
  /** From 0, dull, to 1, bright. */
  readonly brightness: number;
  /** Hz. */
  readonly frequency: number;
  readonly tables: Tables;
  readonly character: Character;
  readonly attack: Float64Array;
  readonly release: Float64Array;
  /** Follows another under a slur: no noise of attack. */
  readonly slurred: boolean;
  /** Where in the noise it begins, and how its vibrato differs from its neighbours'. */
  readonly variant: number;
}

/** Adds the note's samples from `from` to `to` (counted from the beginning of the sound) to `out`, which begins at `from`. */
export type Playing = (out: Float64Array, from: number, to: number) => void;

/** Vibrato, tremolo, brightness and decay are worked out anew after so many samples of the note and are drawn straight in between. */
const step = 64;
/** Vibrato: turns a second of the first player, seconds before it begins and until it is full. From memory. */
const vibrato = { rate: 5.3, apart: 0.37, after: 0.18, grown: 0.45 } as const;
/** Seconds in which the noise of the attack falls to 1/e, and in which the tone grows bright. */
const chiffDecay = 0.012;
const brighten = 0.06;
/** Cents to a share of the frequency: ln 2 / 1200. */
const perCent = Math.LN2 / 1200;

/** The largest sample that a note may reach: tone, tremolo, noise. */
export const peakOfTone = ({ tables, character, level }: Omit<Tone, 'start' | 'end'>): number =>
  level * (tables.peak * (1 + character.tremolo) + character.chiff + character.breath);

/** What is left of a struck tone after one step. Low strings ring longer than high ones, but none above 3 s to 1/e. */
const decayOf = (seconds: number, frequency: number, rate: number): number =>
  exponential(-step / (Math.min(3, (seconds * 440) / frequency) * rate), 0).re;

/** Begins a note. Its samples must be asked for in order, without gaps. */
export const play = (tone: Tone, rate: number): Playing => {
  const { character, tables, attack, release, level, start, end, variant } = tone;
  const { dull, bright } = tables;
  const turn = tableLength / rate;
  const base = tone.frequency * turn;
  const wave = (vibrato.rate + vibrato.apart * (variant % 4)) * turn;
  const depth = character.vibrato * perCent;
  const decay = character.decay === 0 ? 1 : decayOf(character.decay, tone.frequency, rate);
  const chiffStep = exponential(-step / (chiffDecay * rate), 0).re;
  const length = end - start;

  const swinging = depth !== 0 || character.tremolo !== 0;

  let n = 0;
  let phase = 0;
  let noise = (variant * 4_099 + Math.floor(tone.frequency * 16)) % noiseLength;
  let body = 1;
  let chiff = tone.slurred ? 0 : character.chiff;
  /** Sway of the vibrato, strength and brightness at a sample that `step` divides. */
  const swayAt = (sample: number): number =>
    swinging
      ? (sineTable[Math.floor(sample * wave) & (tableLength - 1)] ?? 0) *
        Math.min(1, Math.max(0, (sample / rate - vibrato.after) / vibrato.grown))
      : 0;
  const mixAt = (sample: number, ring: number): number =>
    tone.brightness * (0.4 + 0.6 * (character.decay === 0 ? Math.min(1, sample / rate / brighten) : ring));

  return (out, from, to) => {
    const until = Math.min(to, end) - start;
    while (n < until) {
      // Always counted from the note's start, so that blocks leave no trace.
      const block = n - (n % step);
      const last = Math.min(until, block + step);
      const sway = swayAt(block);
      const increment = base * (1 + depth * sway);
      const strength = level * body * (1 + character.tremolo * sway);
      const strengthStep =
        (level * body * decay * (1 + character.tremolo * swayAt(block + step)) - strength) / step;
      const mix = mixAt(block, body);
      const mixStep = (mixAt(block + step, body * decay) - mix) / step;
      const rough = level * (chiff + character.breath);
      for (; n < last; n += 1) {
        const at = Math.floor(phase);
        const between = phase - at;
        const d0 = dull[at] ?? 0;
        const b0 = bright[at] ?? 0;
        const low = d0 + ((dull[at + 1] ?? 0) - d0) * between;
        const high = b0 + ((bright[at + 1] ?? 0) - b0) * between;
        const into = n - block;
        let value =
          (strength + strengthStep * into) * (low + (high - low) * (mix + mixStep * into)) +
          rough * (noiseTable[noise] ?? 0);
        if (n < attack.length) value *= attack[n] ?? 1;
        const left = length - 1 - n;
        if (left < release.length) value *= release[left] ?? 1;
        const place = start + n - from;
        out[place] = (out[place] ?? 0) + value;
        phase += increment;
        if (phase >= tableLength) phase -= tableLength;
        noise = (noise + 1) & (noiseLength - 1);
      }
      if (n === block + step) {
        body *= decay;
        chiff *= chiffStep;
      }
    }
  };
};
