/** Figures of a reading from notes whose times are known: worked by hand from how they were made. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { betterOrder } from '../../src/desk/hearAssign.ts';
import { usualDrill } from '../../src/desk/index.ts';
import type { Reading, ReadingClock, ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { F, secondsNumber } from '../../src/units/index.ts';

const demo = new Uint8Array(readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml')));
let worked: WorkedDrill;
beforeAll(() => {
  const read = readPiece(demo);
  if (!read.ok) throw new Error(read.error.message);
  const drill = {
    ...usualDrill,
    format: 'levare.drill/2' as const,
    score: { sha256: '', title: '', file: 'score.musicxml' },
    bars: 'all',
    times: 2,
  };
  const work = workOut(read.value.score, drill, 48_000);
  if (!work.ok) throw new Error(work.error.message);
  worked = work.value;
});

const clock = (part: string, by: ReadingClock['by'] = 'clicks'): ReadingClock => ({
  part,
  file: `${part}.wav`,
  offset: 0,
  ppm: 0,
  offsetError: 0.0005,
  ppmError: 1,
  by,
  clicksHeard: 9,
  clicksExpected: 9,
});

/** Repeatable scatter of mean 0 and SD 1: the fraction parts of multiples of the golden ratio (Weyl), spread evenly. */
const scatter = (n: number): number => Math.sqrt(12) * (((n * 0.6180339887498949) % 1) - 0.5);

type Time = (note: { readonly part: string; readonly time: number; readonly n: number }) => number;

const notes = (time: Time, share = 0.8): readonly ReadingNote[] =>
  worked.timeline.notes.map((event, n) => {
    const expected = secondsNumber(event.time);
    const start = time({ part: event.part, time: expected, n });
    return {
      id: event.id,
      part: event.part,
      bar: event.bar,
      barIndex: event.barIndex,
      beat: event.beat,
      pass: event.pass,
      rep: event.rep,
      expected,
      onset: start,
      perceived: start,
      offset: start + share * secondsNumber(event.duration),
      level: event.part === 'P1' ? -20 : -30,
      cents: 0,
      uncertainty: 0.003,
      perceivedUncertainty: Math.hypot(0.003, 0.0005),
      state: 'heard',
    };
  });

const clocks = [clock('P1'), clock('P2')];
const figures = (time: Time, free = false, own = clocks): ReturnType<typeof figuresOf> =>
  figuresOf(worked, notes(time), own, free);
const within = (figure: { low: number | null; high: number | null }, truth: number): void => {
  expect(figure.low).not.toBeNull();
  expect(figure.low ?? Infinity).toBeLessThanOrEqual(truth);
  expect(figure.high ?? -Infinity).toBeGreaterThanOrEqual(truth);
};

describe('a pair', () => {
  it('the second 15 ms behind with 10 ms of scatter: mean -15, SD 10, less the noise of both', () => {
    const [pair] = figures(
      ({ part, time, n }) => time + (part === 'P2' ? 0.015 + 0.01 * scatter(n) : 0),
    ).pairs;
    expect(pair?.parts).toEqual(['P1', 'P2']);
    expect(pair?.n).toBeGreaterThan(50);
    expect(Math.abs((pair?.mean?.value ?? 0) + 15)).toBeLessThan(1.5);
    expect(Math.abs((pair?.sd?.value ?? 0) - 10)).toBeLessThan(1);
    // 3 ms of measuring noise in each: 10^2 - 2 x 3^2 = 82.
    const [sd, bare] = [pair?.sd?.value ?? 0, pair?.sdWithoutNoise?.value ?? 0];
    expect(sd ** 2 - bare ** 2).toBeCloseTo(18, 6);
    if (pair?.mean !== null && pair !== undefined) within(pair.mean, -15);
  });

  it('without a common clock only the spread is told', () => {
    const { pairs, barLines, drift } = figures(({ time, n }) => time + 0.01 * scatter(n), false, [
      clock('P1'),
      clock('P2', 'notes'),
    ]);
    expect(pairs[0]).toMatchObject({ mean: null, meanAbsolute: null });
    expect(pairs[0]?.sd).not.toBeNull();
    expect(
      barLines.filter(({ part }) => part === 'P2').every(({ lateAtClick }) => lateAtClick === null),
    ).toBe(true);
    expect(drift.map(({ part }) => part)).toEqual(['P1', 'P2']);
  });
});

describe('tempo', () => {
  it('a twentieth faster all through: 105 %, no drift, each bar at 1.05 of what is asked', () => {
    const { drift, tempo } = figures(({ time, n }) => time / 1.05 + 0.002 * scatter(n), true);
    expect(drift.map(({ part }) => part)).toEqual([null, 'P1', 'P2']);
    for (const { pace, percentPerMinute } of drift) {
      expect(pace.value).toBeCloseTo(105, 0);
      within(percentPerMinute, 0);
    }
    expect(tempo.length).toBeGreaterThan(20);
    const ratios = tempo.map(({ perMinute, asked }) => perMinute.value / asked).sort((a, b) => a - b);
    expect(ratios[ratios.length >> 1]).toBeCloseTo(1.05, 2);
    expect(tempo.every(({ n }) => n >= 2)).toBe(true);
  });

  it('a tempo that grows by 4 % a minute is told as such', () => {
    // Position grows as (e^(r t) - 1) / r, so that the pace is e^(r t): t = log(1 + r x) / r.
    const r = Math.log(1.04) / 60;
    const { drift } = figures(({ time, n }) => Math.log1p(r * time) / r + 0.002 * scatter(n), true);
    for (const { percentPerMinute } of drift) within(percentPerMinute, 4);
  });
});

describe('bar lines', () => {
  it('each first beat 40 ms late: so against the click, and against the own bar before', () => {
    const first = new Set(
      worked.timeline.bars.filter(({ kind }) => kind === 'bar').map(({ start }) => F.toNumber(start)),
    );
    const starts = new Set(
      worked.timeline.notes
        .filter(({ at }) => first.has(F.toNumber(at)))
        .map(({ time }) => secondsNumber(time)),
    );
    const { barLines } = figures(({ time }) => time + (starts.has(time) ? 0.04 : 0));
    const atClick = barLines.flatMap(({ lateAtClick }) => lateAtClick ?? []);
    expect(atClick.length).toBeGreaterThan(20);
    for (const late of atClick) {
      expect(late.value).toBeCloseTo(40, 6);
      // 1.96 x root of 3 ms, half a ms of clock and 2 ms of perception, squared.
      expect((late.high ?? 0) - late.value).toBeCloseTo(1.96 * Math.hypot(3, 0.5, 2), 2);
    }
    const own = barLines.flatMap(({ late, n }) => (late === null ? [] : [{ late, n }]));
    expect(own.length).toBeGreaterThan(5);
    expect(own.every(({ late, n }) => n >= 3 && late.value > 20)).toBe(true);
  });

  it('nothing is held against a click in free playing', () => {
    const { barLines } = figures(({ time }) => time, true);
    expect(barLines.every(({ lateAtClick }) => lateAtClick === null)).toBe(true);
  });
});

describe('seams, length and evenness', () => {
  it('what the score asks for is no finding: no length is told where dots are handed to a slur', () => {
    // The demo (its README): dots until the clarinet in bar 11, a slur over the flute in bar 12.
    const { seams } = figures(({ time }) => time);
    const lengths = (bar: string, beat: string) =>
      seams.filter((seam) => seam.bar === bar && seam.beat === beat).map(({ length }) => length);
    expect(lengths('12', '1').length).toBeGreaterThan(0);
    expect(lengths('12', '1').every((length) => length === null)).toBe(true);
    expect(lengths('11', '3').some((length) => length !== null)).toBe(true);
  });

  it('a player who always comes 30 ms after the line takes over 30 ms late; levels are never compared across', () => {
    const { seams } = figures(({ part, time }) => time + (part === 'P2' ? 0.03 : 0));
    expect(seams.length).toBeGreaterThan(2);
    for (const { to, late, level, levelSlope, n } of seams) {
      expect(n.from).toBeGreaterThan(0);
      if (late !== null) expect(late.value).toBeCloseTo(to === 'P2' ? 30 : -30, 6);
      // Each plays at one level all the time: no difference to the own line, though the two are 10 dB apart.
      for (const own of [level.from, level.to]) if (own !== null) expect(own.value).toBeCloseTo(0, 9);
      for (const slope of [levelSlope.before, levelSlope.after])
        if (slope !== null) expect(slope.value).toBeCloseTo(0, 9);
    }
    expect(seams.some(({ late }) => late !== null)).toBe(true);
    // Twice through: every seam twice.
    expect(seams.filter(({ rep }) => rep === 1)).toHaveLength(seams.filter(({ rep }) => rep === 2).length);
  });

  it('notes that sound for four fifths have that ratio; equal notes are even', () => {
    const { articulation, articulationBetween, evenness } = figures(({ time }) => time);
    for (const { ratio, n } of articulation) {
      expect(ratio.value).toBeCloseTo(0.8, 6);
      expect(n).toBeGreaterThan(20);
    }
    expect(articulationBetween[0]?.difference.value).toBeCloseTo(0, 6);
    for (const { longShort } of evenness) expect(longShort.value).toBeCloseTo(1, 6);
    expect(evenness.length).toBeGreaterThan(0);
  });

  it('nothing is told of nothing', () => {
    const silent = notes(({ time }) => time).map((note) => ({ ...note, state: 'missing' as const }));
    const told: Pick<Reading, 'tempo' | 'seams' | 'drift' | 'barLines'> = figuresOf(
      worked,
      silent,
      clocks,
      false,
    );
    expect([told.tempo, told.seams, told.drift, told.barLines]).toEqual([[], [], [], []]);
  });
});

describe('whose recording it is', () => {
  it('two that fit crosswise are swapped; what fits as given, or only slightly better, is left', () => {
    expect(
      betterOrder(
        [
          [0.3, 0.95],
          [0.97, 0.4],
        ],
        [0, 1],
      ),
    ).toEqual([1, 0]);
    expect(
      betterOrder(
        [
          [0.7, 0.3],
          [0.3, 0.7],
        ],
        [0, 1],
      ),
    ).toBeNull();
    expect(
      betterOrder(
        [
          [0.6, 0.7],
          [0.7, 0.6],
        ],
        [0, 1],
      ),
    ).toBeNull();
    // Neither fits anything: another piece, no other order.
    expect(
      betterOrder(
        [
          [0.1, 0.4],
          [0.4, 0.1],
        ],
        [0, 1],
      ),
    ).toBeNull();
    expect(betterOrder([[0.3, 0.9, 0.2]], [0])).toEqual([1]);
  });
});

describe('entries and short notes', () => {
  it('two who begin together 40 ms apart: so at the first note of each repetition, and after rests', () => {
    const { entries, played } = figures(({ part, time }) => time + (part === 'P2' ? 0.04 : 0));
    for (const { apart } of entries) {
      expect(apart.value).toBeCloseTo(-40, 6);
      // Two notes of 3 ms and half a ms of clock, and 2 ms of perception each.
      expect((apart.high ?? 0) - apart.value).toBeCloseTo(1.96 * Math.hypot(3, 3, 0.5, 0.5, 2, 2), 2);
    }
    const bars = worked.timeline.bars.filter(({ kind }) => kind === 'bar');
    expect(played).toHaveLength(bars.length);
    expect(
      played.every(({ start, end }, i) => end > start && (played[i - 1]?.end ?? 0) <= start + 1e-9),
    ).toBe(true);
    expect(figures(({ time }) => time, false, [clock('P1'), clock('P2', 'notes')]).entries).toEqual([]);
  });

  it('lengths by note are those of which the player has the mean', () => {
    const { lengths, articulation } = figures(({ time, n }) => time + 0.02 * scatter(n));
    for (const { part, ratio, n } of articulation) {
      const own = lengths.filter(({ id }) => id.startsWith(`${part}-`));
      expect(own).toHaveLength(n);
      expect(own.reduce((sum, one) => sum + one.ratio / n, 0)).toBeCloseTo(ratio.value, 9);
    }
  });
});
