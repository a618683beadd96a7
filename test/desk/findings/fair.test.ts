/** Fairness: what may not be told, of whom and in which words; and how often chance alone is told as something. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../src/desk/findings/index.ts';
import { parseReading } from '../../../src/desk/readingFile.ts';
import type { Figure, Reading, ReadingFigures } from '../../../src/desk/reading.ts';
import { findingWords } from '../../../src/desk/words/index.ts';
import { seeded } from '../../../src/units/index.ts';
import { allSaid, figure, inBar, made, notesOf, players, said, seam, type Part } from './support.ts';

const kept = parseReading(
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.reading.4.json'), 'utf8')),
);

const anyFigure: fc.Arbitrary<Figure> = fc
  .tuple(
    fc.double({ min: -150, max: 150, noNaN: true }),
    fc.double({ min: 0.01, max: 120, noNaN: true }),
    fc.boolean(),
  )
  .map(([value, half, known]) => (known ? figure(value, half) : { value, low: null, high: null }));
const above = (most: number): fc.Arbitrary<Figure> =>
  fc
    .tuple(fc.double({ min: 0.01, max: most, noNaN: true }), fc.double({ min: 1.01, max: 3, noNaN: true }))
    .map(([value, by]) => ({ value, low: value / by, high: value * by }));
const orNull = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { nil: null });
const parts: readonly Part[] = ['P1', 'P2', 'P3'];
const part = fc.constantFrom(...parts);
const two = fc.constantFrom(['P1', 'P2'] as const, ['P1', 'P3'] as const, ['P2', 'P3'] as const);
const place = fc.record({
  rep: fc.integer({ min: 1, max: 3 }),
  bar: fc.constantFrom('', '1', '2', '3', '4'),
  barIndex: fc.integer({ min: 0, max: 3 }),
  pass: fc.integer({ min: 1, max: 2 }),
});
const beat = fc.constantFrom('1', '2', '2+1/2', '4');
const n = fc.integer({ min: 0, max: 40 });
const around = fc.record({ before: orNull(anyFigure), after: orNull(anyFigure) });
const some = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T[]> => fc.array(of, { maxLength: 5 });
const joined = <A extends object, B extends object>(
  a: fc.Arbitrary<A>,
  b: fc.Arbitrary<B>,
): fc.Arbitrary<A & B> => fc.tuple(a, b).map(([x, y]) => ({ ...x, ...y }));

/** Any reading at all, sensible or not. */
const anyReading: fc.Arbitrary<Reading> = fc
  .record({
    playing: fc.constantFrom('click' as const, 'free' as const),
    click: fc.record({ placement: fc.constant('bar'), perBar: fc.constantFrom(0, 0.5, 1, 4) }),
    pairs: some(
      fc.record({
        parts: two,
        n,
        mean: orNull(anyFigure),
        sd: orNull(above(80)),
        sdWithoutNoise: orNull(above(80)),
        meanAbsolute: orNull(above(80)),
      }),
    ),
    drift: some(fc.record({ part: orNull(part), n, pace: above(150), percentPerMinute: anyFigure })),
    tempo: some(joined(place, fc.record({ part, n, perMinute: above(200), asked: fc.constantFrom(60, 92) }))),
    barLines: some(
      joined(place, fc.record({ part, late: orNull(anyFigure), n, lateAtClick: orNull(anyFigure) })),
    ),
    entries: some(
      joined(place, fc.record({ beat, first: fc.boolean(), parts: two, apart: anyFigure })).chain((entry) =>
        fc.constantFrom(entry, { ...entry, cue: entry.parts[0] }, { ...entry, cue: entry.parts[1] }),
      ),
    ),
    seams: some(
      joined(
        place,
        fc.record({
          from: part,
          to: part,
          beat,
          n: fc.record({ from: n, to: n }),
          late: orNull(anyFigure),
          level: fc.record({ from: orNull(anyFigure), to: orNull(anyFigure) }),
          length: orNull(anyFigure),
          levelSlope: around,
          tempoSlope: around,
        }),
      ),
    ),
    syncopations: some(joined(place, fc.record({ part, beat, n, late: orNull(anyFigure) }))),
    articulationBetween: some(
      fc.record({ parts: two, difference: anyFigure, n: fc.tuple(n, n), left: fc.tuple(n, n) }),
    ),
    evenness: some(fc.record({ part, value: fc.constant('1/8'), longShort: above(3), n })),
    evennessBetween: some(
      fc.record({ parts: two, value: fc.constantFrom('1/8', '1/20'), ratio: above(3), n: fc.tuple(n, n) }),
    ),
  })
  .map((changes) => made(changes, parts));

/** Words of praise, of blame and of marks; "score" would be a mark here. */
const forbidden =
  /\b(good|bad|well done|wrong|fault|mistake|perfect|excellent|great|poor|fail\w*|better|worse|late|early|rush\w*|drag\w*|score\w*|points?|grade|gut\w*|schlecht\w*|falsch\w*|fehler\w*|prima|super|zu spät|zu früh|schleppt|eilt|note[n]? 1|punkte)\b|%|percent|prozent/i;

describe('what is said of any reading', () => {
  it('praises, blames and marks nobody, and names players of a lead, and who cues, only', () => {
    let told = 0;
    fc.assert(
      fc.property(anyReading, (reading) => {
        for (const language of ['en', 'de'] as const)
          for (const finding of reading.findings) {
            const { sentence, tryThis, caution } = said(finding, reading, language);
            const all = `${sentence} ${tryThis} ${caution ?? ''}`;
            expect(all).not.toMatch(forbidden);
            for (const [id, name] of Object.entries(players)) {
              if (finding.kind === 'lead' && finding.told) continue;
              // Who cues is what the players wrote themselves; who comes in is not named.
              if (finding.kind === 'cued-entry' && id === finding.parts[0]) continue;
              expect(all).not.toContain(name);
            }
            expect(all).not.toMatch(/\bP[123]\b|undefined|NaN|Infinity/);
            told += 1;
          }
      }),
      { seed: 20_261_128, numRuns: 300 },
    );
    expect(told).toBeGreaterThan(2000);
  });

  it('has a bar, a beat, a figure within its interval, and holds what its kind of certainty means', () => {
    fc.assert(
      fc.property(anyReading, ({ findings }) => {
        for (const {
          told,
          figure: { value, low, high, unit },
          beat: on,
          weight,
        } of findings) {
          expect(on).not.toBe('');
          expect(low).toBeLessThanOrEqual(value);
          expect(value).toBeLessThanOrEqual(high);
          const nothing = unit === 'factor' ? 1 : 0;
          expect(told).toBe(low > nothing || high < nothing);
          expect(weight > 0).toBe(told);
        }
        // What can be told comes before what cannot.
        const order = findings.map(({ told }) => told);
        expect(order.lastIndexOf(true)).toBeLessThan(order.includes(false) ? order.indexOf(false) : Infinity);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('the tables say the same things in both languages, and no sentence twice', () => {
    const { en, de } = findingWords;
    for (const table of ['told', 'untold', 'tries', 'cautions'] as const)
      expect(Object.keys(de[table])).toEqual(Object.keys(en[table]));
    for (const { tries } of [en, de]) {
      const texts = Object.values(tries);
      expect(new Set(texts).size).toBe(texts.length);
      expect(texts.join(' ')).not.toMatch(forbidden);
    }
  });
});

describe('free playing', () => {
  const tempo = (bar: number, perMinute: number, of: Part): Reading['tempo'][number] => ({
    ...inBar(bar),
    part: of,
    n: 5,
    perMinute: figure(perMinute, 1),
    asked: 60,
  });
  const bent: Partial<ReadingFigures> = {
    playing: 'free',
    pairs: [{ parts: ['P1', 'P2'], n: 16, mean: null, sd: null, sdWithoutNoise: null, meanAbsolute: null }],
    // Both broaden from 60 to 40, together.
    tempo: [60, 55, 48, 40].flatMap((pace, i) => [tempo(i + 1, pace, 'P1'), tempo(i + 1, pace, 'P2')]),
    drift: [{ part: null, n: 30, pace: figure(85, 1), percentPerMinute: figure(-60, 5) }],
    barLines: [{ ...inBar(3), part: 'P1', late: null, n: 0, lateAtClick: figure(300, 10) }],
    syncopations: [{ ...inBar(3), part: 'P1', beat: '1', n: 8, late: figure(-90, 10) }],
    seams: [{ ...seam, tempoSlope: { before: figure(-20, 1), after: figure(0, 1) } }],
  };

  it('is never held against a steady tempo or a click: only whether players bent together', () => {
    const { findings } = made(bent);
    expect(findings.map(({ kind, told }) => [kind, told])).toEqual([['bend', false]]);
    // The same held to a click is told.
    expect(made({ ...bent, playing: 'click' }).findings[0]?.told).toBe(true);
  });

  it('and who bends otherwise is told as a bar, not as a player', () => {
    const apart = made({ ...bent, tempo: [...(bent.tempo ?? []).slice(0, -1), tempo(4, 52, 'P2')] });
    expect(apart.findings[0]).toMatchObject({ kind: 'bend', told: true, bar: '4' });
    expect(allSaid(apart, 'en')).not.toMatch(/Flutist|Clarinettist/);
  });
});

describe('what may not be told', () => {
  it('how loud two recordings are against each other: 20 dB between them are no finding', () => {
    const notes = notesOf(['P1', 'P2']).map((note) => ({ ...note, level: note.part === 'P1' ? -10 : -30 }));
    const own = { from: figure(0, 1), to: figure(0, 1) };
    expect(made({ notes, seams: [{ ...seam, level: own }] }).findings.every(({ told }) => !told)).toBe(true);
    expect(made({ notes }).findings).toEqual([]);
  });

  it('that one player is uneven: inequality is style, and only a difference between players is asked about', () => {
    const evenness = [{ part: 'P1', value: '1/8', longShort: figure(1.9, 0.1), n: 30 }];
    expect(made({ evenness }).findings).toEqual([]);
  });

  it('what is written: a bar at half the tempo that asks for it', () => {
    const tempo = [1, 2, 3, 4].map((bar) => ({
      ...inBar(bar),
      part: 'P1',
      n: 5,
      perMinute: figure(bar === 3 ? 30 : 60, 0.5),
      asked: bar === 3 ? 30 : 60,
    }));
    expect(made({ tempo }).findings.every(({ told }) => !told)).toBe(true);
  });

  it('a tempo other than the one asked for, as long as the take keeps to its own', () => {
    const tempo = [1, 2, 3, 4].map((bar) => ({
      ...inBar(bar),
      part: 'P1',
      n: 5,
      perMinute: figure(54, 0.5),
      asked: 60,
    }));
    const drift = [{ part: 'P1', n: 30, pace: figure(90, 0.5), percentPerMinute: figure(0, 1) }];
    expect(made({ tempo, drift }).findings.every(({ told }) => !told)).toBe(true);
  });

  it('a bar line where the click itself leads to it', () => {
    const barLines = [{ ...inBar(3), part: 'P1', late: null, n: 0, lateAtClick: figure(60, 5) }];
    expect(made({ barLines, click: { placement: 'every', perBar: 4 } }).findings).toEqual([]);
  });

  it('anything from notes that are unsure, or from the physical start of a note', () => {
    if (!kept.ok) throw new Error(kept.error.message);
    const { findings, ...reading } = kept.value;
    expect(findingsOf(reading)).toEqual(findings);
    const moved = reading.notes.map((note) => ({
      ...note,
      onset: (note.onset ?? 0) + 1,
      perceived: note.state === 'heard' ? note.perceived : (note.perceived ?? 0) + 1,
    }));
    expect(findingsOf({ ...reading, notes: moved })).toEqual(findings);
  });

  it('chance: of 400 takes of nothing but noise, at most 5 in 100 tell anything of bar lines, entries or seams', () => {
    // Errors normal, half intervals 1.96 SD; 5 % of 400 are 20, and 33 lies three standard deviations above.
    const random = seeded(11);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const noise = (sd: number): Figure => figure(sd * normal(), 1.96 * sd);
    const alarms = { 'bar-line': 0, entry: 0, 'seam-time': 0 };
    for (let take = 0; take < 400; take += 1) {
      const places = Array.from({ length: 24 }, (_, i) => ({ ...inBar((i % 4) + 1), pass: 1 + (i >> 2) }));
      const { findings } = made({
        barLines: places.map((one) => ({ ...one, part: 'P1', late: null, n: 0, lateAtClick: noise(15) })),
        entries: places.map((one) => ({
          ...one,
          beat: '1',
          first: false,
          parts: ['P1', 'P2'] as const,
          apart: noise(20),
        })),
        seams: places.map((one) => ({ ...seam, ...one, late: noise(25) })),
      });
      for (const kind of ['bar-line', 'entry', 'seam-time'] as const)
        if (findings.some((one) => one.kind === kind && one.told)) alarms[kind] += 1;
    }
    for (const count of Object.values(alarms)) {
      expect(count).toBeLessThan(33);
      expect(count).toBeGreaterThan(0);
    }
  });
});
