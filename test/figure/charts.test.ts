/** Charts of a reading: places on the bar lines, whiskers as long as intervals, and what those who do not see them are told. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseReading, readingCharts, type ReadingChart } from '../../src/desk/index.ts';
import { barAxis } from '../../src/figure/index.ts';
import { allOf, isOf, numberOf, readSvg, type Shape } from '../../src/sheet/svg.ts';

const parsed = parseReading(
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.reading.4.json'), 'utf8')),
);
if (!parsed.ok) throw new Error(parsed.error.message);
const reading = parsed.value;
const charts = readingCharts(reading, 'en');
const chart = (name: string): ReadingChart => {
  const found = charts.find((one) => one.name === name);
  if (found === undefined) throw new Error(`There is no chart ${name}.`);
  return found;
};
const picture = (name: string): Shape => {
  const read = readSvg(chart(name).svg);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
};
const classed = (root: Shape, name: string): readonly Shape[] => allOf(root, (one) => isOf(one, name));
const only = (shapes: readonly Shape[]): Shape => {
  const [first] = shapes;
  if (first === undefined) throw new Error('There is no such shape.');
  return first;
};

describe('charts of a reading', () => {
  it('are four, as they were', async () => {
    expect(charts.map(({ name }) => name)).toEqual(['tempo', 'asynchrony', 'seams', 'level-and-length']);
    for (const { name, svg } of charts) await expect(svg).toMatchFileSnapshot(`snapshots/${name}.svg`);
  });

  it('share their bar lines, which are as far apart as the bars last', () => {
    const lines = charts.map(({ name }) =>
      classed(only(classed(picture(name), 'field')), 'bar-line').map((line) => numberOf(line, 'x1')),
    );
    for (const own of lines) expect(own).toEqual(lines[0]);
    expect(lines[0]).toHaveLength(reading.played.length + 1);
    // A bar of three and one of six: half as wide.
    const { lines: uneven } = barAxis([
      { label: '1', start: 2, end: 5 },
      { label: '2', start: 5, end: 11 },
    ]);
    const [a = 0, b = 0, c = 0] = uneven;
    expect((c - b) / (b - a)).toBeCloseTo(2, 9);
  });

  it('a note stands in its bar where its time lies in it', () => {
    const { at } = barAxis(reading.played.map(({ bar, start, end }) => ({ label: bar, start, end })));
    const points = classed(picture('asynchrony'), 'point');
    expect(points.length).toBeGreaterThan(6);
    const players = reading.parts.map(({ name }) => name);
    const places = points.map((point) => {
      const bar = reading.played[numberOf(point, 'data-bar')];
      const within = numberOf(point, 'data-within');
      const note = reading.notes.find(
        ({ barIndex, expected }) =>
          bar?.barIndex === barIndex &&
          Math.abs(expected - (bar.start + within * (bar.end - bar.start))) < 1e-6,
      );
      expect(note).toBeDefined();
      // Marks of players at one place stand 5 pixels apart, the pair on both sides of it.
      const side = players.indexOf(point.attributes['data-player'] ?? '') === 0 ? -2.5 : 2.5;
      expect(numberOf(only(classed(point, 'figure')), 'cx')).toBeCloseTo(
        at(numberOf(point, 'data-bar'), within) + side,
        1,
      );
      return note?.expected;
    });
    expect(new Set(places).size).toBe(points.length / 2);
  });

  it('whiskers are as long as the intervals of the figures, on one scale', () => {
    const points = classed(picture('tempo'), 'point');
    const known = reading.tempo.filter(({ perMinute }) => perMinute.low !== null && perMinute.high !== null);
    expect(points).toHaveLength(reading.tempo.length);
    const perUnit = known.map(({ perMinute: { value, low, high } }) => {
      const point = points.find((one) => one.attributes['data-value'] === String(value));
      if (point === undefined || low === null || high === null) throw new Error('A figure is not drawn.');
      const whisker = only(classed(point, 'whisker'));
      const y = numberOf(only(classed(point, 'figure')), 'y1');
      const [top, bottom] = [numberOf(whisker, 'y1'), numberOf(whisker, 'y2')];
      expect((y - top) / (bottom - top)).toBeCloseTo((high - value) / (high - low), 1);
      return (bottom - top) / (high - low);
    });
    const [first = 0] = perUnit;
    expect(first).toBeGreaterThan(0);
    for (const one of perUnit) expect(Math.abs(one / first - 1)).toBeLessThan(0.01);
  });

  it('an interval that is far longer than the others ends at the edge, and the others stay as they were', () => {
    const [first, ...others] = reading.tempo;
    if (first === undefined) throw new Error('There is no tempo.');
    const { value } = first.perMinute;
    const unknown = { ...first, perMinute: { value, low: value - 5000, high: value + 5000 } };
    const [drawn] = readingCharts({ ...reading, tempo: [unknown, ...others] }, 'en');
    const read = readSvg(drawn?.svg ?? '');
    if (!read.ok) throw new Error(read.error.message);
    const figures = (root: Shape): readonly number[] =>
      classed(root, 'figure').map((one) => numberOf(one, 'y1'));
    // The figure itself may have had the longest interval before: the scale differs by no more than that.
    const spread = (ys: readonly number[]): number => Math.max(...ys) - Math.min(...ys);
    const [before, now] = [spread(figures(picture('tempo'))), spread(figures(read.value))];
    expect(now).toBeGreaterThanOrEqual(before);
    const field = only(classed(read.value, 'bar-line'));
    const whiskers = classed(read.value, 'whisker').map((one) => [numberOf(one, 'y1'), numberOf(one, 'y2')]);
    expect(whiskers[0]).toEqual([numberOf(field, 'y1'), numberOf(field, 'y2')]);
    for (const [top = 0, bottom = 0] of whiskers) {
      expect(top).toBeGreaterThanOrEqual(numberOf(field, 'y1'));
      expect(bottom).toBeLessThanOrEqual(numberOf(field, 'y2'));
    }
  });

  it('have a hue and a line style for each player, and no other colours than ink and pencil', () => {
    for (const { name, svg } of charts) {
      const pens = classed(picture(name), 'pen').map(
        ({ attributes }) => `${attributes['stroke'] ?? ''} ${attributes['stroke-dasharray'] ?? ''}`,
      );
      expect(pens).toHaveLength(2);
      expect(new Set(pens.map((pen) => pen.split(' ')[0])).size).toBe(2);
      expect(new Set(pens.map((pen) => pen.slice(8))).size).toBe(2);
      const hues = new Set(svg.match(/#[0-9a-f]{3,6}\b/g));
      expect([...hues].sort()).toEqual(['#0072b2', '#1d1b18', '#555', '#c24e00']);
    }
  });

  it('are told in words, the same in the picture and beside it, in both languages', () => {
    for (const { name, alternative } of charts) {
      const desc = only(allOf(picture(name), (one) => one.name === 'desc'));
      expect(desc.text).toBe(alternative);
      expect(allOf(picture(name), (one) => one.name === 'title')).toHaveLength(1);
      expect(alternative).toMatch(/Bar 10: (Flute|Clarinet in B♭) [\u2212\d.]+/);
    }
    for (const { alternative } of readingCharts(reading, 'de'))
      expect(alternative).toMatch(/Takt 10: (Flute|Clarinet in B♭) /);
  });

  it('hold no tempo against free playing, and no player without a common clock against another', () => {
    const base = (of: typeof reading): number =>
      readingCharts(of, 'en')
        .filter(({ name }) => name === 'tempo')
        .reduce((sum, { svg }) => sum + (svg.match(/class="base"/g)?.length ?? 0), 0);
    expect([base(reading), base({ ...reading, playing: 'free' })]).toEqual([1, 0]);
    const apart = { ...reading, clock: reading.clock.map((one) => ({ ...one, by: 'notes' as const })) };
    expect(readingCharts(apart, 'en').map(({ name }) => name)).not.toContain('asynchrony');
    expect(readingCharts({ ...reading, played: [] }, 'en')).toEqual([]);
  });
});
