/** Growth from rehearsal to rehearsal: what may be called a change, and how many points are drawn. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterTake, journalOf } from '../../../src/desk/journal/journal.ts';
import { placeGrowth } from '../../../src/desk/journal/growth.ts';
import { stepKey } from '../../../src/desk/journal/keys.ts';
import type { JournalTake } from '../../../src/desk/shelf/journalFormats.ts';
import { proposalText } from '../../../src/desk/words/steps.ts';
import { growthOf, growthPoints, pooled, reasons, type Step } from '../../../src/plan/index.ts';
import { normals } from '../../together/simulate.ts';
import { figure, piece, take } from './records.ts';

/** Weekly rehearsals from 2016 on, some takes each; the spread of each as given. */
const weeks = (
  count: number,
  spread: (week: number) => { value: number; low: number; high: number },
  each = 3,
): JournalTake[] =>
  Array.from({ length: count * each }, (_, i) => {
    const week = Math.floor(i / each);
    const day = new Date(Date.UTC(2016, 0, 4 + 7 * week)).toISOString().slice(0, 10);
    return take(`t${i}`, {
      rehearsal: `r${String(week).padStart(4, '0')}`,
      day,
      nth: (i % each) + 1,
      pairs: { 'P1 P2': { n: 40, sd: spread(week) } },
    });
  });

const grown = (takes: readonly JournalTake[]) =>
  placeGrowth(
    journalOf(takes.map((value) => ({ kind: 'journal-take' as const, value }))),
    { piece, place: take('x').place, step: 'all bar auto', title: 'Bars 12 to 13' },
    'en',
  );

describe('growth', () => {
  it('a clear change is told, with its figures', () => {
    const { growth, told } = grown(weeks(6, (week) => figure(60 - 6 * week, 4)));
    expect(growth?.told).toBe('closer');
    expect(told).toMatch(/^Closer than at first: 60 ms \(.*\) then, 30 ms \(.*\) now\.$/);
    expect(grown(weeks(6, (week) => figure(30 + 6 * week, 4))).growth?.told).toBe('wider');
  });

  it('a change smaller than its uncertainty is not called one', () => {
    const { growth, told } = grown(weeks(6, (week) => figure(40 - week, 12)));
    expect(growth?.told).toBe('untold');
    expect(told).toContain('Not to be told');
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 80, noNaN: true }),
        fc.double({ min: -0.9, max: 0.9, noNaN: true }),
        (first, share) => {
          // Half of an interval is a fifth of the figure; changes of less than that never count.
          const half = first / 5;
          const told = growthOf([figure(first, half), figure(first + share * half, half)])?.told;
          expect(told).toBe('untold');
        },
      ),
    );
  });

  it('where nothing changes it is hardly ever told that something did', () => {
    const normal = normals(20261128);
    let told = 0;
    const runs = 400;
    for (let i = 0; i < runs; i++) {
      const { growth } = grown(
        weeks(8, () => {
          const value = 30 * Math.exp(0.15 * normal());
          return { value, low: value * Math.exp(-0.294), high: value * Math.exp(0.294) };
        }),
      );
      if (growth?.told !== 'untold') told += 1;
    }
    console.log(`told a change where there is none: ${told} of ${runs} (seed 20261128)`);
    expect(told / runs).toBeLessThan(0.08);
  });

  it('draws at most twelve points, in order, with every rehearsal in exactly one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 700 }), (count) => {
        const points = growthPoints(
          weeks(count, () => figure(30), 1).map(({ rehearsal, day, pairs }) => ({
            rehearsal,
            day,
            figure: pairs['P1 P2']?.sd ?? figure(1),
          })),
        );
        expect(points.length).toBe(Math.min(count, 12));
        expect(points.reduce((sum, { rehearsals }) => sum + rehearsals, 0)).toBe(count);
        points.forEach(({ from, to }, i) => {
          expect(from <= to && to < (points[i + 1]?.from ?? '9')).toBe(true);
        });
      }),
      { numRuns: 40 },
    );
  });

  it('its chart has a text that says the same, and as many marks after ten years as after twelve weeks', () => {
    const [some, many] = [grown(weeks(12, () => figure(30))), grown(weeks(520, () => figure(30)))];
    expect(some.chart?.svg.match(/class="point"/g)).toHaveLength(12);
    expect(many.chart?.svg.match(/class="point"/g)).toHaveLength(12);
    expect(many.chart?.alternative).toContain('rehearsals: 30 ms');
    expect(grown(weeks(1, () => figure(30)))).toMatchObject({ chart: null, growth: null });
  });

  it('figures taken together are surer, but not where they differ from rehearsal to rehearsal', () => {
    const [one, four] = [pooled([figure(30)]), pooled([30, 30, 30, 30].map((value) => figure(value)))];
    const width = (found: ReturnType<typeof pooled>): number => (found?.high ?? 0) - (found?.low ?? 0);
    expect(width(four)).toBeLessThan(0.6 * width(one));
    expect(width(pooled([10, 20, 40, 80].map((value) => figure(value, value / 6))))).toBeGreaterThan(
      width(one),
    );
  });
});

const step = (click: string, countIn: string): Step => ({
  bars: '12-13',
  parts: null,
  keep: 'all',
  click,
  tempo: [],
  times: 2,
  countIn,
  upbeat: 'auto',
  holds: 'count',
  branch: 'main',
  why: '',
});
const steps = [
  step('half', 'auto'),
  { ...step('weak', 'auto'), branch: 'side' as const },
  step('bar', 'auto'),
  step('none', 'none'),
];

describe('after a take', () => {
  it('says one sentence with its evidence, in both languages', () => {
    const takes = [1, 2].map((nth) => take(`t${nth}`, { nth, step: stepKey(step('half', 'auto')) }));
    const after = afterTake(takes, steps);
    if (after === null) throw new Error('nothing proposed');
    expect(after).toMatchObject({
      proposed: { proposal: 'on', to: 1 },
      step: { click: 'bar' },
      at: { click: 'half' },
    });
    expect(proposalText(after, 'en')).toBe(
      'On: it held twice in a row, now with the two furthest apart spread by 24 ms (19 to 29).',
    );
    expect(proposalText(after, 'de')).toBe(
      'Weiter: es hielt zweimal nacheinander, jetzt die beiden Entferntesten streuen um 24 ms (19 bis 29).',
    );
    for (const reason of reasons)
      for (const language of ['en', 'de'] as const) {
        const text = proposalText({ ...after, proposed: { ...after.proposed, reason } }, language);
        expect(text.match(/\.( |$)/g)).toHaveLength(1);
      }
  });

  it('counts a side branch as the step before it, and takes at no step as none', () => {
    const aside = [take('a', { step: 'all weak auto' }), take('b', { step: 'all weak auto', nth: 2 })];
    expect(afterTake(aside, steps)).toMatchObject({ proposed: { proposal: 'on', to: 1 } });
    expect(afterTake([take('c', { step: 'gone with the years' })], steps)).toBeNull();
    expect(afterTake([], steps)).toBeNull();
  });
});
