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

  it('counts each note once, says what counts nowhere, and cuts no sentence off', () => {
    const states = ['heard', 'rough', 'unsure', 'missing'] as const;
    const notes = reading.notes.map((note, i) => ({ ...note, state: states[i % 4] ?? note.state }));
    const assumed = Array.from({ length: 40 }, (_, i) => ({
      severity: 'note' as const,
      code: 'take-added',
      message: `${'A sentence that is told over several lines of the terminal. '.repeat(3)}Its end, ${i}.`,
    }));
    const lines = hearText({ ...reading, notes, assumed });
    const text = lines.join(' ').replaceAll(/\s+/g, ' ');
    const counts = [
      ...text.matchAll(
        /(\d+) of (\d+) notes surely heard; (\d+) only roughly, of (\d+) the beginning is unsure and (\d+) not found/g,
      ),
    ].map((found) => found.slice(1).map(Number));
    expect(counts).toHaveLength(reading.parts.length);
    for (const [sure = 0, all, ...rest] of counts) expect(rest.reduce((a, b) => a + b, sure)).toBe(all);
    expect(text).toContain('Nothing below rests on what was heard only roughly');
    expect(lines.at(-2)).toContain('There is more');
    expect(lines.at(-3)).toMatch(/Its end, \d+\.$/);
    expect(hearText(reading).join(' ')).not.toContain('roughly');
  });

  it('says of players who share too few places that there are too few, instead of a figure that says nothing', () => {
    const pairs = reading.pairs.map((pair) => ({ ...pair, mean: { value: 8, low: -174, high: 190 } }));
    const text = hearText({ ...reading, pairs })
      .join(' ')
      .replaceAll(/\s+/g, ' ');
    expect(text).toContain(`too few places where both were surely heard (${reading.pairs[0]?.n ?? 0})`);
    expect(text).not.toContain('± 182');
  });

  it('tells no figure without its interval', () => {
    // The last line says what ± is.
    const text = hearText(reading).slice(0, -1).join(' ');
    expect(text).toContain('±');
    expect(
      text.replaceAll(/\d+(\.\d+)? ± \d+(\.\d+)?/g, '').replaceAll(/at most \d+|[23]0 ms or more/g, ''),
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

  it('speaks in quarters, shares and milliseconds: no percent; and a time through by its name', () => {
    const off = { value: 42, low: 30, high: 54 };
    const entry = {
      rep: 2,
      bar: '11',
      barIndex: 10,
      pass: 1,
      beat: '3',
      first: false,
      parts: ['P1', 'P2'] as const,
      apart: off,
    };
    const gains = [{ value: 0.25, low: 0.1, high: 0.4 }];
    const more = {
      ...reading,
      notes: reading.notes.map((note, i) => (i === 0 ? { ...note, rep: 2 } : note)),
      corrections: [{ part: 'P1', to: ['P2'], n: 30, gains }],
      drift: [
        {
          part: null,
          n: 30,
          pace: { value: 105, low: 104, high: 106 },
          percentPerMinute: { value: -2, low: -3, high: -1 },
        },
      ],
      tempo: [{ ...entry, part: 'P1', n: 4, perMinute: off, asked: 60 }],
      entries: [entry, { ...entry, bar: '12', cue: 'P2' }],
      seams: reading.seams
        .slice(0, 1)
        .map((one) => ({ ...one, late: off, length: { value: 0.25, low: 0.1, high: 0.4 } })),
    };
    const text = hearText(more).join(' ').replaceAll(/\s+/g, ' ');
    expect(text).not.toMatch(/%|percent/);
    expect(text).toContain('makes good 0.25 ± 0.15 of the distance to');
    // 105 of 100 at 60 quarters a minute are 63; two of 100 less a minute are 1.2.
    expect(text).toContain(
      'All together: 63.0 ± 0.6 quarters a minute where 60 are asked for; broadening by 1.2 ± 0.6 with each minute.',
    );
    expect(text).toContain('with longer notes (by 0.25 ± 0.15 of the time to the next)');
    expect(text).toMatch(
      /Entries Bar 11 \(second time\), beat 3: \S.* come in 42 ± 12 ms apart\. Bar 12 \(second time\), beat 3: \S.* apart, cued by \S/,
    );
  });

  it('blames nobody', () => {
    expect(hearText(reading).join(' ')).not.toMatch(/\b(wrong|bad|fault|mistake|rush|drag|fail)/i);
  });
});
