/**
 * By how much the search among several players puts a player's beginnings too late or too early, by register: told from notes of that player during
 * which nobody else sounds, which the search for single recordings reads too. What is learnt there holds for the others no better than the two
 * searches differ from note to note.
 */
import { shiftOf, priorSpread } from '../chain.ts';
import { choiceOf, noChoice } from '../choice.ts';
import { eventsOf } from '../events.ts';
import { judgeAll } from '../judge.ts';
import { listeningRate } from '../model.ts';
import type { Placed } from '../place.ts';
import type { Aligned } from './align.ts';
import type { MixPart } from './groups.ts';
import type { MixOnset } from './judge.ts';
import type { MixNote } from './types.ts';

export interface Lag {
  /** Seconds to be taken off a beginning of this key. */
  readonly at: (midi: number | null) => number;
  /** One standard deviation in seconds of what is left, the same for all notes of the player. */
  readonly error: number;
  /** Notes that it was told from; below `fewest` nothing is taken off. */
  readonly notes: number;
}

/** Seconds: how far the search is off on the whole from player to player where nothing is known; on the bench's tuning half. */
const unknownLag = 0.006;
/** Notes from which on it is told at all, and from which on by register. */
const fewest = 3;
const forRegister = 10;
/** Seconds around a beginning in which nobody else may sound, and notes that are tried at most. */
const alone = 0.18;
const mostTried = 40;
/** Seconds: what is not known better, since a note among others is heard by fewer partials than one alone. */
const least = 0.003;
/** Octaves of register that weigh as much as a note, and the steepest slope, in seconds an octave. */
const ridge = 2;
const steepest = 0.01;

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

const isAlone = (notes: readonly MixNote[], i: number): boolean => {
  const own = notes[i];
  if (own === undefined) return false;
  const sounds = (other: MixNote): boolean =>
    other.part !== own.part &&
    other.time < own.time + alone &&
    other.time + other.length + 0.1 > own.time - 0.05;
  for (let k = i - 1; k >= 0 && (notes[k]?.time ?? 0) > own.time - 12; k -= 1) {
    const other = notes[k];
    if (other !== undefined && sounds(other)) return false;
  }
  for (let k = i + 1; k < notes.length && (notes[k]?.time ?? Infinity) < own.time + alone; k += 1) {
    const other = notes[k];
    if (other !== undefined && sounds(other)) return false;
  }
  return true;
};

const none: Lag = { at: () => 0, error: unknownLag, notes: 0 };

interface Point {
  readonly midi: number;
  readonly off: number;
}

const lagFrom = (points: readonly Point[]): Lag => {
  if (points.length < fewest) return { ...none, notes: points.length };
  const middle = median(points.map(({ off }) => off));
  const scatter = 1.4826 * median(points.map(({ off }) => Math.abs(off - middle)));
  const error = Math.hypot(least, Math.max(0.002, scatter) / Math.sqrt(points.length));
  const near = points.filter(({ off }) => Math.abs(off - middle) <= 3 * Math.max(0.003, scatter));
  const centre = near.reduce((sum, { midi }) => sum + midi, 0) / Math.max(1, near.length);
  let [xx, xy] = [ridge, 0];
  for (const { midi, off } of near) {
    const x = (midi - centre) / 12;
    [xx, xy] = [xx + x * x, xy + x * (off - middle)];
  }
  const slope = near.length < forRegister ? 0 : Math.max(-steepest, Math.min(steepest, xy / xx));
  return {
    at: (midi) => middle + (midi === null ? 0 : (slope * (midi - centre)) / 12),
    error: Math.min(unknownLag, error),
    notes: points.length,
  };
};

/** One for each part. `notes`, `onsets`: of all players, by time. */
export const lagsOf = (
  parts: readonly MixPart[],
  { signal, coarse, softer, clicks, rest }: Aligned,
  notes: readonly MixNote[],
  onsets: readonly MixOnset[],
): readonly Lag[] => {
  const byId = new Map(notes.map((note, i) => [note.id, i]));
  return parts.map((part) => {
    const events = eventsOf(part.notes);
    const index = events.map((event) => byId.get(event.notes[0]?.id ?? '') ?? -1);
    const times = Float64Array.from(index, (i) => notes[i]?.time ?? 0);
    const placed: Placed = {
      times,
      visited: new Uint8Array(events.length).fill(1),
      lines: times,
      stray: new Uint8Array(events.length),
      runs: [],
      abandoned: [],
    };
    let tried = 0;
    const choices = events.map((event, e) => {
      const i = index[e] ?? -1;
      const usable =
        onsets[i]?.trust === 'sure' && event.midis.length === 1 && !event.repeated && isAlone(notes, i);
      if (!usable || tried >= mostTried || (times[e] ?? 0) * listeningRate > signal.length) return noChoice;
      tried += 1;
      return choiceOf(signal, events, placed, e, coarse.tuning, rest);
    });
    if (tried < fewest) return none;
    const judged = judgeAll(events, choices, coarse, { softer, clicks });
    const points = events.flatMap((event, e): readonly Point[] => {
      const choice = choices[e] ?? noChoice;
      const worth = (at: number, odds: number): number =>
        odds - 0.5 * (shiftOf(choice, at) / priorSpread) ** 2;
      const best = [...(judged[e] ?? [])].sort(
        (a, b) => worth(b.candidate.at, b.odds) - worth(a.candidate.at, a.odds),
      )[0];
      const own = onsets[index[e] ?? -1];
      const midi = event.midis[0];
      if (best === undefined || own === undefined || midi === undefined || best.odds < 0) return [];
      const off = own.beat - best.perceived;
      return Math.abs(off) > 0.04 ? [] : [{ midi, off }];
    });
    return lagFrom(points);
  });
};
