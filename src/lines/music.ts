/**
 * The score made ready for looking: positions in whole numbers ("ticks") for speed, each player's notes as strikes (chords as one), voice by
 * voice and all together.
 */
import { asWritten, barGrids, type BarGrid } from '../rhythm/beats.ts';
import type { Part, Score } from '../score/model.ts';
import type { Note } from '../score/notes.ts';
import { movements } from '../score/playing/movements.ts';
import { F, type Beats, type Fraction } from '../units/index.ts';

/** What a player begins at one moment: a note, or the notes of a chord. Times in ticks. */
export interface Strike {
  readonly at: number;
  /** When the longest of its notes ends. */
  readonly end: number;
  readonly onset: Beats;
  /** Index of the bar it begins in. */
  readonly bar: number;
  /** Highest sounding key number, A4 = 69; null for unpitched notes. */
  readonly midi: number | null;
  /** Staff steps above C0 of that note as it sounds, spelling kept; null for unpitched notes. */
  readonly step: number | null;
  /** How many notes are struck. */
  readonly size: number;
}

export interface Player {
  readonly part: Part;
  readonly index: number;
  /** All that the player strikes, in order. */
  readonly strikes: readonly Strike[];
  /** The same voice by voice; with several voices, all of them together once more. */
  readonly voices: readonly (readonly Strike[])[];
}

export interface BarTicks {
  readonly index: number;
  readonly start: number;
  readonly end: number;
  /** Length of its first beat. */
  readonly beat: number;
  /** The same, but the whole bar where that beat is an eighth or less in a bar of three: such bars are felt in one. */
  readonly pulse: number;
  /** Ticks at which its beats begin. */
  readonly beats: readonly number[];
}

export interface Music {
  readonly score: Score;
  readonly grids: readonly BarGrid[];
  /** Ticks in a whole note. */
  readonly whole: number;
  readonly bars: readonly BarTicks[];
  /**
   * By bar index: the number of the stretch that a bar belongs to. Bars of one stretch follow each other as they are played; a new one begins
   * with each movement, and after an ending from which the music goes back.
   */
  readonly stretch: readonly number[];
  /** By bar index: the number of its movement. */
  readonly movementOf: readonly number[];
  /** Indices of the bars with which movements begin. */
  readonly heads: ReadonlySet<number>;
  readonly players: readonly Player[];
}

/** Ticks in a whole note where the file's own lengths have no common measure below a thousand million: 2^6 x 3^2 x 5 x 7 x 48. */
const coarse = 967_680;
const finest = 1_000_000_000n;
/** So that every value that is looked for, and half of it, is a whole number of ticks. */
const needed = F.fraction(1, 192);

const wholeOf = (score: Score): number => {
  const positions: Fraction[] = [needed];
  for (const { start, length } of score.bars) positions.push(start, length);
  for (const { notes } of score.parts)
    for (const { onset, duration } of notes) positions.push(onset, duration);
  const seen = new Set<bigint>();
  let whole = 1n;
  for (const { d } of positions) {
    if (seen.has(d)) continue;
    seen.add(d);
    whole = F.commonDenominator([F.fraction(1n, whole), F.fraction(1n, d)]);
    if (whole > finest) return coarse;
  }
  return Number(whole);
};

/** A position or length in ticks; to the nearest where the measure is coarse. */
export const ticksOf = (whole: number, value: Fraction): number =>
  Number(F.floor(F.add(F.mul(value, F.fraction(whole)), F.fraction(1, 2))));

const letters = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/** Staff steps of a sounding note: the written ones, moved by the part's transposition there. */
const stepOf = (part: Part, { pitch, onset }: Note): number | null => {
  if (pitch === null) return null;
  const moved = part.transpositions.findLast(({ at }) => F.atMost(at, onset))?.diatonic ?? 0;
  return 7 * pitch.octave + letters.indexOf(pitch.step) + moved;
};

const strikesOf = (part: Part, notes: readonly Note[], whole: number): readonly Strike[] => {
  const result: Strike[] = [];
  for (const note of notes) {
    const at = ticksOf(whole, note.onset);
    const end = Math.max(at + 1, ticksOf(whole, F.add(note.onset, note.duration)));
    const before = result.at(-1);
    const step = stepOf(part, note);
    if (before?.at !== at) {
      result.push({ at, end, onset: note.onset, bar: note.bar, midi: note.midi, step, size: 1 });
      continue;
    }
    const higher = note.midi !== null && (before.midi === null || note.midi > before.midi);
    result[result.length - 1] = {
      ...before,
      end: Math.max(before.end, end),
      midi: higher ? note.midi : before.midi,
      step: higher ? step : before.step,
      size: before.size + 1,
    };
  }
  return result;
};

const playerOf = (part: Part, index: number, whole: number): Player => {
  const notes = [...part.notes].sort((a, b) => F.compare(a.onset, b.onset));
  const byVoice = new Map<string, Note[]>();
  for (const note of notes) {
    const key = `${note.staff} ${note.voice}`;
    const row = byVoice.get(key);
    if (row === undefined) byVoice.set(key, [note]);
    else row.push(note);
  }
  const strikes = strikesOf(part, notes, whole);
  const single = [...byVoice.values()].map((row) => strikesOf(part, row, whole));
  return { part, index, strikes, voices: single.length > 1 ? [...single, strikes] : [strikes] };
};

const stretchesOf = (score: Score, heads: ReadonlySet<number>): readonly number[] => {
  let number = 0;
  return score.bars.map(({ index }) => {
    const before = score.bars[index - 1];
    const goesBack = before !== undefined && before.ending !== null && before.repeatEnd > 0;
    if (index > 0 && (heads.has(index) || goesBack)) number += 1;
    return number;
  });
};

/** Makes a score ready. Never fails; a score without parts has no players. */
export const musicOf = (score: Score): Music => {
  const whole = wholeOf(score);
  const grids = barGrids(score, asWritten);
  const parts = movements(score.bars);
  const heads = new Set(parts.map(({ from }) => from));
  const movementOf = score.bars.map(() => 0);
  parts.forEach(({ from, to }, number) => movementOf.fill(number, from, to + 1));
  const bars = score.bars.map(({ index, start, length }) => {
    const grid = grids[index];
    const beat = Math.max(1, ticksOf(whole, grid?.beats[0]?.length ?? length));
    const inOne = grid?.beats.length === 3 && 8 * beat <= whole;
    const [first, end] = [ticksOf(whole, start), ticksOf(whole, F.add(start, length))];
    const own = grid?.beats.map(({ offset }) => first + ticksOf(whole, F.sub(offset, grid.shift))) ?? [];
    return {
      index,
      start: first,
      end,
      beats: own.filter((at) => at >= first && at < end),
      beat,
      pulse: inOne ? 3 * beat : beat,
    };
  });
  return {
    score,
    grids,
    whole,
    bars,
    stretch: stretchesOf(score, heads),
    movementOf,
    heads,
    players: score.parts.map((part, index) => playerOf(part, index, whole)),
  };
};

/** The last of a row sorted by `at` that begins at or before a tick; -1 where none does. */
export const lastAt = (row: readonly { readonly at: number }[], tick: number): number => {
  let low = 0;
  let high = row.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((row[middle]?.at ?? Infinity) <= tick) low = middle + 1;
    else high = middle;
  }
  return low - 1;
};

/** What a player strikes at this very tick. */
export const strikeAt = (row: readonly Strike[], tick: number): Strike | null => {
  const found = row[lastAt(row, tick)];
  return found?.at === tick ? found : null;
};

/** Strikes with from <= at < to. */
export const strikesIn = (row: readonly Strike[], from: number, to: number): readonly Strike[] =>
  row.slice(lastAt(row, from - 1) + 1, lastAt(row, to - 1) + 1);

/** Whether something that was struck before still sounds at a tick. */
export const soundsOn = (row: readonly Strike[], tick: number): boolean => {
  // Of a player's chords and voices an earlier note may outlast later ones; a few back are enough to look at.
  const last = lastAt(row, tick - 1);
  for (let i = last; i >= 0 && i > last - 8; i--) if ((row[i]?.end ?? 0) > tick) return true;
  return false;
};

/** The bar that holds a tick; the last bar for what lies behind it. */
export const barAt = (music: Music, tick: number): BarTicks | null => {
  let low = 0;
  let high = music.bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((music.bars[middle]?.start ?? Infinity) <= tick) low = middle;
    else high = middle - 1;
  }
  return music.bars[low] ?? null;
};
