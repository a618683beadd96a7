/** What listening to a take found: the printed format "levare.reading/4". */
import type { Problem } from '../units/index.ts';
import type { Finding } from './findings/model.ts';
import type { FreeTime } from './freeTimes.ts';

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
  /** Of one recording for all: one standard deviation in seconds of how late all beginnings of this player may be heard. */
  readonly lagError?: number;
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
  /** `rough`: a time was heard, but known too little for anything to rest on it. */
  readonly state: 'heard' | 'rough' | 'unsure' | 'missing';
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
  readonly n: number;
  /** Milliseconds; null where the recordings have no common clock, so that only differences can be told. */
  readonly mean: Figure | null;
  /** Sample standard deviation, as heard. */
  readonly sd: Figure | null;
  /** The same, freed of the measuring noise. */
  readonly sdWithoutNoise: Figure | null;
  readonly meanAbsolute: Figure | null;
}

/** How much of the distance to others a player makes good with the next note: 0 follows nobody, 1 makes good at once. */
export interface ReadingCorrection {
  readonly part: string;
  readonly to: readonly string[];
  /** Intervals. */
  readonly n: number;
  /** One for each of `to`. */
  readonly gains: readonly Figure[];
}

/** What of a player's unevenness is the inner clock's and what the hand's (Wing & Kristofferson 1973). */
export interface ReadingTiming {
  readonly part: string;
  /** Intervals of one length. */
  readonly n: number;
  /** Standard deviations in milliseconds; null where the model does not fit. The measuring noise is part of the hand's. */
  readonly clockSd: Figure | null;
  readonly motorSd: Figure | null;
}

export interface ReadingDrift {
  /** Null: all players together, the mean of those who play. */
  readonly part: string | null;
  /** Intervals. */
  readonly n: number;
  /** Tempo in percent of what the drill asks for. */
  readonly pace: Figure;
  /** Percent a minute by which the tempo grows against the drill's. */
  readonly percentPerMinute: Figure;
}

/** A bar of the drill, as it was played. */
interface PlayedBar {
  readonly rep: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
}

/** Where a bar lies on the drill's timeline, in seconds. */
export interface ReadingBar extends PlayedBar {
  readonly start: number;
  readonly end: number;
  /** Whether the score or the players' own markings ask the tempo to give way in it: a ritardando and the like, or a fermata. */
  readonly gives: boolean;
}

/** How a note is written. */
export interface ReadingWritten {
  readonly id: string;
  /** As a fraction of a whole note. */
  readonly length: string;
  /** Share of it that the articulation asks for, 0 to 1. */
  readonly share: number;
  /** Bound to the next note. */
  readonly slurred: boolean;
  /** dB against mf that the dynamics ask for, hairpins not among them. */
  readonly level: number;
  /** Why its beginning is its player's own affair, so that nobody is held against it in time; left out where it is not. */
  readonly free?: FreeTime;
}

/** Two players who come in together: the first note of a repetition, one after silence of their own, or a joint entry of the score (after a silence of all, or a fermata). */
export interface ReadingEntry extends PlayedBar {
  readonly beat: string;
  /** Whether a repetition begins there. */
  readonly first: boolean;
  readonly parts: readonly [string, string];
  /** Milliseconds, first less second. */
  readonly apart: Figure;
  /** Which of the two gives the cue, where the players' own markings say so; left out where they do not. */
  readonly cue?: string;
}

/** Short notes after a syncopation, in one part. */
export interface ReadingSyncopation extends PlayedBar {
  readonly part: string;
  /** Where the note stands that they lead to. */
  readonly beat: string;
  /** The player's notes before them that tell the line. */
  readonly n: number;
  /** Milliseconds by which that note comes after where the player's own line leads. */
  readonly late: Figure | null;
}

export interface ReadingLength {
  /** Of the note. */
  readonly id: string;
  /** Sounding length over the time to the next note. */
  readonly ratio: number;
}

export interface ReadingTempo extends PlayedBar {
  readonly part: string;
  /** Notes that tell it, that on the next bar line among them. */
  readonly n: number;
  /** Quarters a minute, and what the drill asks for. */
  readonly perMinute: Figure;
  readonly asked: number;
}

export interface ReadingBarLine extends PlayedBar {
  readonly part: string;
  /** Milliseconds after where the player's own bar before leads to; null where fewer than three places of it were heard. */
  readonly late: Figure | null;
  /** Places of the bar before that lead there. */
  readonly n: number;
  /** Milliseconds after the click's bar line; null in free playing and where no click is heard. */
  readonly lateAtClick: Figure | null;
}

export interface ReadingSeam extends PlayedBar {
  readonly from: string;
  readonly to: string;
  readonly beat: string;
  /** Notes of the giver before and of the taker after that were surely heard. */
  readonly n: { readonly from: number; readonly to: number };
  /** Milliseconds by which the taker enters after where the giver's line leads; null without a common clock or such a line. */
  readonly late: Figure | null;
  /** Decibels by which each plays there above their own other notes; recordings are not held against each other. */
  readonly level: { readonly from: Figure | null; readonly to: Figure | null };
  /** Taker less giver, in shares of the time to the next note. */
  readonly length: Figure | null;
  /** Decibels a quarter. */
  readonly levelSlope: { readonly before: Figure | null; readonly after: Figure | null };
  /** Percent a quarter. */
  readonly tempoSlope: { readonly before: Figure | null; readonly after: Figure | null };
}

export interface ReadingArticulation {
  readonly part: string;
  /** Sounding length over the time to the next note. */
  readonly ratio: Figure;
  readonly n: number;
}

/** Two players compared, on notes that are written alike: of one length, with the same articulation, bound or not. */
export interface ReadingArticulationBetween {
  readonly parts: readonly [string, string];
  /** First less second. */
  readonly difference: Figure;
  /** Notes written alike, and those left out because the other has none so written. */
  readonly n: readonly [number, number];
  readonly left: readonly [number, number];
}

export interface ReadingEvenness {
  readonly part: string;
  /** Length of the even notes, as a fraction of a whole note. */
  readonly value: string;
  /** First of each pair of notes over the second: 1 is even. */
  readonly longShort: Figure;
  /** Pairs. */
  readonly n: number;
}

export interface ReadingEvennessBetween {
  readonly parts: readonly [string, string];
  readonly value: string;
  /** The first's long-short ratio over the second's: 1 where both are alike. */
  readonly ratio: Figure;
  readonly n: readonly [number, number];
}

/** The figures of a reading, without what is told of them. */
export interface ReadingFigures {
  readonly format: 'levare.reading/4';
  readonly title: string;
  readonly bars: string;
  /** The drill's click, as typed, and how many clicks a bar of the music has on average. */
  readonly click: { readonly placement: string; readonly perBar: number };
  readonly parts: readonly {
    readonly id: string;
    readonly name: string;
    readonly file: string;
    readonly reference: number;
  }[];
  readonly clock: readonly ReadingClock[];
  /** Whether the players held to the click. */
  readonly playing: 'click' | 'free';
  /** The bars of the drill in the order in which they are played. */
  readonly played: readonly ReadingBar[];
  readonly notes: readonly ReadingNote[];
  /** In the order of the drill; empty where it is not known: readings of earlier versions. */
  readonly written: readonly ReadingWritten[];
  readonly added: readonly ReadingAdded[];
  readonly pairs: readonly ReadingPair[];
  readonly corrections: readonly ReadingCorrection[];
  readonly timing: readonly ReadingTiming[];
  readonly drift: readonly ReadingDrift[];
  readonly tempo: readonly ReadingTempo[];
  readonly barLines: readonly ReadingBarLine[];
  readonly entries: readonly ReadingEntry[];
  readonly seams: readonly ReadingSeam[];
  readonly syncopations: readonly ReadingSyncopation[];
  /** Of notes that the next one follows at once. */
  readonly lengths: readonly ReadingLength[];
  readonly articulation: readonly ReadingArticulation[];
  readonly articulationBetween: readonly ReadingArticulationBetween[];
  readonly evenness: readonly ReadingEvenness[];
  readonly evennessBetween: readonly ReadingEvennessBetween[];
  /** What was assumed, repaired or could not be told. */
  readonly assumed: readonly Problem[];
}

export interface Reading extends ReadingFigures {
  /** Strongest first. */
  readonly findings: readonly Finding[];
}
