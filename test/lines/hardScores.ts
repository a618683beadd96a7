/**
 * Lines that are harder to find, and accompaniment that looks like them. As in generatedScores.ts it is known what is there because it is
 * written so. What a reader would say of such places is the rule of the marks (marks/README.md); the figures of accompaniment are common practice.
 */
import { seeded, type Random } from '../../src/units/index.ts';
import {
  cutLine,
  lineFrom,
  noNoise,
  pick,
  scoreOf,
  steady,
  upTo,
  values,
  walk,
  type Cut,
  type Generated,
  type Stroke,
} from './generatedScores.ts';

/** How figures of accompaniment go round, in chord notes: repeated notes, Alberti basses, broken chords, two notes by turns. */
const figures: readonly (readonly number[])[] = [
  [0, 0, 0, 0],
  [0, 2, 1, 2],
  [0, 1, 2, 1],
  [0, 1, 0, 1],
];
const chords: readonly (readonly number[])[] = [
  [0, 2, 4],
  [1, 4, 6],
  [0, 3, 5],
  [-1, 1, 4],
];

/** Figures over changing chords, four values a chord. */
const figured = (random: Random, from: number, count: number, height: number): Stroke[] => {
  const figure = pick(random, figures);
  let chord = pick(random, chords);
  return Array.from({ length: count }, (_, i) => {
    if (i % 4 === 0) chord = pick(random, chords);
    return { at: from + i, length: 1, height: height + (chord[figure[i % 4] ?? 0] ?? 0) };
  });
};

/** A tune of uneven values, none of them a value of the stream and its neighbour's. */
const tune = (random: Random, from: number, to: number): Stroke[] => {
  const next = walk(random, 40);
  const result: Stroke[] = [];
  for (let at = from; at < to;)
    for (const length of pick(random, [[3, 1, 4], [4, 4], [6, 2], [2, 2, 4], [8]])) {
      result.push({ at, length, height: next() });
      at += length;
    }
  return result;
};

const bars = [8, 16, 24, 32, 40, 48];

/** Accompaniment in the value of a line, and nothing handed over. */
const accompaniments: Readonly<Record<string, (random: Random) => readonly (readonly Stroke[])[]>> = {
  'accompaniment that passes from part to part under a tune': (random) => [
    tune(random, 0, 64),
    bars.filter((_, i) => i % 2 === 0).flatMap((from) => figured(random, from, 8, 28)),
    bars.filter((_, i) => i % 2 === 1).flatMap((from) => figured(random, from, 8, 22)),
    steady(8, 8)(random, 64),
  ],
  'repeated notes that fill the long notes of a tune': (random) => {
    const next = walk(random, 38);
    const heads = [8, 16, 24, 32, 40].map((from) => ({ from, count: 3 + upTo(random, 3) }));
    const row = heads.flatMap(({ from, count }) =>
      Array.from({ length: count }, (_, i) => ({
        at: from + i,
        length: i < count - 1 ? 1 : 8 - count,
        height: next(),
      })),
    );
    const fill = heads.flatMap(({ from, count }) =>
      Array.from({ length: 8 - count }, (_, i) => ({ at: from + count + i, length: 1, height: 28 })),
    );
    return [row, fill, steady(8, 8)(random, 56)];
  },
  'two tunes in turn over repeated notes in a third part': (random) => {
    const next = walk(random, 38);
    const runs = (parity: number): Stroke[] =>
      bars
        .filter((_, i) => i % 2 === parity)
        .flatMap((from) =>
          Array.from({ length: 8 }, (_, i) => ({ at: from + i, length: 1, height: next() })),
        );
    return [runs(0), runs(1), Array.from({ length: 64 }, (_, at) => ({ at, length: 1, height: 25 }))];
  },
};

export const hardDecoys: Readonly<Record<string, (seed: number) => Generated>> = Object.fromEntries(
  Object.entries(accompaniments).map(([name, make]) => [
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

/** The last turn goes on for a while; whoever had the line before joins it a third below, to the same last note. */
const endsTogether = (random: Random, cut: Cut): Cut => {
  const last = cut.turns.at(-1);
  const before = cut.turns.at(-2);
  if (last === undefined || before === undefined) throw new Error('a line has two turns');
  const next = walk(random, 35);
  const from = last.from + 4 + upTo(random, 3);
  const to = from + 3 + upTo(random, 4);
  const own = cut.rows[last.player] ?? [];
  while (own.length > 0 && (own.at(-1)?.at ?? 0) >= last.from) own.pop();
  const heights = Array.from({ length: to - last.from + 1 }, () => next());
  heights.forEach((height, i) => own.push({ at: last.from + i, length: 1, height }));
  const other = cut.rows[before.player] ?? [];
  for (let at = from; at <= to; at++)
    other.push({ at, length: 1, height: (heights[at - last.from] ?? 0) - 2 });
  return { ...cut, turns: [...cut.turns.slice(0, -1), { ...last, to }] };
};

/** A part that repeats a note, or breaks a chord, in the value of the line, here and there within a turn. */
const fragments = (random: Random, cut: Cut): Stroke[] =>
  cut.turns.flatMap(({ from, to }) => {
    if (to - from < 4 || random() < 0.5) return [];
    return figured(random, from + 1, Math.min(4, to - from - 1), 20);
  });

export const hardLines: Readonly<Record<string, (seed: number) => Generated>> = {
  'a line that ends in parallel motion': (seed) => {
    const random = seeded(seed);
    const cut = endsTogether(random, cutLine(random, noNoise));
    return lineFrom(random, `seed ${seed}`, cut, [...cut.rows, steady(8, 8)(random, 60)]);
  },
  'a line above figures of accompaniment in its own value': (seed) => {
    const random = seeded(seed);
    const cut = cutLine(random, noNoise);
    return lineFrom(random, `seed ${seed}`, cut, [...cut.rows, fragments(random, cut)]);
  },
  'a line beside a tune': (seed) => {
    const random = seeded(seed);
    const cut = cutLine(random, noNoise);
    const to = (cut.turns.at(-1)?.to ?? 0) + 8;
    return lineFrom(random, `seed ${seed}`, cut, [...cut.rows, tune(random, 0, to)]);
  },
};
