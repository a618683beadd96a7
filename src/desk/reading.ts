/** What listening to a take found: the printed format "levare.reading/1". */
import type { Problem } from '../units/index.ts';

/** A figure and its 95 % interval; the interval is null where there is too little to tell it from. */
export interface Figure {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

export interface ReadingClock {
  readonly part: string;
  readonly file: string;
  /** Seconds in the recording at which the drill's time 0 lies. */
  readonly offset: number;
  /** Millionths by which the recording's second is longer. */
  readonly ppm: number;
  /** One standard deviation of each. */
  readonly offsetError: number;
  readonly ppmError: number;
  readonly by: 'clicks' | 'notes';
  readonly clicksHeard: number;
  readonly clicksExpected: number;
}

export interface ReadingNote {
  readonly id: string;
  readonly part: string;
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
  readonly pass: number;
  readonly rep: number;
  /** Seconds on the drill's timeline, here and below. */
  readonly expected: number;
  readonly onset: number | null;
  readonly perceived: number | null;
  readonly offset: number | null;
  /** dB below full scale of that recording, K-weighted. */
  readonly level: number | null;
  /** Against the take's own tuning. */
  readonly cents: number | null;
  /** One standard deviation of the onset, in seconds; `perceivedUncertainty` that of the perceived beat. */
  readonly uncertainty: number | null;
  readonly perceivedUncertainty: number | null;
  readonly state: 'heard' | 'unsure' | 'missing';
}

export interface ReadingAdded {
  readonly part: string;
  readonly time: number;
  readonly duration: number;
  readonly midi: number | null;
}

export interface ReadingPair {
  /** First minus second: below zero the first is ahead. */
  readonly parts: readonly [string, string];
  /** Places that both play and that were surely heard. */
  readonly places: number;
  /** Milliseconds; null where the recordings have no common clock, so that only differences can be told. */
  readonly mean: Figure | null;
  /** Freed of the measuring noise. */
  readonly sd: Figure | null;
  readonly meanAbsolute: Figure | null;
}

export interface ReadingTempo {
  readonly part: string;
  readonly rep: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
  /** Quarters a minute, and what the drill asks for. */
  readonly perMinute: number;
  readonly asked: number;
}

export interface ReadingBarLine {
  readonly part: string;
  readonly rep: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
  /** Milliseconds after the drill's own bar line; null in free playing. */
  readonly late: number | null;
  readonly uncertainty: number;
}

export interface ReadingSeam {
  readonly from: string;
  readonly to: string;
  readonly rep: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
  /** Milliseconds by which the new player enters late against the line that is handed over. */
  readonly late: number;
  readonly uncertainty: number;
}

export interface ReadingArticulation {
  readonly part: string;
  /** Sounding length over the time to the next note. */
  readonly ratio: Figure;
  readonly notes: number;
}

export interface ReadingEvenness {
  readonly part: string;
  /** Length of the even notes, as a fraction of a whole note. */
  readonly value: string;
  /** First of each pair of notes over the second: 1 is even. */
  readonly longShort: Figure;
  readonly pairs: number;
}

export interface Reading {
  readonly format: 'levare.reading/1';
  readonly title: string;
  readonly bars: string;
  readonly parts: readonly {
    readonly id: string;
    readonly name: string;
    readonly file: string;
    readonly reference: number;
  }[];
  readonly clock: readonly ReadingClock[];
  readonly notes: readonly ReadingNote[];
  readonly added: readonly ReadingAdded[];
  readonly pairs: readonly ReadingPair[];
  /** Percent a minute by which a player's tempo grows against the drill's. */
  readonly drift: readonly { readonly part: string; readonly percentPerMinute: Figure }[];
  readonly tempo: readonly ReadingTempo[];
  readonly barLines: readonly ReadingBarLine[];
  readonly seams: readonly ReadingSeam[];
  readonly articulation: readonly ReadingArticulation[];
  readonly evenness: readonly ReadingEvenness[];
  /** What was assumed, repaired or could not be told. */
  readonly assumed: readonly Problem[];
}
