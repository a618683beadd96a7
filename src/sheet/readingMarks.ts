/** What is pencilled on the pages of a reading, as plain data: where it belongs, how large it is, and what it says to those who do not see it. */

/** What every mark says in words, and by which an app finds it: `id` is that of its element. */
interface Said {
  readonly id: string;
  /** A few words, and the whole. */
  readonly title: string;
  readonly desc: string;
}

/** A note on the page: the score's sounding note and the time through. */
export interface MarkNote {
  readonly part: string;
  /** Id of the score's note. */
  readonly note: string;
  readonly pass: number;
}

/** How far a note lies from where the others put it, in milliseconds: below 0 it comes before. */
export interface DisplacedNote extends Said, MarkNote {
  readonly kind: 'apart' | 'click';
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A note of which the beginning is known only roughly, or is unsure, or that was not found. */
export interface UnsureNote extends Said, MarkNote {
  readonly kind: 'rough' | 'unsure' | 'missing';
}

/** A hand-over, at the first note of the one who takes over. */
export interface HandOver extends Said, MarkNote {
  readonly kind: 'seam';
  /** Part id of the one who gives. */
  readonly from: string;
  /** What can be told of it, a line each; none where nothing can. */
  readonly lines: readonly string[];
}

/** Written bars that are played one after the other. */
export interface MarkBars {
  readonly barIndex: number;
  readonly pass: number;
  /** How many bars from there on. */
  readonly bars: number;
}

/** Bars in which the tempo moves on or holds back. */
export interface PaceArrow extends Said, MarkBars {
  readonly kind: 'pace';
  readonly on: boolean;
  readonly label: string;
}

/** Words in the margin at a bar, and their number on the music. */
export interface MarginWords extends Said, MarkBars {
  readonly kind: 'words';
  readonly number: string;
  /** Paragraphs. */
  readonly texts: readonly string[];
}

export interface ReadingMarks {
  readonly notes: readonly (DisplacedNote | UnsureNote)[];
  readonly seams: readonly HandOver[];
  readonly arrows: readonly PaceArrow[];
  readonly words: readonly MarginWords[];
}

export type ReadingMark = (DisplacedNote | UnsureNote) | HandOver | PaceArrow | MarginWords;

/** Millimetres of a millisecond on paper: 7 mm are 50 ms. Our own choice by eye: less than what is hardly heard (20 ms) is still seen. */
export const millimetresPerMs = 0.14;

/** What the scale in the page's head stands for, in milliseconds: its line is 7 mm long. */
export const scaleMs = 50;
