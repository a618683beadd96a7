/**
 * The score as Levare keeps it: what every reader delivers and everything else starts from. Positions are exact
 * fractions of a whole note from the first bar line of the score as written ("written position"), before any repeat
 * is unfolded. All of it is plain data and never changed.
 */
import type { Beats, Bpm } from '../units/index.ts';
import type { Metre } from './metre.ts';
import type { Note, WrittenNote } from './notes.ts';

export type SourceFormat = 'musicxml' | 'mei' | 'kern' | 'abc' | 'midi' | 'barplan';

export interface Score {
  /** Empty where the file gives none. */
  readonly title: string;
  readonly source: SourceFormat;
  /** The bars that all parts share, in written order. Never empty. */
  readonly bars: readonly Bar[];
  /** In score order. Empty for a bar plan, which has bars only. */
  readonly parts: readonly Part[];
  /** Tempo, tempo words and rehearsal marks, which hold for everyone; by position. */
  readonly marks: readonly Mark[];
}

export interface Bar {
  /** From 0, in written order. */
  readonly index: number;
  /** As printed: "12", "12a", "X1". Not unique; empty where none is printed. */
  readonly number: string;
  readonly start: Beats;
  /** As it is: the longest content of any part where that differs from the metre; never padded. Above zero. */
  readonly length: Beats;
  readonly metre: Metre;
  /** Shorter than its metre and counted from the end of the full bar: an upbeat bar or the rest of a split bar. */
  readonly pickup: boolean;
  readonly repeatStart: boolean;
  /** How often the section that ends here is played: 0 without a repeat sign, else 2 or more. */
  readonly repeatEnd: number;
  /** Whether that repeat is also observed after a da capo or dal segno, where the score says so. */
  readonly repeatAfterJump: boolean;
  /** The ending bracket over this bar, if any. */
  readonly ending: Ending | null;
  readonly jumps: readonly Jump[];
  /** The bar line at the right edge. */
  readonly barline: 'regular' | 'double' | 'final' | 'dashed' | 'dotted' | 'none' | 'other';
  /** A fermata over the bar line at the right edge: time stands still between this bar and whichever is played next. */
  readonly fermata: boolean;
}

export interface Ending {
  /** Which times through: [1], [2], [1, 2]. From 1. */
  readonly numbers: readonly number[];
  /** As printed. */
  readonly text: string;
  /** Whether the bracket begins with this bar. */
  readonly begins: boolean;
  /** How the bracket ends with this bar, if it does: "stop" closes it, "discontinue" leaves it open. */
  readonly ends: 'stop' | 'discontinue' | null;
}

/** Segno and coda stand at the start of their bar; the others act at its end. Several of a name are told apart by it. */
export type Jump =
  | { readonly kind: 'segno' | 'coda' | 'dalSegno' | 'toCoda'; readonly name: string }
  | { readonly kind: 'daCapo' | 'fine' };

export type Mark =
  /** `perMinute` beats of length `unit`; `text` is what is printed beside it, such as "Allegro". */
  | {
      readonly kind: 'tempo';
      readonly at: Beats;
      readonly bar: number;
      readonly unit: Beats;
      readonly perMinute: Bpm;
      /** Whether the page shows the figure; a playback tempo alone is not shown. */
      readonly printed: boolean;
    }
  /** A change of beat such as "quarter = dotted quarter": the old `from` lasts as long as the new `to`. */
  | {
      readonly kind: 'relation';
      readonly at: Beats;
      readonly bar: number;
      readonly from: Beats;
      readonly to: Beats;
    }
  /** "Allegro", "rit.", "a tempo". */
  | {
      readonly kind: 'tempoWords';
      readonly at: Beats;
      readonly bar: number;
      readonly text: string;
      /** Written by the players, not printed in the score. */
      readonly own?: boolean;
    }
  | { readonly kind: 'rehearsal'; readonly at: Beats; readonly bar: number; readonly text: string };

export interface Part {
  /** Unique; a letter first, then letters, digits, "-" or "_", so that it may stand in XML and on a command line. */
  readonly id: string;
  readonly name: string;
  readonly abbreviation: string;
  /** The standard sound id of MusicXML ("wind.flutes.recorder.bass") where the file gives one, else empty. */
  readonly sound: string;
  /** General MIDI program, 1 to 128, where the file gives one. */
  readonly program: number | null;
  /** Number of staves, from 1. */
  readonly staves: number;
  /** From written to sounding pitch; by position. No entry means written pitch sounds. */
  readonly transpositions: readonly Transposition[];
  readonly clefs: readonly Clef[];
  readonly keys: readonly Key[];
  /** Notes, rests and grace notes as written, by (bar, onset, staff, voice), chords in file order. */
  readonly written: readonly WrittenNote[];
  /** What sounds: ties merged, by (onset, pitch). Grace notes stand in `written` only. */
  readonly notes: readonly Note[];
  readonly directions: readonly Direction[];
}

export interface Transposition {
  readonly at: Beats;
  /** Staff steps and semitones from written to sounding, octaves included: B flat clarinet -1 and -2. */
  readonly diatonic: number;
  readonly chromatic: number;
}

export interface Clef {
  readonly at: Beats;
  readonly staff: number;
  readonly sign: 'G' | 'F' | 'C' | 'percussion' | 'TAB' | 'none';
  /** Staff line from the bottom, from 1. */
  readonly line: number;
  /** The small 8 or 15: -1 below, 1 above. The written pitch already tells it: no second transposition. */
  readonly octave: number;
}

export interface Key {
  readonly at: Beats;
  /** Null: all staves. */
  readonly staff: number | null;
  /** Sharps above zero, flats below. */
  readonly fifths: number;
  readonly mode: string;
}

/** What is written for one part beside its notes. */
export interface Direction {
  readonly at: Beats;
  readonly bar: number;
  readonly staff: number;
  readonly kind: 'dynamics' | 'words' | 'wedge' | 'octaveShift' | 'pedal' | 'dashes' | 'bracket' | 'other';
  /** Dynamics: "pp", "sfz". Words: the text. Wedge: "crescendo", "diminuendo", "stop". Lines: "start", "stop", ... */
  readonly value: string;
  /** Which of several lines running at once, from 1. */
  readonly number: number;
  readonly above: boolean;
  /** Written by the players, not printed in the score. */
  readonly own?: boolean;
  /** The players' own: it says who leads, or where a cue comes from. */
  readonly role?: 'leads' | 'cue';
  /** The players' own: it concerns all of them, and stands in every part alike. */
  readonly shared?: boolean;
  /** The players' own: the only time through in which it counts, from 1. Left out: each time. */
  readonly time?: number;
}
