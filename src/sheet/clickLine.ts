/**
 * The click as a line of music above the players' staves, so that the engraver spaces for it: a note on every click,
 * unseen rests between. The page draws a tick where each of these notes stands (ticks.ts).
 */
import { noteTypes, plainRest, type NoteValue, type WrittenNote } from '../score/notes.ts';
import type { Bar, Part } from '../score/model.ts';
import { beats, F, note, plus, type Beats } from '../units/index.ts';

/** A click on the page: where it stands, and its place in the timeline's list of clicks. */
export interface SheetClick {
  /** Index in the timeline's `clicks`. */
  readonly click: number;
  /** On the sheet's own axis, from the first count-in bar. */
  readonly at: Beats;
  /** Count word; empty for clicks in the music. */
  readonly word: string;
  readonly first: boolean;
}

/** Element id of a click's tick. */
export const tickId = (click: number): string => `tick-${click}`;

/** A drawn value with the tuplet it stands in. */
interface Drawn {
  readonly length: Beats;
  readonly value: NoteValue;
  readonly tuplet: { readonly actual: number; readonly normal: number };
}

/** Tuplets in which a length may be drawn; the plain one first. */
const tuplets = [1, 3, 5, 7, 9, 11, 13].map((actual) => ({
  actual,
  normal: 2 ** Math.floor(Math.log2(actual)),
}));

/** Smallest value drawn, a 1024th; the largest is a whole note. */
const plainTypes = noteTypes.slice(noteTypes.indexOf('whole'));

/** Plain values, largest first, that make up a length whose denominator is a power of two; null where they do not. */
const plainPieces = (length: F.Fraction): readonly { length: F.Fraction; value: NoteValue }[] | null => {
  const pieces: { length: F.Fraction; value: NoteValue }[] = [];
  let rest = length;
  while (F.atMost(F.one, rest)) {
    pieces.push({ length: F.one, value: { type: 'whole', dots: 0 } });
    rest = F.sub(rest, F.one);
  }
  for (const [power, type] of plainTypes.entries()) {
    const size = F.fraction(1, 2 ** power);
    if (power === 0 || F.less(rest, size)) continue;
    pieces.push({ length: size, value: { type, dots: 0 } });
    rest = F.sub(rest, size);
  }
  return F.isZero(rest) ? pieces : null;
};

/** A stretch of time as drawn values, in a tuplet if need be; null where no usual tuplet holds it. */
export const drawnPieces = (length: Beats): readonly Drawn[] | null => {
  for (const tuplet of tuplets) {
    const factor = F.fraction(tuplet.normal, tuplet.actual);
    const pieces = plainPieces(F.div(length, factor));
    if (pieces !== null)
      return pieces.map((piece) => ({
        length: beats(F.mul(piece.length, factor)),
        value: piece.value,
        tuplet,
      }));
  }
  return null;
};

/** The line itself, where the engraver puts what has no pitch. */
const middle = { step: 'E', octave: 4 } as const;

const piece = (bar: Bar, id: string, onset: Beats, duration: Beats): WrittenNote => ({
  ...plainRest,
  id,
  bar: bar.index,
  onset,
  duration,
});

/** A rest over a whole bar. */
export const barRest = (bar: Bar, id: string, staff = 1): WrittenNote => ({
  ...piece(bar, id, bar.start, bar.length),
  staff,
  voice: String((staff - 1) * 4 + 1),
  wholeBar: true,
});

/** Brackets around neighbours in the same tuplet. */
const bracketed = (row: readonly WrittenNote[]): readonly WrittenNote[] => {
  const same = (a: WrittenNote | undefined, b: WrittenNote | undefined): boolean =>
    a !== undefined && b !== undefined && a.tuplet.actual === b.tuplet.actual;
  return row.map((entry, i) => {
    if (entry.tuplet.actual === 1) return entry;
    const marks: { type: 'start' | 'stop'; number: number }[] = [];
    if (!same(row[i - 1], entry)) marks.push({ type: 'start', number: 1 });
    if (!same(entry, row[i + 1])) marks.push({ type: 'stop', number: 1 });
    return { ...entry, tupletMarks: marks };
  });
};

/** The line's notes and rests for one bar; clicks that no tuplet can place are told through `lost`. */
const barLine = (bar: Bar, clicks: readonly SheetClick[], lost: (click: SheetClick) => void) => {
  if (clicks.length === 0) return [barRest(bar, `gap-${bar.index}`)];
  const end = plus(bar.start, bar.length);
  const row: WrittenNote[] = [];
  let at: Beats = bar.start;
  const fill = (until: Beats, click: SheetClick | null): boolean => {
    const pieces = drawnPieces(beats(F.sub(until, at)));
    if (pieces === null) return false;
    pieces.forEach(({ length, value, tuplet }, i) => {
      const sounds = click !== null && i === 0;
      const plain = piece(bar, sounds ? tickId(click.click) : `gap-${bar.index}-${row.length}`, at, length);
      const lyric = { verse: '1', syllabic: 'single', text: click?.word ?? '', extend: false } as const;
      row.push({
        ...plain,
        value,
        tuplet,
        ...(sounds
          ? { kind: 'note', stem: 'none', display: middle, lyrics: click.word === '' ? [] : [lyric] }
          : { printed: false }),
      });
      at = plus(at, length);
    });
    return true;
  };
  let held: SheetClick | null = null;
  for (const click of clicks) {
    if (F.less(at, click.at) && !fill(click.at, held)) lost(click);
    else held = click;
  }
  if (F.less(at, end) && !fill(end, held) && held !== null) lost(held);
  return bracketed(row);
};

/** The part that carries the clicks; `clicks` by time, at most one at a position. */
export const clickPart = (
  id: string,
  bars: readonly Bar[],
  clicks: readonly SheetClick[],
  lost: (click: SheetClick) => void,
): Part => ({
  id,
  name: '',
  abbreviation: '',
  sound: '',
  program: null,
  staves: 1,
  transpositions: [],
  clefs: [{ at: note(0), staff: 1, sign: 'percussion', line: 1, octave: 0 }],
  keys: [],
  written: bars.flatMap((bar) => {
    const end = plus(bar.start, bar.length);
    const own = clicks.filter(({ at }) => F.atMost(bar.start, at) && F.less(at, end));
    return barLine(bar, own, lost);
  }),
  notes: [],
  directions: [],
});
