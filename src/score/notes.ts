import type { Beats } from '../units/index.ts';

/** Written pitch. `alter` in semitones: -1 flat, 0.5 quarter-tone sharp. `octave` 4 holds middle C. */
export interface Pitch {
  readonly step: 'C' | 'D' | 'E' | 'F' | 'G' | 'A' | 'B';
  readonly alter: number;
  readonly octave: number;
}

/** The value drawn: "quarter" with dots, in a tuplet of `actual` in the time of `normal` (1:1 outside tuplets). */
export interface NoteValue {
  readonly type: NoteType;
  readonly dots: number;
}

/** MusicXML 4.0 note-type-value. */
export const noteTypes = [
  'maxima',
  'long',
  'breve',
  'whole',
  'half',
  'quarter',
  'eighth',
  '16th',
  '32nd',
  '64th',
  '128th',
  '256th',
  '512th',
  '1024th',
] as const;
export type NoteType = (typeof noteTypes)[number];

/** One drawn note, rest or grace note. A sounding note may be drawn as several, tied. */
export interface WrittenNote {
  /** Unique in the score and fit for XML. */
  readonly id: string;
  readonly kind: 'note' | 'rest' | 'grace';
  /** Index of the bar it is drawn in. */
  readonly bar: number;
  /** Written position. A grace note stands at the onset of the note that it leans on. */
  readonly onset: Beats;
  /** Sounding length of this drawn note; zero for grace notes. */
  readonly duration: Beats;
  readonly staff: number;
  readonly voice: string;
  /** Null where the file does not say. */
  readonly value: NoteValue | null;
  /** Product over nested tuplets, 1:1 outside. */
  readonly tuplet: { readonly actual: number; readonly normal: number };
  /** Where a tuplet bracket begins and ends, by number. */
  readonly tupletMarks: readonly { readonly type: 'start' | 'stop'; readonly number: number }[];
  /** Stands on the stem of the note before. */
  readonly chord: boolean;
  /** Null for rests and for unpitched notes. */
  readonly pitch: Pitch | null;
  /** Where an unpitched note or a rest is drawn on the staff. */
  readonly display: { readonly step: Pitch['step']; readonly octave: number } | null;
  /** A rest for the whole bar, whatever its length. */
  readonly wholeBar: boolean;
  readonly tieStart: boolean;
  readonly tieStop: boolean;
  /** For grace notes: with a stroke through the stem. */
  readonly slash: boolean;
  /** Printed small for orientation; does not sound. */
  readonly cue: boolean;
  /** Whether it is printed at all. */
  readonly printed: boolean;
  /** MusicXML accidental value shown before it, or empty. */
  readonly accidental: string;
  readonly stem: 'up' | 'down' | 'none' | 'double' | null;
  /** Empty for the usual head. */
  readonly notehead: string;
  /** MusicXML beam values from the outermost beam in. */
  readonly beams: readonly string[];
  readonly marks: NoteMarks;
  readonly lyrics: readonly Lyric[];
}

export interface NoteMarks {
  /** MusicXML element names: "staccato", "tenuto", "accent", "breath-mark". */
  readonly articulations: readonly string[];
  /** "trill-mark", "turn", "mordent", "tremolo", "wavy-line", ... */
  readonly ornaments: readonly string[];
  /** "up-bow", "fingering", ... with their text, if any. */
  readonly technical: readonly { readonly name: string; readonly text: string }[];
  /** The fermata's shape, "normal" for the usual one; null without. */
  readonly fermata: string | null;
  readonly slurs: readonly { readonly type: 'start' | 'stop' | 'continue'; readonly number: number }[];
  /** Dynamics written into the note itself. */
  readonly dynamics: readonly string[];
  readonly arpeggio: boolean;
  /** Those of the articulations and techniques, by name, that the players wrote themselves. */
  readonly own?: readonly string[];
}

export const noMarks: NoteMarks = {
  articulations: [],
  ornaments: [],
  technical: [],
  fermata: null,
  slurs: [],
  dynamics: [],
  arpeggio: false,
};

/** A plain rest on the first staff but for its id and place: what a new written note starts from. */
export const plainRest: Omit<WrittenNote, 'id' | 'bar' | 'onset' | 'duration'> = {
  kind: 'rest',
  staff: 1,
  voice: '1',
  value: null,
  tuplet: { actual: 1, normal: 1 },
  tupletMarks: [],
  chord: false,
  pitch: null,
  display: null,
  wholeBar: false,
  tieStart: false,
  tieStop: false,
  slash: false,
  cue: false,
  printed: true,
  accidental: '',
  stem: null,
  notehead: '',
  beams: [],
  marks: noMarks,
  lyrics: [],
};

export interface Lyric {
  /** The verse: "1". */
  readonly verse: string;
  readonly syllabic: 'single' | 'begin' | 'middle' | 'end';
  /** Elided syllables are joined by the elision sign. Empty for a lone extender. */
  readonly text: string;
  readonly extend: boolean;
}

/** One sounding note: tied notes merged into one. */
export interface Note {
  /** The id of the first written note of it. */
  readonly id: string;
  readonly part: string;
  readonly staff: number;
  readonly voice: string;
  /** Index of the bar it begins in. */
  readonly bar: number;
  readonly onset: Beats;
  /** Sounding length, above zero. */
  readonly duration: Beats;
  /** Null for unpitched percussion. */
  readonly pitch: Pitch | null;
  /** Sounding pitch as a MIDI key number, A4 = 69; fractions of semitones kept. Null for unpitched percussion. */
  readonly midi: number | null;
  /** Any written note of it stands in a tuplet. */
  readonly tuplet: boolean;
  /** Ids of the written notes it merges, in order. */
  readonly written: readonly string[];
}
