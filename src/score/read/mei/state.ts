/** What the reader keeps while it goes through a file. */
import { Refusal, type Fraction, type Place } from '../../../units/index.ts';
import type { Metre } from '../../metre.ts';
import type { Direction } from '../../model.ts';
import type { NoteMarks, WrittenNote } from '../../notes.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { PartHead } from '../drafts/layOut.ts';
import type { Log } from '../drafts/log.ts';
import type { XmlElement } from '../xml.ts';
import type { ClefSetting, KeySetting, Shift } from './defs.ts';

/** A written note while marks are still being added to it. */
export type Building = {
  -readonly [K in keyof WrittenNote]: WrittenNote[K];
} & { marks: BuildingMarks; tupletMarks: WrittenNote['tupletMarks'][number][] };

export interface BuildingMarks extends NoteMarks {
  articulations: string[];
  ornaments: string[];
  technical: { name: string; text: string }[];
  fermata: string | null;
  slurs: NoteMarks['slurs'][number][];
  arpeggio: boolean;
}

/** One drawn note or rest and where the file has it. */
export interface Drawn {
  readonly note: Building;
  readonly staff: StaffState;
  readonly layer: string;
  /** Number of notes drawn before it in the file: order among those at one place. */
  readonly order: number;
  /** The accidental written before it, as MEI names it; empty without. */
  readonly accid: string;
  /** Whether the file says how it is performed (`accid.ges`). */
  readonly performed: boolean;
  /** The octave that sounds is given (`oct.ges`), so that octave lines change nothing. */
  readonly octaveGiven: boolean;
}

export interface Remembered {
  pname: string;
  oct: string;
  duration: string;
  dots: string;
}

/** One staff of one score or part; `n` is unique there. */
export interface StaffState {
  readonly n: string;
  readonly part: PartState;
  /** Which staff of its part, from 1. */
  readonly number: number;
  key: KeySetting | null;
  clef: ClefSetting | null;
  metre: Metre | null;
  shift: Shift | null;
  /** The key that the last score definition with one gave for all staves. */
  scoreKey: KeySetting | null;
  /** Ticks of a quarter, where the file counts in them; 0 where it does not say. */
  ppq: number;
  /** What the drafts know of the above. */
  told: { key: KeySetting | null; clef: ClefSetting | null; metre: Metre | null; shift: Shift | null };
  defaultDuration: string;
  defaultOctave: string;
  cue: boolean;
  tablature: boolean;
  /** Notes by bar index, in file order. */
  readonly drawn: Map<number, Drawn[]>;
  /** By layer: what a note without them takes from the one before (MEI Guidelines 5, 4.2.5.1.1). */
  readonly last: Map<string, Remembered>;
  /** By layer: notes whose chord is marked as tied and that wait for the next. */
  readonly tied: Map<string, Drawn[]>;
  /** By layer: notes of a beam marked by attributes. */
  readonly beams: Map<string, Drawn[]>;
  /** By layer: tuplets over several elements that are open. */
  readonly spans: Map<string, TupletSpan[]>;
  /** The key signature that each bar begins with. */
  readonly keys: Map<number, KeySetting | null>;
  /** By layer: signs for several bars that still stand for bars to come. */
  readonly several: Map<string, Several>;
  /** By layer and verse: whether a syllable before is joined by a hyphen. */
  readonly words: Map<string, boolean>;
}

export interface Several {
  readonly kind: 'rest' | 'copy';
  readonly count: number;
  /** The bar that holds the sign. */
  readonly bar: number;
  left: number;
}

/** A rest (null: a space) for the whole bar, of which the length is known when all parts are read. */
export interface BarRest {
  readonly note: Building | null;
  readonly draft: MeasureDraft;
  readonly bar: number;
  readonly full: Fraction;
}

export interface TupletSpan {
  readonly actual: number;
  readonly normal: number;
  readonly start: string;
  readonly end: string;
  /** Ids of everything in it; empty: all from start to end. */
  readonly members: ReadonlySet<string>;
}

/** A part across all movements. */
export interface PartState {
  readonly index: number;
  head: PartHead;
  /** Numbers of its staves in the file. */
  readonly numbers: string;
  readonly drafts: (MeasureDraft | null)[];
  staves: number;
  /** Notes so far in each bar, for their ids. */
  count: number;
}

export interface BarState {
  readonly number: string;
  readonly implicit: boolean;
  /** Said not to fill its metre. */
  readonly incomplete: boolean;
  /** The metre's unit: what a `tstamp` counts. */
  unit: number;
}

/** A control event that waits until all notes are known. */
export interface Waiting {
  readonly element: XmlElement;
  readonly bar: number;
  readonly staves: ReadonlyMap<string, StaffState>;
  /** Where it stands if it does not say so itself: inside a layer, the cursor. */
  readonly at: Fraction;
  readonly layerStaff: StaffState | null;
  /** Which of the file's marks it is. */
  readonly order: number;
}

/** A direction on its way into its draft. */
export interface WaitingDirection {
  readonly draft: MeasureDraft;
  readonly direction: Direction;
  readonly order: number;
}

export interface World {
  readonly log: Log;
  readonly parts: PartState[];
  readonly bars: BarState[];
  /** Events by `xml:id`: a note, or all notes of a chord. */
  readonly events: Map<string, readonly Drawn[]>;
  readonly waiting: Waiting[];
  readonly barRests: BarRest[];
  readonly directions: WaitingDirection[];
  /** Definitions, which may set playback tempi, and the bars they stand before. */
  readonly tempi: { readonly element: XmlElement; readonly bar: number }[];
  /** Every staff of every movement. */
  readonly staves: StaffState[];
  /** By id of their first element. */
  readonly spans: ReadonlyMap<string, readonly TupletSpan[]>;
  /** Bar index of each measure, and of each section's and ending's bars, by id. */
  readonly barsById: Map<string, readonly number[]>;
  /** Whether accidentals have to be worked out from key signature and bar, because the file gives none. */
  readonly implied: boolean;
  /** Whether time stamps count ticks from 0 instead of beats from 1. */
  readonly ticks: boolean;
  order: number;
  /** Steps left of the work that a small file can ask for without end; see `spend`. */
  budget: number;
  /** Makes an id for a new part. */
  readonly newId: (wish: string) => string;
}

export const placeIn = (world: World, bar: number, part?: PartState): Place => ({
  ...(part === undefined ? {} : { part: part.head.id }),
  bar: world.bars[bar]?.number ?? '',
});

/** Keeps a mark until all notes are known. */
export const wait = (world: World, waiting: Omit<Waiting, 'order'>): void =>
  void world.waiting.push({ ...waiting, order: world.waiting.length });

/** Far more than any score asks for: repeated bars, marks over many notes, parts times bars. */
export const mostWork = 50_000_000;

/** Counts work that a file made to harm could ask for without end. Throws Refusal `file-too-large`. */
export const spend = (world: Pick<World, 'budget'>, steps: number): void => {
  world.budget -= steps;
  if (world.budget < 0)
    throw new Refusal(
      'file-too-large',
      'The file asks for more repeats, marks and parts than any score holds. It is damaged.',
    );
};
