/** How each note goes on after its beginning, by the partials that are its own alone: when it ends and how loud each of them is. */
import { lastFrame } from '../fall.ts';
import { followPartial } from '../gaussian.ts';
import { hop, listeningRate } from '../model.ts';
import { clearWindows } from './partials.ts';
import type { MixNote } from './types.ts';

/** One partial of a note: its number and its mean energy in dB. */
export interface PartialLevel {
  readonly h: number;
  readonly db: number;
}

export interface MixEnd {
  /** Seconds in the recording; null where no partial stands clear of the others for as long as the note may sound. */
  readonly end: number | null;
  readonly partials: readonly PartialLevel[];
  /** Cents against the pitch expected; null where it cannot be told. */
  readonly cents: number | null;
}

const frame = hop / listeningRate;
const mostPartials = 6;
/** Shares of its written length, and seconds, for which a note is followed beyond its beginning. */
const beyond = 1.25;
const more = 0.15;
/** Seconds: no note is followed for longer, and how long others ring on. */
const longest = 4;
const ringing = 0.08;
/** Seconds after the beginning from which the level counts, and until which. */
const settled = 0.03;
const levelUntil = 0.8;
/** Deviations beyond this are another pitch. */
const mostCents = 60;

/** Hz of what other players sound while a note may. `notes`: by time; `beats`: where each begins. */
const others = (notes: readonly MixNote[], beats: readonly number[], i: number, until: number): number[] => {
  const [own, from] = [notes[i], beats[i] ?? 0];
  const found: number[] = [];
  const consider = (k: number): void => {
    const other = notes[k];
    const at = beats[k] ?? 0;
    if (own === undefined || other === undefined || other.part === own.part || other.hertz <= 0) return;
    if (at < until + ringing && at + other.length + ringing > from) found.push(other.hertz);
  };
  for (let k = i - 1; k >= 0 && (notes[k]?.time ?? 0) > from - 12; k -= 1) consider(k);
  for (let k = i + 1; k < notes.length && (notes[k]?.time ?? 0) < until + 0.2; k += 1) consider(k);
  return [...new Set(found)];
};

const decibels = (energy: number): number => 10 * Math.log10(energy + 1e-14);

/** Follows note `i`. `next`: when the same player's next note begins, in seconds; Infinity where there is none. */
export const endOf = (
  signal: Float32Array,
  notes: readonly MixNote[],
  beats: readonly number[],
  i: number,
  next: number,
): MixEnd => {
  const [own, onset] = [notes[i], beats[i] ?? 0];
  const nothing = { end: null, partials: [], cents: null };
  if (own === undefined || own.hertz <= 0) return nothing;
  const last = signal.length / listeningRate;
  const until = Math.min(next, last, onset + Math.min(longest, beyond * own.length + more));
  const count = Math.max(8, Math.ceil((until - onset) / frame));
  const first = Math.round(onset * listeningRate);
  const windows = clearWindows(own.hertz, others(notes, beats, i, until)).slice(0, mostPartials);
  if (windows.length === 0) return nothing;
  const sum = new Float64Array(count);
  const found: number[] = [];
  const energies = windows.map(({ h, spread }) => {
    const partial = followPartial(signal, first, count, h * own.hertz);
    const energy = partial.energy(Math.max(0.005, spread));
    for (let f = 0; f < count; f += 1) sum[f] = (sum[f] ?? 0) + (energy[f] ?? 0);
    const off = partial.deviation(Math.floor(0.25 * count), Math.ceil(0.8 * count));
    const cents = off === null ? null : 1200 * Math.log2(Math.max(0.5, 1 + off / (h * own.hertz)));
    if (cents !== null && Math.abs(cents) < mostCents) found.push(cents);
    return { h, energy };
  });
  const f = lastFrame(sum, frame);
  const from = Math.min(count - 2, Math.round(settled / frame));
  const to = Math.max(from + 1, Math.min(f, Math.round(levelUntil / frame)));
  found.sort((a, b) => a - b);
  return {
    end: Math.min(until, onset + (f + 0.5) * frame),
    partials: energies.map(({ h, energy }) => {
      let total = 0;
      for (let g = from; g <= to; g += 1) total += energy[g] ?? 0;
      return { h, db: decibels(total / (to - from + 1)) };
    }),
    cents: found[found.length >> 1] ?? null,
  };
};
