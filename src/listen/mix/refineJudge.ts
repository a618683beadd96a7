/** What a distribution over a note's beginning is worth, and how far before the perceived beat the sound begins. */
import { frameSeconds } from './features.ts';
import type { OnsetDistribution, Trust } from './types.ts';

/** Frames on each side of the highest value that belong to it: 20 ms. */
const near = 5;
/** Share of the whole that has to lie there, and seconds that the standard deviation may have at most: as far as asynchronies may rest on a time (judge.ts). */
const [enough, widest] = [0.5, 0.025];
/** The same as far as a time can be told at all: on the bench's tuning half what lies beyond is no better than the tempo of all players. */
const [roughlyEnough, roughest] = [0.3, 0.045];

interface Peak {
  /** Frame of the mean around the highest value. */
  readonly at: number;
  /** Share of the whole that lies near it, 0 to 1. */
  readonly share: number;
}

const peakOf = (p: Float32Array): Peak => {
  let highest = 0;
  p.forEach((value, f) => {
    if (value > (p[highest] ?? 0)) highest = f;
  });
  let [share, sum] = [0, 0];
  for (let f = Math.max(0, highest - near); f <= Math.min(p.length - 1, highest + near); f += 1) {
    share += p[f] ?? 0;
    sum += f * (p[f] ?? 0);
  }
  return { at: share > 0 ? sum / share : highest, share };
};

/** Seconds in the recording of the likeliest beginning. */
export const beatOf = ({ start, step, p }: Pick<OnsetDistribution, 'start' | 'step' | 'p'>): number =>
  start + step * peakOf(p).at;

/** Standard deviation in seconds. */
const deviationOf = (p: Float32Array): number => {
  let [sum, squares] = [0, 0];
  p.forEach((value, f) => {
    sum += value * f;
    squares += value * f * f;
  });
  return Math.sqrt(Math.max(0, squares - sum * sum)) * frameSeconds;
};

const trustOf = (share: number, deviation: number): Trust => {
  if (share >= enough && deviation <= widest) return 'sure';
  return share >= roughlyEnough && deviation <= roughest ? 'rough' : 'unsure';
};

/** `beat` and `start`: distributions over the same frames. */
export const judged = (
  beat: Float32Array,
  start: Float32Array,
  slurred: boolean,
): { readonly lag: number | null; readonly trust: Trust } => {
  const [heard, begun] = [peakOf(beat), peakOf(start)];
  const trust = trustOf(heard.share, deviationOf(beat));
  if (slurred) return { lag: 0, trust };
  const clear = trust === 'sure' && begun.share >= enough;
  return { lag: clear ? Math.max(0, (heard.at - begun.at) * frameSeconds) : null, trust };
};
