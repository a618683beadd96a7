/** Scores made at random from a seed: odd metres and lengths, voices with gaps, directions at any position. */
import { assemblePart } from '../../src/score/assemble.ts';
import { metre, metreLength } from '../../src/score/metre.ts';
import type { Bar, Direction, Mark, Part, Score } from '../../src/score/model.ts';
import { noMarks, type WrittenNote } from '../../src/score/notes.ts';
import { bpm, F, minus, note, plus, seeded, type Beats, type Random } from '../../src/units/index.ts';
import { barsOf, part, written } from './everything.ts';

const upTo = (random: Random, count: number): number => Math.floor(random() * count);
const pick = <T>(random: Random, items: readonly T[], fallback: T): T =>
  items[upTo(random, items.length)] ?? fallback;

/** Lengths with every small denominator, drawn by no single value for the most part. */
const length = (random: Random): Beats => note(1 + upTo(random, 5), 1 + upTo(random, 16));

const voiceOf = (random: Random, bar: Bar, staff: number, voice: string, staves: number): WrittenNote[] => {
  const notes: WrittenNote[] = [];
  const end = plus(bar.start, bar.length);
  let at = bar.start;
  while (F.less(at, end)) {
    const long = length(random);
    const duration = F.less(end, plus(at, long)) ? minus(end, at) : long;
    const kind = pick<'gap' | WrittenNote['kind']>(
      random,
      ['note', 'note', 'note', 'rest', 'grace', 'gap'],
      'note',
    );
    if (kind !== 'gap') {
      const one = written('', bar.index, at, kind === 'grace' ? note(0) : duration, {
        kind,
        // A voice may go over to another staff.
        staff: random() < 0.1 ? 1 + upTo(random, staves) : staff,
        voice,
        value: random() < 0.5 ? null : { type: 'eighth', dots: upTo(random, 3) },
        pitch:
          kind === 'rest'
            ? null
            : {
                step: pick(random, ['C', 'D', 'E', 'F', 'G', 'A', 'B'], 'C'),
                alter: pick(random, [-2, -1, -0.5, 0, 0, 0.5, 1], 0),
                octave: upTo(random, 10),
              },
        slash: kind === 'grace' && random() < 0.5,
        marks: kind === 'note' && random() < 0.2 ? { ...noMarks, articulations: ['staccato'] } : noMarks,
      });
      notes.push(one);
      if (kind !== 'rest' && random() < 0.2) notes.push({ ...one, chord: true });
    }
    if (kind !== 'grace') at = plus(at, duration);
  }
  return notes;
};

const inside = (random: Random, bar: Bar): Beats =>
  plus(bar.start, note(bar.length.n * BigInt(upTo(random, 13)), bar.length.d * 12n));

const partOf = (random: Random, id: string, bars: readonly Bar[]): Part => {
  const staves = 1 + upTo(random, 2);
  const notes = bars.flatMap((bar) =>
    Array.from({ length: 1 + upTo(random, 3) }, (_, index) =>
      voiceOf(random, bar, 1 + (index % staves), String(index + 1), staves),
    ).flat(),
  );
  const directions = bars
    .flatMap((bar) =>
      Array.from({ length: upTo(random, 4) }, (_, index): Direction => ({
        at: inside(random, bar),
        bar: bar.index,
        staff: 1 + upTo(random, staves),
        kind: 'words',
        value: `dolce ${index}`,
        number: 1,
        above: random() < 0.5,
      })),
    )
    .sort((a, b) => F.compare(a.at, b.at) || a.bar - b.bar);
  const draft = part(id, {
    staves,
    directions,
    clefs: bars.flatMap((bar) =>
      random() < 0.3 ? [{ at: bar.start, staff: 1, sign: 'G', line: 2, octave: 0 } as const] : [],
    ),
    written: notes.map((one, index) => ({ ...one, id: `${id}-${index}` })),
  });
  return assemblePart(draft, bars).part;
};

/** One to three parts of one to six bars. The same seed gives the same score. */
export const randomScore = (seed: number): Score => {
  const random = seeded(seed);
  const bars = barsOf(
    Array.from({ length: 1 + upTo(random, 6) }, (_, index) => {
      const own = metre(1 + upTo(random, 12), pick(random, [1, 2, 4, 8, 16], 4));
      return {
        metre: own,
        length: metreLength(own) ?? note(1),
        number: String(index + 1),
        repeatStart: random() < 0.2,
        repeatEnd: random() < 0.2 ? 2 + upTo(random, 3) : 0,
      };
    }),
  );
  const parts = Array.from({ length: 1 + upTo(random, 3) }, (_, index) =>
    partOf(random, `P${index + 1}`, bars),
  );
  const marks = bars.flatMap((bar): Mark[] =>
    random() < 0.3
      ? [
          {
            kind: 'tempo',
            at: inside(random, bar),
            bar: bar.index,
            unit: pick(random, [note(1, 4), note(3, 8), note(1, 2), note(7, 16), note(5, 8)], note(1, 4)),
            perMinute: bpm(F.fraction(3000 + upTo(random, 20_000), 100)),
            printed: true,
          },
        ]
      : [],
  );
  return { title: `Seed ${seed}`, source: 'musicxml', bars, parts, marks };
};
