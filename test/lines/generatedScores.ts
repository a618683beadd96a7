/**
 * Scores made at random from a seed, of which it is known where a line is divided and where each player takes over, because they are built
 * from it; and scores that look like it and hold none. Independent of the rule that finds them: only notes are written here.
 */
import { assemblePart } from '../../src/score/assemble.ts';
import { metre, metreLength, type Metre } from '../../src/score/metre.ts';
import type { Bar, Score } from '../../src/score/model.ts';
import type { Pitch, WrittenNote } from '../../src/score/notes.ts';
import { beats, bpm, F, note, seeded, type Beats, type Random } from '../../src/units/index.ts';
import { barsOf, part, written } from '../support/everything.ts';
import { tempoMark } from '../support/drills.ts';

/** A note of a player, in values from the beginning of the score. */
export interface Stroke {
  readonly at: number;
  readonly length: number;
  readonly height: number;
}

export interface TrueSeam {
  readonly at: Beats;
  readonly from: string;
  readonly to: string;
}

export interface Generated {
  readonly score: Score;
  readonly value: Beats;
  /** Null where there is no line. */
  readonly line: { readonly from: Beats; readonly to: Beats; readonly seams: readonly TrueSeam[] } | null;
  readonly told: string;
}

export const upTo = (random: Random, count: number): number => Math.floor(random() * count);
export const pick = <T>(random: Random, items: readonly T[]): T => {
  const found = items[upTo(random, items.length)];
  if (found === undefined) throw new Error('nothing to pick from');
  return found;
};

export const values: readonly Beats[] = [2, 4, 8, 16, 32].flatMap((d) => [note(1, d), note(2, 3 * d)]);
const metres: readonly Metre[] = [
  metre(4, 4),
  metre(3, 4),
  metre(2, 2),
  metre(6, 8),
  metre(2, 4),
  metre(5, 4),
  metre(3, 8),
];

const letters = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
const pitchAt = (height: number): Pitch => ({
  step: letters[((height % 7) + 7) % 7] ?? 'C',
  alter: 0,
  octave: Math.floor(height / 7),
});

/** A walk by steps and small leaps that hardly repeats a note. */
export const walk = (random: Random, from: number): (() => number) => {
  let height = from;
  return () => {
    height += pick(random, [1, 1, 2, -1, -1, -2]);
    if (height > from + 9) height -= 3;
    if (height < from - 9) height += 3;
    return height;
  };
};

/** Writes strokes as notes tied over bar lines. */
const notesOf = (id: string, strokes: readonly Stroke[], value: Beats, bars: readonly Bar[]): WrittenNote[] =>
  strokes.flatMap(({ at, length, height }, n) => {
    const start = F.mul(value, F.fraction(Math.round(at * 12), 12));
    const end = F.add(start, F.mul(value, F.fraction(Math.round(length * 12), 12)));
    const pieces = bars.flatMap((bar): { from: F.Fraction; to: F.Fraction; bar: number }[] => {
      const from = F.max(start, bar.start);
      const to = F.min(end, F.add(bar.start, bar.length));
      return F.less(from, to) ? [{ from, to, bar: bar.index }] : [];
    });
    return pieces.map((piece, i) =>
      written(`${id}-${n}-${i}`, piece.bar, beats(piece.from), beats(F.sub(piece.to, piece.from)), {
        pitch: pitchAt(height),
        value: null,
        tieStop: i > 0,
        tieStart: i < pieces.length - 1,
      }),
    );
  });

export const scoreOf = (
  random: Random,
  players: readonly (readonly Stroke[])[],
  value: Beats,
  length: number,
): { score: Score; told: string } => {
  const own = pick(random, metres);
  const whole = metreLength(own) ?? note(1);
  const count = Number(F.floor(F.div(F.mul(value, F.fraction(length)), whole))) + 1;
  const bars = barsOf(
    Array.from({ length: count }, (_, i) => ({ metre: own, length: whole, number: String(i + 1) })),
  );
  const parts = players.map((strokes, i) => {
    const id = `P${i + 1}`;
    return assemblePart(part(id, { name: `Player ${id}`, written: notesOf(id, strokes, value, bars) }), bars)
      .part;
  });
  const marks = [tempoMark(note(0), 0, 40 + upTo(random, 120))];
  return {
    score: { title: 'Generated', source: 'musicxml', bars, parts, marks },
    told: `${count} bars, ${own.components[0]?.numerators[0] ?? 0}/${own.components[0]?.unit ?? 0}, ${bpm(F.fraction(1)).d} value ${F.format(value)}`,
  };
};

export type Texture = (random: Random, length: number) => Stroke[];

export const steady =
  (each: number, sounding: number, offset = 0): Texture =>
  (random, length) => {
    const next = walk(random, 25);
    const result: Stroke[] = [];
    for (let at = offset; at + sounding <= length; at += each)
      result.push({ at, length: sounding, height: next() });
    return result;
  };

/** Rhythms in which no two strokes lie one value apart. */
const dotted: Texture = (random, length) => {
  const next = walk(random, 30);
  const result: Stroke[] = [];
  for (let at = 0; at + 4 <= length;) {
    const cell = pick(random, [[1.5, 0.5, 2], [2, 2], [3], [1.5, 2.5]]);
    for (const one of cell) {
      result.push({ at, length: one, height: next() });
      at += one;
    }
  }
  return result;
};

/** What plays beside a line: long notes, half and a quarter as fast, twice as fast, the off-beats, an uneven tune, nothing. */
const textures: readonly Texture[] = [
  steady(8, 8),
  steady(2, 2),
  steady(4, 3),
  steady(0.5, 0.5),
  steady(2, 1, 1),
  dotted,
  () => [],
];

export interface Noise {
  /** Of the seams, the share at which both play two notes together. */
  readonly overlaps: number;
  /** Of the turns of five notes or more, the share in which one inner note is a rest. */
  readonly rests: number;
}

export const noNoise: Noise = { overlaps: 0, rests: 0 };

/** A line cut into turns, before it is written down; positions in values. */
export interface Cut {
  readonly value: Beats;
  /** What each of those who share it plays. */
  readonly rows: Stroke[][];
  /** Who has each turn, and where it begins and ends. */
  readonly turns: readonly { readonly player: number; readonly from: number; readonly to: number }[];
  readonly seams: readonly TrueSeam[];
  /** How many other parts play beside it. */
  readonly others: number;
}

/** A line cut into two to four parts at random seams. */
export const cutLine = (random: Random, noise: Noise): Cut => {
  const value = pick(random, values);
  const sharing = 2 + upTo(random, 3);
  const others = upTo(random, 4);
  const start = 4 + upTo(random, 13);
  const turns = 4 + upTo(random, 7);
  const rows: Stroke[][] = Array.from({ length: sharing }, () => []);
  const heights = Array.from({ length: sharing }, (_, i) => walk(random, 38 - 6 * i));
  const seams: TrueSeam[] = [];
  const told: { player: number; from: number; to: number }[] = [];
  const at = (place: number): Beats => beats(F.mul(value, F.fraction(place)));
  let player = upTo(random, sharing);
  let place = start;
  const counts = Array.from({ length: turns }, () => 2 + upTo(random, 7));
  let entered = false;
  for (let turn = 0; turn < turns; turn++) {
    const count = counts[turn] ?? 2;
    const row = rows[player];
    const height = heights[player];
    if (row === undefined || height === undefined) throw new Error('no such player');
    const missing = count >= 5 && random() < noise.rests ? 2 + upTo(random, count - 4) : -1;
    for (let i = 0; i < count; i++)
      if (i !== missing) row.push({ at: place + i, length: 1, height: height() });
    const last = place + count - 1;
    told.push({ player, from: place, to: last });
    if (turn === turns - 1) break;
    const previous = player;
    const next = pick(
      random,
      rows.map((_, i) => i).filter((i) => i !== player),
    );
    // The note that ends a turn: short, or held over while others go on, but not into the player's own next turn.
    // A pair that is joined on both sides would be no turn: the others could play on through it.
    const joined: boolean = random() < 0.5 && !(entered && count === 2);
    entered = joined;
    const overlap = !joined && count >= 4 && (counts[turn + 1] ?? 0) >= 4 && random() < noise.overlaps;
    place = joined ? last : overlap ? last - 1 : last + 1;
    player = next;
    const held = random() < 0.4;
    const final = row.at(-1);
    if (held && final !== undefined) row[row.length - 1] = { ...final, length: 2 };
    // Their own note must not stand in the way of the next turn: two turns must lie between two of one player.
    seams.push({ at: at(place), from: `P${previous + 1}`, to: `P${next + 1}` });
    const nextRow = rows[next];
    const before = nextRow?.at(-1);
    if (nextRow !== undefined && before !== undefined && before.at + before.length > place)
      nextRow[nextRow.length - 1] = { ...before, length: place - before.at };
  }
  return { value, rows, turns: told, seams, others };
};

/** The score of a cut line and of what plays beside it. */
export const lineFrom = (
  random: Random,
  told: string,
  { value, turns, seams }: Cut,
  players: readonly (readonly Stroke[])[],
): Generated => {
  const [first, last] = [turns[0]?.from ?? 0, turns.at(-1)?.to ?? 0];
  const made = scoreOf(random, players, value, last + 12);
  const at = (place: number): Beats => beats(F.mul(value, F.fraction(place)));
  const line = { from: at(first), to: at(last), seams };
  return { score: made.score, value, told: `${told}: ${made.told}`, line };
};

/** A line under and over other textures. */
export const lineScore = (seed: number, noise: Noise = noNoise): Generated => {
  const random = seeded(seed);
  const cut = cutLine(random, noise);
  const length = (cut.turns.at(-1)?.to ?? 0) + 12;
  const beside = Array.from({ length: cut.others }, () => pick(random, textures)(random, length));
  return lineFrom(random, `seed ${seed}`, cut, [...cut.rows, ...beside]);
};

const scale = (from: number, count: number, height: number, up = 1): Stroke[] =>
  Array.from({ length: count }, (_, i) => ({ at: from + i, length: 1, height: height + up * (i % 8) }));

/** Scores that look as if a line were divided. */
export const decoys: Readonly<Record<string, (seed: number) => Generated>> = Object.fromEntries(
  Object.entries<(random: Random) => readonly (readonly Stroke[])[]>({
    'parallel motion': (random) => {
      const runs = [8, 24, 40].map((from) => scale(from, 8, 30 + upTo(random, 5)));
      const row = runs.flat();
      return [row, row.map((one) => ({ ...one, height: one.height - 2 })), steady(8, 8)(random, 60)];
    },
    'a melody over a running bass': (random) => [
      [8, 24, 40].flatMap((from) => scale(from, 7, 35)),
      [16, 32, 48].flatMap((from) => scale(from, 7, 30)),
      steady(1, 1)(random, 64),
    ],
    'a lone scale, passed nowhere': (random) => [
      scale(8 + upTo(random, 8), 12, 35),
      steady(8, 8)(random, 48),
      steady(4, 3)(random, 48),
    ],
    'an echo after a gap': (random) => {
      const gap = 4 + upTo(random, 4);
      return [scale(8, 6, 35), scale(14 + gap, 6, 30), scale(20 + 2 * gap, 6, 28)];
    },
    'a bass and its after-beats': (random) => [steady(2, 1, 1)(random, 48), steady(2, 1)(random, 48)],
    'chords on the beat': (random) => [
      steady(2, 2)(random, 48),
      steady(2, 2)(random, 48),
      steady(4, 4)(random, 48),
    ],
  }).map(([name, make]) => [
    name,
    (seed: number): Generated => {
      const random = seeded(seed);
      const value = pick(random, values);
      const players = make(random);
      const { score, told } = scoreOf(random, players, value, 66);
      return { score, value, told: `${name}, seed ${seed}: ${told}`, line: null };
    },
  ]),
);
