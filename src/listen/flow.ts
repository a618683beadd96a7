/**
 * How evenly a way through the score goes on: each step from onset to onset is held against the score at the tempo that the way had until then, as in
 * semi-Markov models of score following (Cont 2010, IEEE Trans. PAMI 32:974). What a way costs is told in two parts, so that ways can be held
 * against each other at any moment: too short a step when it is made, too long a one frame by frame.
 */

/** How a way stands: when its last onset was, its pace, and on how many steps that rests. */
export interface Flow {
  /** Frames at which the last onset was. */
  readonly since: Float64Array;
  /** Natural logarithm of recording's seconds in a second of the score. */
  readonly pace: Float64Array;
  readonly steps: Float64Array;
}

export const flowOf = (states: number): Flow => ({
  since: new Float64Array(states),
  pace: new Float64Array(states),
  steps: new Float64Array(states),
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

const spreadAt = (expected: number, steps: number): number =>
  Math.hypot(usual + (unknown - usual) / (1 + steps), grain / Math.max(0.02, expected));

/** What a step of so many seconds costs that is shorter than expected. */
export const shortCost = (seconds: number, expected: number, steps: number): number => {
  const off = Math.log(expected / Math.max(0.01, seconds));
  return off <= 0 ? 0 : Math.min(mostShort, 0.5 * (off / spreadAt(expected, steps)) ** 2);
};

/** What it costs to have waited so long. */
export const longCost = (seconds: number, expected: number, steps: number): number => {
  const off = Math.log(Math.max(0.01, seconds) / expected);
  return off <= 0 ? 0 : Math.min(mostLong, 0.5 * (off / spreadAt(expected, steps)) ** 2);
};

/** The pace after a step. */
export const nextPace = (pace: number, steps: number, seconds: number, written: number): number => {
  // A short step says less: its length is known less well.
  const weight = Math.max(gain, 1 / (1 + steps)) * Math.min(1, written / 0.3);
  const own = Math.log(Math.max(0.02, seconds) / written);
  const bounded = Math.max(pace - 0.5, Math.min(pace + 0.5, own));
  return Math.max(-limit, Math.min(limit, pace + weight * (bounded - pace)));
};
