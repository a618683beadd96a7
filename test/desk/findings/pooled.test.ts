/** A place that was played several times is one finding: its interval on synthetic truth, and what is said of it. */
import { describe, expect, it } from 'vitest';
import { pooled } from '../../../src/desk/findings/pooled.ts';
import type { ReadingClock, ReadingFigures } from '../../../src/desk/reading.ts';
import { seeded, type Random } from '../../../src/units/index.ts';
import { figure, inBar, made, notesOf, said, seam, strongest } from './support.ts';

/** Twelve uniform numbers less six: mean 0, SD 1, near enough to normal. */
const normal = (random: Random): number => {
  let sum = -6;
  for (let i = 0; i < 12; i += 1) sum += random();
  return sum;
};

const known = (value: number, half: number) => ({ value, low: value - half, high: value + half });

const threeTimes = (late: readonly number[], half: number): Partial<ReadingFigures> => ({
  notes: [1, 2, 3].flatMap((rep) => notesOf(['P1', 'P2']).map((note) => ({ ...note, rep }))),
  seams: late.map((value, i) => ({ ...seam, rep: i + 1, late: figure(value, half) })),
});

describe('figures of one place, pooled', () => {
  it('three alike have an interval narrower by the root of three', () => {
    const all = pooled([known(40, 12), known(40, 12), known(40, 12)]);
    expect(all?.value).toBe(40);
    expect((all?.high ?? 0) - 40).toBeCloseTo(12 / Math.sqrt(3), 9);
    expect(pooled([known(40, 12)])).toEqual(known(40, 12));
    expect(pooled([])).toBeNull();
  });

  it('what is unsure of all times alike is not averaged out', () => {
    const all = pooled([known(40, 12), known(40, 12), known(40, 12), known(40, 12)], 12);
    expect((all?.high ?? 0) - 40).toBeCloseTo(12, 9);
  });

  it('times that differ by more than they are unsure are held apart: 60, -60 and 60 are no sure 20', () => {
    const all = pooled([known(60, 5), known(-60, 5), known(60, 5)]);
    expect(all?.low ?? 0).toBeLessThan(0);
    expect((all?.high ?? 0) - (all?.value ?? 0)).toBeGreaterThan(60);
  });

  it('hold the truth 95 times in 100 where times do not differ, and the mean of what was played always so', () => {
    const random = seeded(20_261_128);
    let [truth, own] = [0, 0];
    const runs = 4000;
    for (let run = 0; run < runs; run += 1) {
      const fixed = Array.from({ length: 3 }, () => {
        const sd = 4 + 8 * random();
        return known(25 + sd * normal(random), 1.96 * sd);
      });
      const all = pooled(fixed);
      if (all !== null && all.low <= 25 && 25 <= all.high) truth += 1;
      const played = Array.from({ length: 3 }, () => 25 + 20 * normal(random));
      const heard = pooled(played.map((at) => known(at + 6 * normal(random), 1.96 * 6)));
      const mean = played.reduce((sum, at) => sum + at / 3, 0);
      if (heard !== null && heard.low <= mean && mean <= heard.high) own += 1;
    }
    // Two standard deviations of a share of 4000 around .95 are .007; what differs from time to time only widens.
    expect(truth / runs).toBeGreaterThan(0.943);
    expect(own / runs).toBeGreaterThan(0.943);
  });
});

describe('a place played three times', () => {
  it('is one finding with a narrower interval, and says over how many times', () => {
    const reading = made(threeTimes([38, 42, 40], 15));
    const [only, ...others] = reading.findings;
    expect(others).toEqual([]);
    expect(only).toMatchObject({ kind: 'seam-time', told: true, times: 3, rep: 1, among: 1, n: 18 });
    const once = strongest(made(threeTimes([40], 15)));
    expect((only?.figure.high ?? 0) - (only?.figure.low ?? 0)).toBeLessThan(
      (once.figure.high - once.figure.low) * 0.65,
    );
    expect(said(strongest(reading), reading).sentence).toContain('Bar 3, beat 2, over 3 times:');
    expect(said(strongest(reading), reading, 'de').sentence).toContain('Takt 3, Schlag 2, aus 3 Malen:');
  });

  it('that lies within the uncertainty once may be told over three times', () => {
    expect(strongest(made(threeTimes([25], 30))).told).toBe(false);
    expect(strongest(made(threeTimes([25, 26, 24], 30))).told).toBe(true);
  });

  it('but no number of times makes up for clocks that are not known better', () => {
    const clock = ['P1', 'P2'].map((part): ReadingClock => ({
      part,
      file: `${part}.wav`,
      offset: 0,
      ppm: 0,
      offsetError: 0.01,
      ppmError: 1,
      by: 'clicks',
      clicksHeard: 9,
      clicksExpected: 9,
    }));
    const { figure: told } = strongest(made({ ...threeTimes([40, 40, 40], 31), clock }));
    // Two clocks of 10 ms and 2 ms between instruments: 1.96 x 14.3 ms.
    expect(told.high - told.value).toBeGreaterThan(28);
    expect(told.high - told.value).toBeLessThan(31);
  });

  it('nor for ends of notes that err alike each time: a length is known no better than once', () => {
    const seams = [1, 2, 3].map((rep) => ({ ...seam, rep, length: figure(0.3, 0.08) }));
    const told = strongest(made({ ...threeTimes([], 5), seams })).figure;
    expect(told.high - told.value).toBeCloseTo(0.08, 9);
  });

  it('heard once of three says which time it was', () => {
    const reading = made({ ...threeTimes([], 5), seams: [{ ...seam, rep: 2, late: figure(60, 5) }] });
    expect(said(strongest(reading), reading).sentence).toContain('beat 2, second time:');
  });

  it('bars too: three times 4 quarters too slow in bar 2 are one finding', () => {
    const tempo = [1, 2, 3].flatMap((rep) =>
      [1, 2, 3, 4].map((bar) => ({
        ...inBar(bar),
        rep,
        part: 'P1',
        n: 5,
        perMinute: figure(bar === 2 ? 56 : 60, 1),
        asked: 60,
      })),
    );
    const told = made({ tempo }).findings.filter((one) => one.kind === 'bar-tempo' && one.told);
    expect(told).toMatchObject([{ bar: '2', toBar: null, times: 3 }]);
  });
});

describe('where the tempo is asked to give way', () => {
  const gives = made().played.map((bar) => ({ ...bar, gives: bar.bar === '3' }));
  const tempo = [1, 2, 3, 4].map((bar) => ({
    ...inBar(bar),
    part: 'P1',
    n: 5,
    perMinute: figure(bar === 3 ? 40 : 60, 0.5),
    asked: 60,
  }));
  const late = figure(200, 5);

  it('no bar is told to broaden, and no click, line or syncopation is held against anyone', () => {
    const asked: Partial<ReadingFigures> = {
      tempo,
      barLines: [4].map((bar) => ({ ...inBar(bar), part: 'P1', late: null, n: 0, lateAtClick: late })),
      syncopations: [{ ...inBar(3), part: 'P1', beat: '1', n: 8, late }],
      seams: [{ ...seam, late, tempoSlope: { before: figure(0, 1), after: figure(-20, 1) } }],
    };
    const told = ({ findings }: { findings: readonly { kind: string; told: boolean }[] }) =>
      findings.filter((one) => one.told).map(({ kind }) => kind);
    expect(told(made({ ...asked, played: gives }))).toEqual([]);
    // The same bars without the marking are told.
    expect(told(made(asked)).sort()).toEqual([
      'after-syncopation',
      'bar-line',
      'bar-tempo',
      'seam-tempo-slope',
      'seam-time',
    ]);
  });
});
