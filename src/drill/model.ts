/**
 * The drill and what it becomes. A `Drill` is what a player asked for, in the words of section 7 of the design, as
 * small plain data. A `Timeline` is the same drill worked out: every click and note on one time axis.
 */
import type { TempoMap } from '../rhythm/tempo.ts';
import type { Metre } from '../score/metre.ts';
import type { Beats, Samples, Seconds } from '../units/index.ts';

export interface Drill {
  readonly format: 'levare.drill/2';
  readonly score: {
    /** SHA-256 of the score file's bytes, in hexadecimal. */
    readonly sha256: string;
    readonly title: string;
    /** The score's file name in the drill's folder. */
    readonly file: string;
  };
  /** "12-15", "12", "A-C", "all". */
  readonly bars: string;
  /** Which time through; null: the one that the passage needs. From 1. */
  readonly pass: number | null;
  /** Part ids; null: all. */
  readonly parts: readonly string[] | null;
  /** "all", "1/8+", "1/16", "1/8-", "1/8t", or several joined by commas. */
  readonly keep: string;
  /** A placement: "every", "half", "weak", "after", "bar", "2bars", "1/8", "hemiola:14-15", "none", "1 2&"; bars apart: "weak,12:1 3". */
  readonly click: string;
  /** Bars with the click, then bars without. */
  readonly tacet: { readonly with: number; readonly without: number } | null;
  /** The note value that is counted, "1/8"; null: the metre's own beat. */
  readonly count: string | null;
  /** Groups of an irregular metre, "2+2+3"; null: as beamed, or the usual ones. */
  readonly groups: string | null;
  /** Tempo steps in order, each "90", "1/4.=60" or "80%"; empty: as the score says. */
  readonly tempo: readonly string[];
  /** How often the passage is played at each tempo step. From 1. */
  readonly times: number;
  /** Whole bars of silence between repetitions; null: one, or none where each is counted in. */
  readonly gap: number | null;
  /** "auto", "none", "first", "each", a number of bars, or "first:2", "each:1". */
  readonly countIn: string;
  /** "auto", "none" or a length such as "1/4". */
  readonly upbeat: string;
  /** At fermatas: "count" stops the click and counts one bar again; "through" keeps on. */
  readonly holds: 'count' | 'through';
  /** Octaves to add to a part whose file does not say how it sounds, by part id. */
  readonly octaves: Readonly<Record<string, number>>;
}

/** A stretch of the drill's own time axis. Written bars are laid end to end with all that is put between them. */
export interface DrillBar {
  readonly kind: 'count-in' | 'bar' | 'gap' | 'hold';
  /** On the drill's axis, from 0. */
  readonly start: Beats;
  readonly length: Beats;
  readonly metre: Metre;
  /** Null for what is not in the score. */
  readonly barIndex: number | null;
  /** Printed number; null for what is not in the score. */
  readonly number: string | null;
  /** Written position at which the sounding stretch of this bar begins; null for what is not in the score. */
  readonly written: Beats | null;
  /** Which time through the bar is played; null for what is not in the score. */
  readonly pass: number | null;
  /** Repetition, from 1; a count-in belongs to the repetition that it leads into. */
  readonly rep: number;
}

export interface ClickEvent {
  readonly kind: 'count-in' | 'click';
  /** On the drill's axis. */
  readonly at: Beats;
  readonly time: Seconds;
  readonly sample: Samples;
  readonly bar: string | null;
  readonly barIndex: number | null;
  /** As in section 6 of the design: "2", "2+1/2". */
  readonly beat: string;
  readonly pass: number | null;
  readonly rep: number;
  /** The count word; null for clicks in the music. */
  readonly word: string | null;
  /** On the first beat of a bar. */
  readonly first: boolean;
}

export interface NoteEvent {
  /** Unique in the timeline. */
  readonly id: string;
  /** Id of the score's note. */
  readonly note: string;
  readonly part: string;
  readonly at: Beats;
  readonly length: Beats;
  readonly time: Seconds;
  readonly duration: Seconds;
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
  readonly pass: number;
  readonly rep: number;
  /** Sounding; null for unpitched percussion. */
  readonly midi: number | null;
  /** Whether the line filter keeps it. */
  readonly kept: boolean;
}

export interface Timeline {
  /** Hz. */
  readonly sampleRate: number;
  /** Laid end to end from 0. */
  readonly bars: readonly DrillBar[];
  /** From the drill's axis to seconds. */
  readonly tempo: TempoMap;
  /** By time. */
  readonly clicks: readonly ClickEvent[];
  /** By time, then part. */
  readonly notes: readonly NoteEvent[];
  /** Of the whole drill; clicks and notes end within it. */
  readonly duration: Seconds;
}
