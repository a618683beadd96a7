/** Random bar structures, as wild as the model allows, for the property that a written plan reads back the same. */
import fc from 'fast-check';
import { metreLength, type Metre } from '../../src/score/metre.ts';
import type { Bar, Ending, Jump, Mark, Score } from '../../src/score/model.ts';
import { beats, bpm, F, type Fraction } from '../../src/units/index.ts';

const component = fc.record({
  numerators: fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 3 }),
  unit: fc.constantFrom(1, 2, 4, 8, 16, 32, 3, 7),
});
const metres: fc.Arbitrary<Metre> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .constantFrom(2, 3, 4, 5, 6)
      .map((n) => ({ components: [{ numerators: [n], unit: 4 }], symbol: 'numbers' as const })),
  },
  {
    weight: 2,
    arbitrary: fc
      .record({
        components: fc.array(component, { maxLength: 3 }),
        symbol: fc.constantFrom('numbers' as const, 'common' as const, 'cut' as const),
        // Music without metre prints neither figures nor C.
      })
      .map((value) => (value.components.length === 0 ? { ...value, symbol: 'numbers' as const } : value)),
  },
  {
    weight: 1,
    arbitrary: fc.constant({ components: [{ numerators: [4], unit: 4 }], symbol: 'common' as const }),
  },
  {
    weight: 1,
    arbitrary: fc.constant({ components: [{ numerators: [2], unit: 2 }], symbol: 'cut' as const }),
  },
);
const positive = fc
  .tuple(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 97 }))
  .map(([n, d]) => F.fraction(n, d));
const texts = fc.oneof(
  fc.constantFrom('A', 'B2', 'Allegro ma non troppo', 'rit. – "dolce"', 'x;y#z', 'a\nb', '\\', '“schön”', ''),
  fc.string({ maxLength: 8 }),
  fc.string({ maxLength: 6, unit: 'grapheme' }),
);
const numbers = fc.oneof(
  { weight: 12, arbitrary: fc.constant(null) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', '12a', 'X1', '007', '2nd', '3x', 'x3', '0', '1', '12-13', '5th bar'),
  },
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 60 }).map(String) },
  { weight: 1, arbitrary: texts },
);
const ends: fc.Arbitrary<Ending['ends']> = fc.constantFrom(null, null, 'stop', 'discontinue');
const endings: fc.Arbitrary<Ending | null> = fc.oneof(
  { weight: 8, arbitrary: fc.constant(null) },
  {
    weight: 2,
    arbitrary: fc.record({
      numbers: fc.constantFrom([1], [2], [1, 2], [3], []),
      text: fc.constantFrom('1.', '2.', '1. 2.', '1.-2.', ''),
      begins: fc.boolean(),
      ends,
    }),
  },
);
const jumps: fc.Arbitrary<Jump> = fc.oneof(
  fc.record({
    kind: fc.constantFrom('segno' as const, 'coda' as const, 'dalSegno' as const, 'toCoda' as const),
    name: fc.oneof(fc.constant(''), texts),
  }),
  fc.record({ kind: fc.constantFrom('daCapo' as const, 'fine' as const) }),
);
const barlines: fc.Arbitrary<Bar['barline']> = fc.constantFrom(
  'regular',
  'regular',
  'regular',
  'double',
  'final',
  'dashed',
  'dotted',
  'none',
  'other',
);

interface Seed {
  readonly number: string | null;
  readonly metre: Metre | null;
  readonly length: Fraction | null;
  readonly pickup: boolean;
  readonly repeatStart: boolean;
  readonly repeatEnd: number;
  readonly after: boolean;
  readonly ending: Ending | null;
  readonly jumps: readonly Jump[];
  readonly barline: Bar['barline'];
  readonly fermata: boolean;
}

const rarely = fc.integer({ min: 0, max: 11 }).map((n) => n === 0);
const seeds: fc.Arbitrary<Seed> = fc.record({
  number: numbers,
  metre: fc.option(metres, { freq: 2 }),
  length: fc.option(positive, { freq: 1 }).map((length) => length),
  pickup: rarely,
  repeatStart: rarely,
  repeatEnd: fc.constantFrom(0, 0, 0, 0, 0, 2, 2, 3, 12),
  after: rarely,
  ending: endings,
  jumps: fc.oneof(
    { weight: 9, arbitrary: fc.constant([]) },
    { weight: 1, arbitrary: fc.array(jumps, { maxLength: 3 }) },
  ),
  barline: barlines,
  fermata: rarely,
});

const toBars = (list: readonly Seed[]): Bar[] => {
  let start: Fraction = F.zero;
  let metre: Metre = { components: [{ numerators: [4], unit: 4 }], symbol: 'numbers' };
  let counter = 0;
  return list.map((seed, index) => {
    metre = seed.metre ?? metre;
    counter += 1;
    // Most bars are whole, so that runs of bars are written as ranges.
    const full = metreLength(metre);
    const length =
      full !== null && (seed.length === null || index % 3 !== 0) ? full : (seed.length ?? F.fraction(1, 4));
    const bar: Bar = {
      index,
      number: seed.number ?? String(counter),
      start: beats(start),
      length: beats(length),
      metre,
      pickup: seed.pickup,
      repeatStart: seed.repeatStart,
      repeatEnd: seed.repeatEnd,
      repeatAfterJump: seed.repeatEnd > 0 && seed.after,
      ending: seed.ending,
      jumps: seed.jumps,
      barline: seed.barline,
      fermata: seed.fermata,
    };
    start = F.add(start, length);
    return bar;
  });
};

const markSeeds = fc.array(
  fc.record({
    bar: fc.nat(1000),
    share: fc.constantFrom([0, 1], [0, 1], [1, 2], [1, 3], [5, 7], [1, 1]),
    kind: fc.constantFrom('tempo' as const, 'relation' as const, 'tempoWords' as const, 'rehearsal' as const),
    a: positive,
    b: positive,
    printed: fc.boolean(),
    text: texts,
  }),
  { maxLength: 8 },
);

export const barStructures: fc.Arbitrary<Pick<Score, 'title' | 'bars' | 'parts' | 'marks'>> = fc
  .tuple(texts, fc.boolean(), fc.array(seeds, { minLength: 1, maxLength: 30 }), markSeeds)
  .map(([title, pickup, list, marks]) => {
    const [first, ...others] = list;
    const opened =
      pickup && first !== undefined
        ? [{ ...first, number: '0', pickup: true, length: F.fraction(1, 8) }, ...others]
        : list;
    const bars = toBars(opened);
    const made = marks.flatMap(({ bar: wanted, share, kind, a, b, printed, text }): Mark[] => {
      const bar = bars[wanted % bars.length];
      if (bar === undefined) return [];
      const at = beats(F.add(bar.start, F.mul(bar.length, F.fraction(share[0], share[1]))));
      const place = { at, bar: bar.index };
      if (kind === 'tempo') return [{ kind, ...place, unit: beats(a), perMinute: bpm(b), printed }];
      if (kind === 'relation') return [{ kind, ...place, from: beats(a), to: beats(b) }];
      return [{ kind, ...place, text }];
    });
    return { title, bars, parts: [], marks: made.sort((x, y) => F.compare(x.at, y.at)) };
  });
