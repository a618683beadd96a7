/** What passes between the stages that hear several players through one microphone. Seconds are those of the recording's own clock. */

/** A note of one of the players, with where the alignment has put it. */
export interface MixNote {
  /** Index of its part among those that are heard, from 0 on. */
  readonly part: number;
  readonly id: string;
  /** Sounding key, A4 = 69; null for unpitched percussion. */
  readonly midi: number | null;
  /** Hz of that key at the take's own A; 0 for unpitched percussion. */
  readonly hertz: number;
  /** Seconds in the drill. */
  readonly written: number;
  /** Where the tempo of all players together puts it, in seconds. */
  readonly time: number;
  /** One standard deviation of `time`, in seconds: players around the tempo curve, and the curve itself. */
  readonly spread: number;
  /** Expected length at the tempo at which it was played, in seconds, above 0. */
  readonly length: number;
  /** Bound to the note before it by a slur: a change of pitch and no attack. */
  readonly slurred: boolean;
  /** The same key sounded in the same part right before it. */
  readonly repeated: boolean;
  /** What the score asks for against its usual level, in dB; null where it says nothing. */
  readonly level: number | null;
  /** Whether the alignment found it at all; else its time is only that of its neighbours. */
  readonly found: boolean;
}

/** `sure`: asynchronies may rest on it; `rough`: a time can be told, but nothing may rest on it; `unsure`: no time of its own can be told. */
export type Trust = 'sure' | 'rough' | 'unsure';

/**
 * How likely a note's perceived beat lies where: the moment at which the note by itself comes within 15 dB of its loudest; of a slurred note the
 * middle of the change (docs/hearing-reading.md).
 */
export interface OnsetDistribution {
  /** Seconds in the recording of the first value's middle. */
  readonly start: number;
  /** Seconds from one value to the next. */
  readonly step: number;
  /** Adds up to 1. Of what is heard alone, without a prior at the tempo curve narrower than 50 ms. */
  readonly p: Float32Array;
  /** One standard deviation in seconds of a prior around `MixNote.time` that is in `p` nevertheless (one learnt with the training takes); it is taken out. */
  readonly prior?: number;
  /** Seconds by which the physical start (within 40 dB of the loudest) comes before the perceived beat, where it can be told. */
  readonly lag: number | null;
  /** What whoever heard it makes of it, whatever else the distribution says. */
  readonly trust: Trust;
  /** Whether that alone decides, as it was tried on takes of known truth. */
  readonly calibrated?: boolean;
  /** One standard deviation in seconds of what `p` was fitted to: it is so much wider than what is known. */
  readonly grain?: number;
}

export interface RefineOptions {
  /** Cents of the take's A against 440 Hz. */
  readonly cents: number;
  /** Seconds of the clicks that were taken out: something of them may be left. */
  readonly clicks: Float64Array;
  /** How often each note is heard once more, knowing what was heard of the others: 0 or more. */
  readonly rounds?: number;
  /** Told how much of the search is done, 0 to 1. */
  readonly progress?: (done: number) => void;
}

/**
 * Looks for each note by itself. `signal`: one channel at the listening rate, the click taken out. `notes`: of all players, by time. One answer
 * for each note, in their order; null where it can tell nothing.
 */
export type Refine = (
  signal: Float32Array,
  notes: readonly MixNote[],
  options: RefineOptions,
) => readonly (OnsetDistribution | null)[];
