/**
 * The passage as a score of its own: its bars as played, once, with their printed numbers; the notes that the line
 * filter leaves out as rests. What players put on the stand and what other programs read.
 */
import { assemblePart } from '../score/assemble.ts';
import { metreLength, type Metre } from '../score/metre.ts';
import type { Bar, Clef, Direction, Key, Part, Score, Transposition } from '../score/model.ts';
import { F, type Beats } from '../units/index.ts';
import { balancedDirections } from './balance.ts';
import { extractMarks } from './extractMarks.ts';
import { extractNotes } from './extractNotes.ts';
import { writtenTime } from './ownMarks.ts';
import { placeIn, takenBars, type Taken } from './taken.ts';
import type { WorkedDrill } from './workOut.ts';

const isShort = (metre: Metre, length: Beats): boolean => F.less(length, metreLength(metre) ?? length);

const barOf = ({ index, start, length, source, offset }: Taken, last: boolean): Bar => ({
  index,
  number: source.number,
  start,
  length,
  metre: source.metre,
  // At the beginning of a piece a short bar reads as a pickup, whatever it was in the middle.
  pickup: source.pickup || F.isPositive(offset) || (index === 0 && isShort(source.metre, length)),
  repeatStart: false,
  repeatEnd: 0,
  repeatAfterJump: false,
  ending: null,
  jumps: [],
  barline: last ? 'final' : source.barline === 'final' ? 'double' : source.barline,
  fermata: source.fermata,
});

/** Things in force from a place on: what holds at each taken bar's beginning, and what changes inside it. */
const inForce = <T extends { readonly at: Beats }>(
  entries: readonly T[],
  taken: readonly Taken[],
  same: (a: T, b: T) => boolean,
  slot: (entry: T) => string,
): readonly T[] => {
  const result: T[] = [];
  const current = new Map<string, T>();
  const put = (entry: T, at: Beats) => {
    const held = current.get(slot(entry));
    if (held !== undefined && same(held, entry)) return;
    current.set(slot(entry), entry);
    result.push({ ...entry, at });
  };
  for (const bar of taken) {
    const from = F.add(bar.source.start, bar.offset);
    if (!bar.follows) {
      const held = new Map<string, T>();
      for (const entry of entries) if (F.atMost(entry.at, from)) held.set(slot(entry), entry);
      for (const entry of held.values()) put(entry, bar.start);
    }
    for (const entry of entries) {
      const place = placeIn(bar, entry.at);
      if (place !== null) put(entry, place);
    }
  }
  return result;
};

const sameTransposition = (a: Transposition, b: Transposition): boolean =>
  a.chromatic === b.chromatic && a.diatonic === b.diatonic;
const sameClef = (a: Clef, b: Clef): boolean =>
  a.sign === b.sign && a.line === b.line && a.octave === b.octave;
const sameKey = (a: Key, b: Key): boolean => a.fifths === b.fifths && a.mode === b.mode;

/** Where the passage itself says which time through a bar is, other times' markings are left out and its own are plain. */
const directionsIn = (
  directions: readonly Direction[],
  taken: readonly Taken[],
  written: ReturnType<typeof writtenTime>,
): readonly Direction[] =>
  balancedDirections(
    taken.flatMap((bar) => {
      const through = written(bar.source.index, bar.pass);
      return directions.flatMap((direction): readonly Direction[] => {
        const at = direction.bar === bar.source.index ? placeIn(bar, direction.at) : null;
        if (at === null) return [];
        const { time, ...plain } = direction;
        if (time === undefined || through === null) return [{ ...direction, at, bar: bar.index }];
        return time === through ? [{ ...plain, at, bar: bar.index }] : [];
      });
    }),
  );

const partOf = (
  part: Part,
  taken: readonly Taken[],
  worked: WorkedDrill,
  bars: readonly Bar[],
  options: ExtractOptions,
): Part => {
  const all = options.filtered === 'kept' ? new Set(part.notes.map(({ id }) => id)) : worked.kept;
  const draft = {
    ...part,
    transpositions: inForce(part.transpositions, taken, sameTransposition, () => ''),
    clefs: inForce(part.clefs, taken, sameClef, ({ staff }) => String(staff)),
    keys: inForce(part.keys, taken, sameKey, ({ staff }) => String(staff)),
    written: extractNotes(part, taken, all, worked.grids, options.named),
    directions: directionsIn(part.directions, taken, writtenTime(worked)),
  };
  return assemblePart(draft, bars).part;
};

export interface ExtractOptions {
  /** What becomes of notes that the line filter leaves out: rests, or they stay as they are. */
  readonly filtered?: 'rests' | 'kept';
  /** Told for each written note of the extract: its id there, and the score's written note that it was. */
  readonly named?: (id: string, source: string) => void;
}

/** The filtered passage of a worked drill as a score: bars in playing order, repeats written out. */
export const extractScore = (worked: WorkedDrill, options: ExtractOptions = {}): Score => {
  const taken = takenBars(worked.round);
  const bars = taken.map((bar, i) => barOf(bar, i === taken.length - 1));
  return {
    title: worked.score.title,
    source: worked.score.source,
    bars,
    parts: worked.parts.map((part) => partOf(part, taken, worked, bars, options)),
    marks: extractMarks(worked, taken),
  };
};
