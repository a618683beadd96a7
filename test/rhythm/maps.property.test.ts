/** Every map times its inverse is the identity, over random bars, signs and tempi; the playing order always ends. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  playedToSample,
  playedToSeconds,
  playedToWritten,
  sampleToPlayed,
  secondsToPlayed,
  writtenToPlayed,
} from '../../src/rhythm/positions.ts';
import { scoreTempo } from '../../src/rhythm/scoreTempo.ts';
import {
  gradual,
  positionAtSeconds,
  secondsAtPosition,
  steady,
  tempoMap,
  type TempoMap,
} from '../../src/rhythm/tempo.ts';
import type { Bar, Jump, Mark, Score } from '../../src/score/model.ts';
import { metre, metreLength } from '../../src/score/metre.ts';
import { mostVisits, playingOrder } from '../../src/score/playing.ts';
import { F, beats, bpm, note, plus, seconds, type Beats } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

const metres = fc.constantFrom<[number, number]>(
  [4, 4],
  [3, 4],
  [2, 2],
  [6, 8],
  [7, 8],
  [5, 16],
  [12, 8],
  [3, 2],
);
const jump = fc.oneof(
  fc.record({
    kind: fc.constantFrom('segno' as const, 'coda' as const, 'dalSegno' as const, 'toCoda' as const),
    name: fc.constantFrom('', 'a', 'b'),
  }),
  fc.record({ kind: fc.constantFrom('daCapo' as const, 'fine' as const) }),
) satisfies fc.Arbitrary<Jump>;
const ending = fc.record({
  numbers: fc.array(fc.integer({ min: -1, max: 5 }), { maxLength: 3 }),
  text: fc.constant(''),
  begins: fc.boolean(),
  ends: fc.constantFrom('stop' as const, 'discontinue' as const, null),
});
const rarely = <T>(some: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(some, { freq: 3 });

/** Signs without any sense. */
const junk = fc.record({
  metre: metres,
  shorter: rarely(fc.integer({ min: 2, max: 6 })),
  repeatStart: fc.boolean(),
  repeatEnd: fc.constantFrom(0, 0, 0, 2, 2, 3, 7, 100_000),
  repeatAfterJump: fc.boolean(),
  ending: rarely(ending),
  jumps: fc.array(jump, { maxLength: 2 }),
  barline: fc.constantFrom('regular' as const, 'double' as const, 'final' as const),
  fermata: fc.boolean(),
});
type Junk = typeof junk extends fc.Arbitrary<infer T> ? T : never;

const barsOf = (list: readonly Junk[]): Bar[] => {
  let start = note(0);
  return list.map(({ metre: [numerator, unit], shorter, ...signs }, index) => {
    const full = metreLength(metre(numerator, unit)) ?? note(1);
    const length = shorter === null ? full : beats(F.div(full, F.fraction(shorter)));
    const bar: Bar = {
      ...signs,
      index,
      number: String(index),
      start,
      length,
      metre: metre(numerator, unit),
      pickup: shorter !== null && index === 0,
    };
    start = plus(start, length);
    return bar;
  });
};
const junkBars = fc.array(junk, { minLength: 1, maxLength: 14 }).map(barsOf);

/** A place in the score: a bar and a fraction of it. */
const spot = fc.record({
  bar: fc.nat(),
  part: fc.tuple(fc.nat(96), fc.constantFrom(97, 120, 128)).map(([n, d]) => F.fraction(n, d)),
});
const placed = (
  bars: readonly Bar[],
  { bar: nth, part }: { bar: number; part: F.Fraction },
): { at: Beats; bar: number } => {
  const bar = bars[nth % bars.length];
  return bar === undefined
    ? { at: note(0), bar: 0 }
    : { at: plus(bar.start, beats(F.mul(bar.length, part))), bar: bar.index };
};
const marked = fc
  .tuple(
    junkBars,
    fc.array(
      fc.record({
        spot,
        kind: fc.constantFrom('tempo', 'relation', 'rit.', 'accel.', 'a tempo', 'Tempo I', 'Adagio'),
        rate: fc.integer({ min: 0, max: 40_000 }),
        printed: fc.boolean(),
        units: fc.tuple(
          fc.constantFrom(note(1, 4), note(3, 8), note(1, 2)),
          fc.constantFrom(note(1, 4), note(3, 8), note(1, 8)),
        ),
      }),
      { maxLength: 8 },
    ),
  )
  .map(([bars, list]): Score => {
    const marks = list.map(({ spot: where, kind, rate, printed, units: [unit, other] }): Mark => {
      const place = placed(bars, where);
      if (kind === 'tempo') return { kind, ...place, unit, perMinute: bpm(F.fraction(rate, 100)), printed };
      if (kind === 'relation') return { kind, ...place, from: unit, to: other };
      return { kind: 'tempoWords', ...place, text: kind };
    });
    return scoreOf(
      bars,
      marks.sort((a, b) => F.compare(a.at, b.at)),
    );
  });

const pace = fc
  .tuple(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 999 }))
  .map(([n, d]) => F.fraction(n, d));
const length = fc
  .tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 1, max: 96 }))
  .map(([n, d]) => note(n, d));
const map: fc.Arbitrary<TempoMap> = fc
  .array(
    fc.oneof(
      fc.record({ pace, length }).map((piece) => steady(piece.pace, piece.length)),
      fc.record({ from: pace, to: pace, length }).map((piece) => gradual(piece.from, piece.to, piece.length)),
    ),
    { minLength: 1, maxLength: 8 },
  )
  .map(tempoMap);
const position = fc
  .tuple(fc.integer({ min: -2000, max: 40_000 }), fc.integer({ min: 1, max: 997 }))
  .map(([n, d]) => note(n, d));

describe('tempo maps', () => {
  it('give every position back exactly', () => {
    fc.assert(
      fc.property(map, position, (tempo, at) => {
        expect(positionAtSeconds(tempo, secondsAtPosition(tempo, at))).toEqual(at);
      }),
    );
  });
  it('give every time back to within 1e-12 s', () => {
    fc.assert(
      fc.property(map, position, (tempo, some) => {
        const time = seconds(some);
        const off = F.sub(secondsAtPosition(tempo, positionAtSeconds(tempo, time)), time);
        expect(F.less(F.max(off, F.sub(F.zero, off)), F.fraction(1, 10n ** 12n))).toBe(true);
      }),
    );
  });
  it('never run backwards', () => {
    fc.assert(
      fc.property(map, position, position, (tempo, a, b) => {
        const order = F.compare(secondsAtPosition(tempo, a), secondsAtPosition(tempo, b));
        expect(order).toBe(F.compare(a, b));
      }),
    );
  });
});

describe('playing order', () => {
  it('ends, lays the visits end to end, counts the passes and says what is never played', () => {
    fc.assert(
      fc.property(junkBars, fc.constantFrom(undefined, true, false), (bars, again) => {
        const { order, problems } = playingOrder(
          scoreOf(bars),
          again === undefined ? {} : { repeatsAfterJump: again },
        );
        expect(order.visits.length).toBeLessThanOrEqual(mostVisits + bars.length);
        let at = note(0);
        const counts = new Map<number, number>();
        for (const [i, visit] of order.visits.entries()) {
          const pass = (counts.get(visit.barIndex) ?? 0) + 1;
          counts.set(visit.barIndex, pass);
          if (visit.index !== i || visit.pass !== pass || !F.equal(visit.start, at))
            expect(visit).toEqual({ i, pass, at });
          at = plus(at, visit.length);
        }
        expect(order.length).toEqual(at);
        expect(order.visits.length).toBeGreaterThan(0);
        const left = bars.some(({ index }) => !counts.has(index));
        expect(problems.some(({ code }) => code === 'bar-never-played')).toBe(left);
      }),
      { numRuns: 300 },
    );
  });
});

describe('positions', () => {
  const small = marked
    .map((score) => ({ score, order: playingOrder(score).order }))
    .filter(({ order }) => order.visits.length < 3000);
  it('go from played to written and back, from pickup to last bar', () => {
    fc.assert(
      fc.property(small, fc.array(spot, { minLength: 1, maxLength: 5 }), ({ order }, spots) => {
        for (const { bar, part } of spots) {
          const visit = order.visits[bar % order.visits.length];
          if (visit === undefined) throw new Error('no visit');
          const played = plus(visit.start, beats(F.mul(visit.length, part)));
          const place = playedToWritten(order, played);
          expect(place?.visit).toBe(visit);
          expect(writtenToPlayed(order, place?.written ?? note(-1), visit.pass)).toEqual(played);
        }
      }),
    );
  });
  it('go from written to played and back', () => {
    fc.assert(
      fc.property(small, spot, fc.integer({ min: 1, max: 3 }), ({ score, order }, where, pass) => {
        const { at, bar } = placed(score.bars, where);
        const played = writtenToPlayed(order, at, pass);
        const times = order.visits.filter(({ barIndex }) => barIndex === bar).length;
        expect(played !== null).toBe(pass <= times);
        if (played === null) return;
        expect(playedToWritten(order, played)).toMatchObject({ written: at, visit: { barIndex: bar, pass } });
      }),
    );
  });
  it('go to seconds and samples and back under the tempo of any score', () => {
    fc.assert(
      fc.property(
        small,
        spot,
        fc.constantFrom(8000, 44_100, 48_000),
        ({ score, order }, { bar, part }, rate) => {
          const { map: tempo } = scoreTempo(score, order);
          const visit = order.visits[bar % order.visits.length];
          if (visit === undefined) throw new Error('no visit');
          const played = plus(visit.start, beats(F.mul(visit.length, part)));
          const time = playedToSeconds(tempo, played);
          expect(secondsToPlayed(tempo, time)).toEqual(played);
          expect(F.atMost(time, secondsAtPosition(tempo, order.length))).toBe(true);
          const sample = playedToSample(tempo, played, rate);
          expect(playedToSample(tempo, sampleToPlayed(tempo, sample, rate), rate)).toBe(sample);
        },
      ),
    );
  });
});
