/** What a voice and its overlays keep while they grow: ties, slurs and accidentals that wait for the next note. */
import type { Fraction } from '../../../units/index.ts';
import type { Pitch } from '../../notes.ts';
import { midiOf } from '../../pitch.ts';
import type { Group, Head, Marks } from './events.ts';
import { Slurs, type SlurPoint } from './slurs.ts';

export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/** A note head as read, before keys and bars have their say. */
export interface HeadRead {
  readonly letter: Pitch['step'];
  /** Octave by letter and signs alone: 4 for "C". */
  readonly octave: number;
  /** Semitones; null without an accidental. */
  readonly alter: number | null;
  readonly marks: Marks | null;
  readonly tie: boolean;
  /** Slurs that begin or end inside a chord. */
  readonly slurStart: number;
  readonly slurEnd: number;
}

/** How far accidentals reach: "%%propagate-accidentals". */
export type Reach = 'not' | 'octave' | 'pitch';

/** What belongs to one layer of a bar: the voice itself, or an overlay. */
export interface Layer {
  ties: { head: Head; whole: boolean }[];
  /** Where the last tie stands. */
  tieFrom: Omit<SlurPoint, 'head'>;
  readonly slurs: Slurs;
  last: Group | null;
  /** Grace notes included. */
  lastAny: Group | null;
  /** Factor that a broken rhythm leaves for the next note. */
  broken: Fraction | null;
  accidentals: Map<string, number>;
}

/** Overlays of one bar. */
export const mostOverlays = 15;

export const newLayer = (): Layer => ({
  ties: [],
  tieFrom: { group: 0, bar: 0 },
  slurs: new Slurs(),
  last: null,
  lastAny: null,
  broken: null,
  accidentals: new Map(),
});

/** How far lines of words, or of symbols, have come. */
export interface Progress {
  /** The first note of the lines that stand on each other now, and its bar. */
  from: number;
  fromBar: number;
  /** The first note that no line has spoken of. */
  next: number;
  nextBar: number;
  /** How many lines stand on each other. */
  stacked: number;
}

export interface EndingName {
  readonly numbers: readonly number[];
  readonly text: string;
}

/** A note that words may stand under. */
export interface Sung {
  readonly group: Group;
  /** Bars as the text has them: overlays count anew. */
  readonly bar: number;
}

/** Ties that wait join the notes of their pitch; those that find none are open, unless others of their chord do. */
export const joinTies = (layer: Layer, heads: readonly Head[]): void => {
  const waiting = layer.ties;
  if (waiting.length === 0) return;
  const key = ({ pitch, display }: Head): string =>
    pitch === null ? `${display?.step ?? ''}${display?.octave ?? 0}` : String(midiOf(pitch));
  const free = new Map<string, Head[]>();
  for (const head of heads) {
    const same = free.get(key(head));
    if (same === undefined) free.set(key(head), [head]);
    else same.push(head);
  }
  let joined = 0;
  const alone = waiting.filter(({ head }) => {
    const next = free.get(key(head))?.shift();
    if (next === undefined) return true;
    head.tieStart = true;
    next.tieStop = true;
    joined += 1;
    return false;
  });
  for (const { head, whole } of alone) if (!whole || joined === 0) head.tieStart = true;
  layer.ties = [];
};
