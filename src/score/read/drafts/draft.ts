/**
 * What one part says about one bar, before the bar's place is known: every position here counts from the bar's own
 * left edge.
 */
import { F, type Fraction } from '../../../units/index.ts';
import type { Metre } from '../../metre.ts';
import type { Clef, Direction, Jump, Key, Mark, Transposition } from '../../model.ts';
import type { WrittenNote } from '../../notes.ts';

export interface MetreDraft {
  readonly at: Fraction;
  readonly metre: Metre;
}

/** Where a repeat, ending or sign stands in its bar. */
export type Edge = 'left' | 'right' | 'middle';

export interface RepeatDraft {
  readonly edge: Edge;
  readonly direction: 'forward' | 'backward';
  /** 0 where the file does not say. */
  readonly times: number;
  readonly afterJump: boolean;
}

export interface EndingDraft {
  readonly edge: Edge;
  readonly type: 'start' | 'stop' | 'discontinue';
  readonly numbers: readonly number[];
  readonly text: string;
}

export interface StyleDraft {
  readonly edge: Edge;
  readonly style: string;
}

export interface FermataDraft {
  readonly edge: Edge;
  /** The shape as the file names it; empty for the usual one. */
  readonly shape: string;
}

export interface JumpDraft {
  readonly at: Fraction;
  readonly kind: Jump['kind'];
  readonly name: string;
  /** `sound` is what the file says for playback; signs and words are what it prints. */
  readonly from: 'sound' | 'sign' | 'words';
  readonly text: string;
}

/** A tempo mark of which the figure on the page is no plain number carries `vague`: the printed figure. */
export interface MarkDraft {
  readonly mark: Mark;
  readonly vague: string | null;
}

export interface MeasureDraft {
  /** As printed. */
  readonly number: string;
  readonly implicit: boolean;
  readonly notes: WrittenNote[];
  readonly directions: Direction[];
  readonly clefs: Clef[];
  readonly keys: Key[];
  readonly transpositions: Transposition[];
  readonly metres: MetreDraft[];
  readonly marks: MarkDraft[];
  readonly jumps: JumpDraft[];
  readonly repeats: RepeatDraft[];
  readonly endings: EndingDraft[];
  readonly styles: StyleDraft[];
  /** Over bar lines; those over notes stand with the notes. */
  readonly fermatas: FermataDraft[];
  /** How far notes, rests and forward moves reach, whole-bar rests left out. */
  extent: Fraction;
  /** How far whole-bar rests reach. */
  restExtent: Fraction;
}

export const emptyMeasure = (number: string, implicit: boolean): MeasureDraft => ({
  number,
  implicit,
  notes: [],
  directions: [],
  clefs: [],
  keys: [],
  transpositions: [],
  metres: [],
  marks: [],
  jumps: [],
  repeats: [],
  endings: [],
  styles: [],
  fermatas: [],
  extent: F.zero,
  restExtent: F.zero,
});
