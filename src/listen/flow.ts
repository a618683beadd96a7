/**
 * How evenly a way through the score goes on: each step from onset to onset is held against the score at the tempo that the way had until then, as in
 * semi-Markov models of score following (Cont 2010, IEEE Trans. PAMI 32:974). What a way costs is told in two parts, so that ways can be held
 * against each other at any moment: too short a step when it is made, too long a one frame by frame.
 */

/** How ways stand, one for each state: two states an event, sounding (`2 i`) and after it (`2 i + 1`). */
export interface Flow {
  /** Frames at which the last onset was. */
  readonly since: Float64Array;
  /** Natural logarithm of recording's seconds in a second of the score. */
  readonly pace: Float64Array;
  readonly steps: Float64Array;
  /** What follows from these, worked out once for all frames in which a way only goes on: recording's seconds in a second of the score, */
  readonly stretch: Float64Array;
  /** seconds at which the next event is due after the last onset, and the spread of their logarithm. */
  readonly due: Float64Array;
  readonly spread: Float64Array;
}

export const flowOf = (states: number): Flow => ({
  since: new Float64Array(states),
  pace: new Float64Array(states),
  steps: new Float64Array(states),
  stretch: new Float64Array(states),
  due: new Float64Array(states),
  spread: new Float64Array(states),
});

/** Logarithms by which steps differ from an even course, once a pace is known and before. */
const usual = 0.22;
const unknown = 0.5;
/** Seconds by which onsets of players and frames are off. */
const grain = 0.035;
/** The most that a step costs. Players hold and wait. */
const mostShort = 10;
const mostLong = 6;
/** Slowest gain of the pace, and its widest limits. */
const gain = 0.2;
const limit = Math.log(2.5);

/** Standard deviation of the logarithm of a step's length. */
export const spreadAt = (expected: number, steps: number): number =>
  Math.hypot(usual + (unknown - usual) / (1 + steps), grain / Math.max(0.02, expected));

/** What a step of so many seconds costs that is shorter than expected; `spread`: `spreadAt` of it. */
export const shortCost = (seconds: number, expected: number, spread: number): number => {
  const least = Math.max(0.01, seconds);
  return expected <= least ? 0 : Math.min(mostShort, 0.5 * (Math.log(expected / least) / spread) ** 2);
};

/** What it costs to have waited so long. */
export const longCost = (seconds: number, expected: number, spread: number): number => {
  const least = Math.max(0.01, seconds);
  return least <= expected ? 0 : Math.min(mostLong, 0.5 * (Math.log(least / expected) / spread) ** 2);
};

/** The pace after a step. */
export const nextPace = (pace: number, steps: number, seconds: number, written: number): number => {
  // A short step says less: its length is known less well.
  const weight = Math.max(gain, 1 / (1 + steps)) * Math.min(1, written / 0.3);
  const own = Math.log(Math.max(0.02, seconds) / written);
  const bounded = Math.max(pace - 0.5, Math.min(pace + 0.5, own));
  return Math.max(-limit, Math.min(limit, pace + weight * (bounded - pace)));
};
