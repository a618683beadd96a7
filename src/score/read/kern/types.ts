/** What the files of the kern reader share. */
import type { Fraction, Place } from '../../../units/index.ts';
import type { Lyric, WrittenNote } from '../../notes.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { PartHead } from '../drafts/layOut.ts';
import type { Log } from '../drafts/log.ts';
import type { Clock } from './clock.ts';
import type { Signs } from './records.ts';
import type { Recip } from './recip.ts';
import type { KernNote } from './token.ts';

export interface SourceRecord {
  readonly code: string;
  /** Without language, or in the language of the work. */
  readonly primary: boolean;
  readonly text: string;
}

/** Which spine of notes belongs to which part. */
export interface Seat {
  readonly part: number;
  /** From 1, the topmost. */
  readonly staff: number;
  /** Among the spines of its staff, the uppermost voice first. */
  readonly rank: number;
}

export interface PartPlan {
  readonly head: PartHead;
  readonly staves: number;
}

/** How the file is laid out, known before its notes are read. */
export interface Plan {
  readonly parts: readonly PartPlan[];
  /** By the id of a spine of notes. */
  readonly seats: ReadonlyMap<number, Seat>;
  /** By the id of a spine of words or dynamics: the spine of notes that it belongs to, and its verse. */
  readonly beside: ReadonlyMap<number, { readonly kern: number; readonly verse: number }>;
}

/** A note, rest or chord note as read, before its bar is complete. */
export interface Entry {
  readonly voice: string;
  readonly staff: number;
  /** From the bar line; of a column that is not placed yet, a guess. */
  onset: Fraction;
  readonly token: KernNote;
  /** Null for grace notes without a value. */
  readonly recip: Recip | null;
  readonly chord: boolean;
  readonly small: boolean;
  readonly stemless: boolean;
  /** Said to be a cue, which does not sound. */
  readonly cue: boolean;
  readonly percussion: boolean;
  readonly beams: readonly string[];
  readonly slurs: WrittenNote['marks']['slurs'];
  readonly lyrics: Lyric[];
}

/** What holds for a part while it is read. */
export interface PartState {
  /** From sounding to written. */
  shift: { readonly diatonic: number; readonly chromatic: number };
  /** Sharps above zero as written, by staff. */
  readonly keys: Map<number, number>;
  entries: Entry[];
  /** Notes, by place and alteration, from which a tie goes on. */
  readonly ties: Set<string>;
  /** Slurs that are open, and in which spine they began. */
  readonly slurs: {
    readonly number: number;
    readonly elisions: number;
    readonly track: number;
    readonly voice: string;
  }[];
}

/** A column while it is read. */
export interface Strand {
  /** Where its next note begins, from the bar line. */
  cursor: Fraction;
  /** Not placed in its bar yet: it begins wherever its line stands. */
  fresh: boolean;
  /** Notes that began on lines of which no other column told the time. */
  floating: Entry[];
  /** The bar holds a rest for the whole bar here, which may be of any length. */
  resting: boolean;
  voice: string;
  beams: number;
  graceBeams: number;
  /** Words that wait for the next note. */
  texts: readonly LayoutText[];
  small: boolean;
  /** An alternative to what is read elsewhere: not kept. */
  ossia: boolean;
  /** The label of an alternative version or verse. */
  strophe: string;
  percussion: boolean;
}

/** One layout remark: "!LO:TX:a:t=rit." */
export interface LayoutText {
  readonly kind: string;
  readonly text: string;
  readonly above: boolean | null;
  readonly line: number;
}

/** What the parts of the reader hand each other. */
export interface Desk {
  readonly log: Log;
  readonly plan: Plan;
  readonly parts: readonly PartState[];
  readonly clock: Clock;
  readonly signs: Signs;
  /** How far each bar that was read reaches. */
  readonly lengths: Fraction[];
  /** Index of the bar that is being read. */
  bar: number;
  /** What part and bar say, made when first asked for. */
  readonly draft: (part: number, bar: number) => MeasureDraft;
  readonly place: (part: number | null, line?: number) => Place;
}
