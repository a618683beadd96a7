/**
 * What `levare find` says of real scores: the printed shape, what was asked for, and that every step is a drill. Outside the project: the
 * JSON Schema of the format, read by zod; RFC 4180 for the table.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { find, findCsv, findSchema, usualDrill, type FoundPlaces } from '../../src/desk/index.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import type { Drill } from '../../src/drill/model.ts';
import { workOut } from '../../src/drill/workOut.ts';
import { sharedData } from '../shared.ts';

const demo = new Uint8Array(
  readFileSync(path.resolve(import.meta.dirname, '..', '..', 'demo', 'lanterns-on-the-towpath.musicxml')),
);
const all = { bars: null, parts: null, kind: null };

const found = (bytes: Uint8Array, asked = {}): FoundPlaces => {
  const result = find(bytes, { ...all, ...asked });
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

/** What is wrong with the steps of all places, in words. */
const faults = (bytes: Uint8Array, { places }: FoundPlaces, each = 1): string[] => {
  const read = readPiece(bytes);
  if (!read.ok) throw new Error(read.error.message);
  return places
    .filter((_, i) => i % each === 0)
    .flatMap(({ kind, from, steps }) =>
      steps.flatMap(({ branch, why, ...settings }) => {
        const drill: Drill = {
          ...usualDrill,
          ...settings,
          format: 'levare.drill/2',
          score: { sha256: '0'.repeat(64), title: '', file: 'score.mxl' },
        };
        const worked = workOut(read.value.score, drill, 48_000);
        const name = `${kind} in bar ${from.bar}, ${settings.click}, ${settings.tempo.join(' ')} (${branch}; ${why})`;
        if (!worked.ok) return [`${name}: ${worked.error.message}`];
        return worked.value.kept.size === 0 ? [`${name}: nothing is kept`] : [];
      }),
    );
};

describe('places of the demo', () => {
  const value = found(demo);

  it('are printed as their schema says', () => {
    expect(() => findSchema.parse(JSON.parse(JSON.stringify(value)))).not.toThrow();
    expect(value.places.length).toBeGreaterThan(20);
  });

  it('weigh most where its two divided lines are', () => {
    expect(value.places.slice(0, 2).map(({ kind, value: of, from }) => [kind, of, from.bar])).toEqual([
      ['shared-line', '1/8', '10'],
      ['shared-line', '1/16', '52'],
    ]);
  });

  it('have steps that are drills, from every beat or half bar to no click', () => {
    expect(faults(demo, value)).toEqual([]);
    for (const { steps } of value.places) {
      expect(steps.at(-1)).toMatchObject({ click: 'none', countIn: 'none' });
      expect(steps.filter(({ branch }) => branch === 'side').length).toBeLessThanOrEqual(1);
    }
    const [line] = value.places;
    expect(line?.steps.map(({ keep, click, countIn }) => [keep, click, countIn])).toEqual([
      ['1/8', 'half', 'auto'],
      ['1/4+', 'half', 'auto'],
      ['all', 'half', 'auto'],
      ['all', 'weak', 'auto'],
      ['all', 'bar', 'auto'],
      ['all', '2bars', 'auto'],
      ['all', 'none', 'first'],
      ['all', 'none', 'none'],
    ]);
  });

  it('are chosen by bars, parts and kinds', () => {
    for (const { from, to } of found(demo, { bars: '10-17' }).places) {
      expect(from.barIndex).toBeGreaterThanOrEqual(10);
      expect(to.barIndex).toBeLessThanOrEqual(17);
    }
    const flute = found(demo, { parts: 'flute' }).places;
    expect(flute.length).toBeGreaterThan(0);
    for (const { parts } of flute) expect(parts).toContain('P1');
    for (const { kind } of found(demo, { kind: 'hemiola' }).places) expect(kind).toBe('hemiola');
    expect(found(demo, { kind: 'hemiola' }).places.length).toBe(1);
  });

  it('are refused in words where what is asked for is not there', () => {
    const code = (asked: object): string => {
      const result = find(demo, { ...all, ...asked });
      return result.ok ? '' : result.error.code;
    };
    expect([code({ bars: '900' }), code({ parts: 'tuba' }), code({ kind: 'fugue' })]).toEqual([
      'bar-unknown',
      'part-unknown',
      'kind-unknown',
    ]);
  });

  it('fill a table of as many columns in each line', () => {
    const rows = findCsv(value).trimEnd().split('\r\n');
    expect(rows.length).toBe(value.places.length + 1);
    for (const row of rows) {
      // RFC 4180: commas inside quotes part no fields.
      const fields = row.replace(/"(?:[^"]|"")*"/g, '').split(',');
      expect(fields.length).toBe(12);
    }
  });
});

describe.skipIf(sharedData === null)('places of a shared quartet', () => {
  it('have steps that are drills', { timeout: 120_000 }, () => {
    const file = path.join(sharedData ?? '', 'scores', 'openscore-quartets', 'sq7070781.mxl');
    const bytes = new Uint8Array(readFileSync(file));
    const value = found(bytes);
    expect(() => findSchema.parse(JSON.parse(JSON.stringify(value)))).not.toThrow();
    expect(faults(bytes, value, 4)).toEqual([]);
  });
});
