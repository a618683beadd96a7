/** What a voice holds before its positions are known: lengths still change by broken rhythms, words are still to come. */
import type { Beats, Fraction } from '../../../units/index.ts';
import type { Lyric, NoteMarks, Pitch, WrittenNote } from '../../notes.ts';
import type { EndingDraft, MeasureDraft, RepeatDraft, StyleDraft } from '../drafts/draft.ts';

/** Signs on a note or rest. */
export interface Marks {
  readonly articulations: string[];
  readonly ornaments: string[];
  readonly technical: { readonly name: string; readonly text: string }[];
  fermata: boolean;
  arpeggio: boolean;
}

export const emptyMarks = (): Marks => ({
  articulations: [],
  ornaments: [],
  technical: [],
  fermata: false,
  arpeggio: false,
});

/** One note head. */
export interface Head {
  /** Null on a drum staff. */
  readonly pitch: Pitch | null;
  readonly display: WrittenNote['display'];
  readonly accidental: string;
  tieStart: boolean;
  tieStop: boolean;
  marks: Marks | null;
  slurs: NoteMarks['slurs'][number][] | null;
}

/** A note, a chord, a rest, or one of the grace notes in braces. */
export interface Group {
  readonly kind: 'note' | 'rest' | 'grace';
  /** Empty for a rest. */
  readonly heads: readonly Head[];
  readonly hidden: boolean;
  readonly wholeBar: boolean;
  /** As written, tuplets left out; whole notes. Zero for a rest of a whole bar. */
  length: Fraction;
  readonly tuplet: WrittenNote['tuplet'];
  tupletMarks: WrittenNote['tupletMarks'][number][] | null;
  /** No beam joins it to the note before. */
  apart: boolean;
  marks: Marks | null;
  lyrics: Lyric[] | null;
  readonly slash: boolean;
  readonly stem: WrittenNote['stem'];
  /** What symbol lines say here. */
  puts: Put[] | null;
}

/** Something without length, which is put into its bar when its place there is known. */
export type Put = (
  at: Beats,
  out: MeasureDraft,
  spot: { readonly bar: number; readonly staff: number },
) => void;

export type Event = Group | Put;

export interface VoiceBar {
  /** The first is the voice itself, the others are overlays of this bar. */
  readonly layers: Event[][];
  /** Holds a note or rest with a length. */
  filled: boolean;
  readonly repeats: RepeatDraft[];
  readonly endings: EndingDraft[];
  readonly styles: StyleDraft[];
  fermata: boolean;
  /** The number that %%setbarnb gives it. */
  number: number | null;
  /** Of the text, from 1: where the bar begins. */
  readonly line: number;
}

export const emptyBar = (line: number): VoiceBar => ({
  layers: [[]],
  filled: false,
  repeats: [],
  endings: [],
  styles: [],
  fermata: false,
  number: null,
  line,
});

export const plainTuplet: WrittenNote['tuplet'] = { actual: 1, normal: 1 };
