/** What the statistics read: when each player played each shared place. */

import { mean } from './moments.ts';

/** Seconds on one clock; null where the player did not play there or was not heard. */
export type Onset = number | null;

export interface Player {
  readonly name: string;
  /** One for each place, in the order of the music. */
  readonly onsets: readonly Onset[];
}

/** A place in the music, the same for all players. */
export interface Place {
  /** Beats from the beginning; null where it is not known. */
  readonly beats: number | null;
  /** Bar, in order from 0; null where it is not known. */
  readonly bar: number | null;
  /** Name of the bar as it is shown; empty where there is none. */
  readonly barName: string;
  /** Whether this is the first place of a bar, on its bar line. */
  readonly onBarLine: boolean;
}

/** What several players played, place by place. */
export interface Played {
  readonly places: readonly Place[];
  readonly players: readonly Player[];
}

/** One interval between two notes of a player, one after the other. */
export interface Step {
  /** Index of the place at which it begins. */
  readonly place: number;
  /** Position of its middle, in beats from the beginning. */
  readonly middle: number;
  readonly beats: number;
  /** Always positive. */
  readonly seconds: number;
  /** Seconds at which it begins. */
  readonly start: number;
  /** Whether it begins with the note that ends the step before it. */
  readonly joined: boolean;
}

/**
 * The intervals of a player's line, rests and blanks included in the interval that spans them. Places without a known
 * position are passed over; where time stands still or goes back the chain is broken.
 */
export const stepsOf = (onsets: readonly Onset[], places: readonly Place[]): readonly Step[] => {
  const steps: Step[] = [];
  let before: { place: number; beats: number; time: number } | null = null;
  let joined = false;
  for (const [place, time] of onsets.entries()) {
    const beats = places[place]?.beats ?? null;
    if (time === null || beats === null) continue;
    if (before !== null) {
      const [length, seconds] = [beats - before.beats, time - before.time];
      const good = length > 0 && seconds > 0;
      const middle = before.beats + length / 2;
      if (good)
        steps.push({ place: before.place, middle, beats: length, seconds, start: before.time, joined });
      joined = good;
    }
    before = { place, beats, time };
  }
  return steps;
};

/** Beats are compared within this: tables round thirds. */
const beatTolerance = 1e-3;

/** The commonest length among steps, in beats, and the steps of that length. Null where there is no step. */
export const evenSteps = (
  steps: readonly Step[],
): { readonly beats: number; readonly steps: readonly Step[] } | null => {
  const counts = new Map<number, number>();
  for (const { beats } of steps) {
    const key = Math.round(beats / beatTolerance);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const [commonest] = [...counts].sort(([a, m], [b, n]) => n - m || a - b);
  if (commonest === undefined) return null;
  const isAlike = ({ beats }: Step): boolean => Math.round(beats / beatTolerance) === commonest[0];
  const alike = steps.flatMap((step, i) => {
    const previous = steps[i - 1];
    const joined = step.joined && previous !== undefined && isAlike(previous);
    return isAlike(step) ? [{ ...step, joined }] : [];
  });
  return { beats: mean(alike.map(({ beats }) => beats)) ?? 0, steps: alike };
};
