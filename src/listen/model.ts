/** What listening is given and what it finds. Times in seconds as doubles; what is exact stays in the drill. */

/** Samples a second of all that is listened to. */
export const listeningRate = 22_050;
/** Samples from one fine frame to the next: 1.995 ms, a whole number so that no error adds up over a take. */
export const hop = 44;

/** A note that the score expects of this player, by time. */
export interface ExpectedNote {
  readonly id: string;
  /** Seconds on the drill's timeline. */
  readonly time: number;
  /** Seconds, above 0. */
  readonly duration: number;
  /** Sounding, A4 = 69; null for unpitched percussion. */
  readonly midi: number | null;
  /** Bound to the note before it by a slur: its start is a change of pitch and no attack. */
  readonly slurred: boolean;
  /** Where players start again after stopping: the first note of a bar. */
  readonly entry: boolean;
}

export interface ExpectedClick {
  /** Seconds on the drill's timeline. */
  readonly time: number;
  readonly first: boolean;
  /** Amplitude against the others that it may have had where a word was said over it; it may also not have sounded then. Left out: none was. */
  readonly underWord?: number;
}

/** The click's own sound at the listening rate, from its onset on. */
export interface ClickSound {
  readonly beat: Float32Array;
  readonly first: Float32Array;
}

/** From the recording's seconds to the drill's: drill = (recording - offset) / (1 + ppm / 1,000,000). */
export interface Clock {
  /** Where in the recording the drill's time zero lies, in seconds. */
  readonly offset: number;
  /** How much longer the recording makes a second, in millionths. */
  readonly ppm: number;
  /** One standard deviation. */
  readonly offsetError: number;
  readonly ppmError: number;
  /** What it rests on. */
  readonly by: 'clicks' | 'notes';
  /** Clicks that were found, and that were expected within the recording. */
  readonly clicksHeard: number;
  readonly clicksExpected: number;
}

export const toDrill = ({ offset, ppm }: Pick<Clock, 'offset' | 'ppm'>, recording: number): number =>
  (recording - offset) / (1 + ppm / 1e6);
export const toRecording = ({ offset, ppm }: Pick<Clock, 'offset' | 'ppm'>, drill: number): number =>
  offset + drill * (1 + ppm / 1e6);

/** `rough`: a time of its own was heard, known too little for anything to rest on it; `unsure`: the time is that of the others around it. */
export type NoteState = 'heard' | 'rough' | 'unsure' | 'missing';

export interface HeardNote {
  readonly id: string;
  /** Physical start, seconds on the drill's timeline; null where missing. */
  readonly onset: number | null;
  /** Perceived beat; null where missing. */
  readonly perceived: number | null;
  readonly offset: number | null;
  /** dB below full scale, K-weighted; null where missing. */
  readonly level: number | null;
  /** Deviation from the take's own tuning; null where it cannot be told. */
  readonly cents: number | null;
  /** One standard deviation of the physical start in seconds; null where missing. */
  readonly uncertainty: number | null;
  /** The same of the perceived beat. */
  readonly perceivedUncertainty: number | null;
  readonly state: NoteState;
}

export interface AddedNote {
  /** Seconds on the drill's timeline. */
  readonly time: number;
  readonly duration: number;
  /** Sounding, A4 = 69; null where it cannot be told. */
  readonly midi: number | null;
}
