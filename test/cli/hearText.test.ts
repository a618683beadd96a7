/** The page of words on a kept reading (the demo's bars 10 to 12, its own voices as recordings, read by `levare hear --json`). */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { hearText } from '../../src/cli/hearText.ts';
import { parseReading } from '../../src/desk/index.ts';

const parsed = parseReading(
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.reading.1.json'), 'utf8')),
);
if (!parsed.ok) throw new Error(parsed.error.message);
const reading = parsed.value;

describe('the page of a reading', () => {
  it('has no more than thirty lines of a terminal, whatever was found', () => {
    const many = { ...reading, assumed: Array.from({ length: 90 }, () => reading.assumed).flat() };
    for (const one of [reading, many]) {
      const lines = hearText(one);
      expect(lines.length).toBeLessThanOrEqual(30);
      expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(96);
    }
    expect(
      hearText({ ...many, assumed: many.assumed.map((one) => ({ ...one, code: 'take-added' })) }),
    ).toContain('  There is more: --json prints all of it.');
  });

  it('tells no figure without its interval', () => {
    // The last line says what ± is.
    const text = hearText(reading).slice(0, -1).join(' ');
    expect(text).toContain('±');
    expect(
      text.replaceAll(/\d+(\.\d+)? ± \d+(\.\d+)?/g, '').replaceAll(/at most \d+|20 ms or more/g, ''),
    ).not.toMatch(/\d (ms|% )/);
    // Without intervals there is nothing to print but counts.
    const bare = { value: 41.5, low: null, high: null };
    const none = {
      ...reading,
      pairs: reading.pairs.map((pair) => ({ ...pair, mean: bare, sd: bare, sdWithoutNoise: bare })),
      drift: reading.drift.map((one) => ({ ...one, pace: bare, percentPerMinute: bare })),
      articulation: reading.articulation.map((one) => ({ ...one, ratio: bare })),
      evenness: reading.evenness.map((one) => ({ ...one, longShort: bare })),
      seams: reading.seams.map((one) => ({ ...one, late: bare })),
    };
    expect(hearText(none).join(' ')).not.toMatch(/41|\d ± /);
  });

  it('names seams by bar and beat, and bar lines only where the click falls once a bar or less', () => {
    const off = { value: 42, low: 30, high: 54 };
    const [seam] = reading.seams;
    expect(seam).toBeDefined();
    const late = { ...reading, seams: reading.seams.slice(0, 1).map((one) => ({ ...one, late: off })) };
    expect(hearText(late).join(' ').replaceAll(/\s+/g, ' ')).toMatch(
      /Bar \d+, beat [\d+/]+: .* takes over from .* 42 ± 12 ms after the line leads there/,
    );
    const lines = reading.barLines.map((line) => ({ ...line, lateAtClick: off }));
    expect(hearText({ ...reading, barLines: lines })).not.toContain('Bar lines');
    const sparse = { ...reading, barLines: lines, click: { placement: 'bar', perBar: 1 } };
    expect(hearText(sparse).join(' ').replaceAll(/\s+/g, ' ')).toContain(
      'against the click: bar 10 42 ± 12 ms after',
    );
  });

  it('blames nobody', () => {
    expect(hearText(reading).join(' ')).not.toMatch(/\b(wrong|bad|fault|mistake|rush|drag|fail)/i);
  });
});
