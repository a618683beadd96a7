/** What is told of a reading: findings as plain data, without a word of any language. */

/** Every kind of finding. */
export const findingKinds = [
  'spread',
  'lead',
  'first-entry',
  'entry',
  'cued-entry',
  'drift',
  'bar-tempo',
  'bar-line',
  'seam-time',
  'seam-level',
  'seam-length',
  'seam-level-slope',
  'seam-tempo-slope',
  'after-syncopation',
  'length',
  'evenness',
  'bend',
] as const;
export type FindingKind = (typeof findingKinds)[number];

/** Why a finding is to be taken with caution. */
export const cautions = ['few-notes', 'wide-interval', 'unsure-notes'] as const;
export type Caution = (typeof cautions)[number];

/** One thing to try. */
export const tries = [
  'again',
  'subdivide',
  'swap-lead',
  'breathe',
  'cue-breath',
  'less-click',
  'click-a-bar',
  'lead-to-bar',
  'play-along',
  'match-level',
  'match-length',
  'one-direction',
  'one-pulse',
  'click-between',
  'agree-length',
  'agree-inequality',
  'bend-together',
] as const;
export type Try = (typeof tries)[number];

/** Milliseconds; quarters a minute, or those for each quarter; decibels, or those for each quarter; shares of the time to the next note; a factor. */
export const findingUnits = ['ms', 'pace', 'pace-slope', 'dB', 'dB-slope', 'share', 'factor'] as const;
export type FindingUnit = (typeof findingUnits)[number];

export interface Finding {
  readonly kind: FindingKind;
  /**
   * Whether the interval leaves out that there is nothing. False: what is seen lies within the uncertainty and is not to be told
   * from together.
   */
  readonly told: boolean;
  /** Whether it is less than is likely to be heard. */
  readonly small: boolean;
  /** Where it is, or where it is clearest; a whole passage begins there. */
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
  readonly pass: number;
  /** The first repetition that it rests on. */
  readonly rep: number;
  /** Repetitions that it rests on: what is told of one place rests on all times that it was played and heard. */
  readonly times: number;
  /** The last bar of what lasts several bars, by its printed number; else null. */
  readonly toBar: string | null;
  /** Who takes part. Of a lead, who is ahead first; of a seam, who gives first; of a cued entry, who cues first. No one's fault. */
  readonly parts: readonly string[];
  /** The figure and an interval that holds it 95 times in 100, wider where it is the clearest of many (`among`). */
  readonly figure: {
    readonly unit: FindingUnit;
    readonly value: number;
    readonly low: number;
    readonly high: number;
  };
  /** Notes, pairs or places that it rests on. */
  readonly n: number;
  /** Figures of the kind that were looked at. */
  readonly among: number;
  /** Evenness: the note value, as a fraction of a whole note. Else null. */
  readonly value: string | null;
  /** Tempo: what is asked for, in quarters a minute. Else null. */
  readonly asked: number | null;
  readonly caution: readonly Caution[];
  readonly toTry: Try;
  /** What the order follows, from 0; a rule of thumb, for no one's eyes. */
  readonly weight: number;
}
