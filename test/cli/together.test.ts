import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { jsonSchemas, togetherSchema, type Together } from '../../src/desk/index.ts';
import { python } from '../sound/timelines.ts';
import { ensemble, normals, times } from '../together/simulate.ts';
import { levare } from './run.ts';

const script = path.resolve('test', 'outside', 'onsets_table.py');

let place = '';
const inside = (name: string): string => path.join(place, name);

/** A trio with blanks, bars, a click and known corrections; the oboe is set 12 ms late. */
const trio = (): string => {
  const gains = [
    [0, 0.3, 0.1],
    [0.1, 0, 0.1],
    [0.2, 0.2, 0],
  ];
  const [flute = [], oboe = [], bassoon = []] = ensemble(
    { notes: 240, pace: 0.5, clock: 0.012, motor: 0.006, gains },
    normals(5),
  );
  const rows = times(240, (i) =>
    [
      Math.floor(i / 4) + 1,
      (i % 4) + 1,
      i % 7 === 3 ? '' : (flute[i] ?? 0).toFixed(4),
      ((oboe[i] ?? 0) + 0.012).toFixed(4),
      i % 5 === 0 ? 'NA' : (bassoon[i] ?? 0).toFixed(4),
      (25.5 + i * 0.5).toFixed(4),
    ].join(','),
  );
  return ['bar,beat,Flute,Oboe,Bassoon,click', ...rows].join('\r\n');
};

beforeAll(() => {
  place = mkdtempSync(path.join(tmpdir(), 'levare-together-'));
  writeFileSync(inside('trio.csv'), trio());
});
afterAll(() => {
  rmSync(place, { recursive: true, force: true });
});

const json = async (...args: string[]): Promise<Together> => {
  const { code, out, err } = await levare(['together', ...args, '--json']);
  expect(code, err).toBe(0);
  return togetherSchema.parse(JSON.parse(out));
};

describe('levare together', () => {
  it('prints what another program computes from the same table', async () => {
    const seen = await json(inside('trio.csv'));
    expect(seen.format).toBe('levare.together/1');
    // Python's csv and statistics modules.
    const other = JSON.parse(await python(script, inside('trio.csv'), 'Flute', 'Oboe', 'Bassoon')) as {
      parts: [string, string];
      n: number;
      mean: number;
      sd: number;
      size: number;
    }[];
    expect(seen.pairs.map(({ parts }) => parts)).toEqual(other.map(({ parts }) => parts));
    for (const [i, pair] of seen.pairs.entries()) {
      expect(pair.n).toBe(other[i]?.n);
      expect(pair.meanMs).toBeCloseTo(other[i]?.mean ?? NaN, 5);
      expect(pair.sdMs).toBeCloseTo(other[i]?.sd ?? NaN, 5);
      expect(pair.meanAbsMs).toBeCloseTo(other[i]?.size ?? NaN, 5);
    }
  });

  it('holds its schema, which forbids what is not in it', async () => {
    const seen = await json(inside('trio.csv'), '--noise', '3');
    expect(seen.noiseMs).toBe(3);
    expect(togetherSchema.safeParse({ ...seen, more: 1 }).success).toBe(false);
    expect(Object.keys(jsonSchemas())).toContain('levare.together.1.json');
    expect(seen.pairs.every(({ sdMs, sdWithoutNoiseMs }) => (sdWithoutNoiseMs ?? 99) < (sdMs ?? 0))).toBe(
      true,
    );
    expect(seen.corrections.map(({ part, to }) => [part, ...to])).toEqual([
      ['Flute', 'Oboe', 'Bassoon'],
      ['Oboe', 'Flute', 'Bassoon'],
      ['Bassoon', 'Flute', 'Oboe'],
    ]);
    expect(seen.click).toHaveLength(3);
    expect(seen.bars).toHaveLength(60);
  });

  it('says it in words, no line too long for a terminal', async () => {
    const { code, out } = await levare(['together', inside('trio.csv')]);
    expect(code).toBe(0);
    expect(out).toContain('3 players: Flute (206 onsets), Oboe (240 onsets), Bassoon (192 onsets)');
    expect(out).toMatch(/Oboe comes \d+\.\d ms after Flute \(/);
    expect(out).toContain('assumed: Bars are taken to have 4 beats');
    expect(out.split('\n').filter((line) => line.length > 110)).toEqual([]);
    expect(out).not.toMatch(/NaN|Infinity|undefined|null/);
  });

  it('reads from a pipe, and what is small is said to be', async () => {
    const small = await levare(['together', '-'], 'A,B\n1.0,1.01\n2.0,1.98\n3.0,3.02\n');
    expect(small.code, small.err).toBe(0);
    expect(small.out).toContain('A and B, 3 shared places');
    const one = await levare(['together', '-', '--json'], 'A,B\n1.0,\n2.0,\n,3.02\n');
    expect(one.code, one.err).toBe(0);
    const seen = togetherSchema.parse(JSON.parse(one.out));
    expect(seen.pairs[0]).toMatchObject({ n: 0, meanMs: null, sdMs: null, meanAbsMs: null });
    expect(seen.problems.map(({ code }) => code)).toContain('pair-too-few');
  });

  it('refuses in plain words with the place', async () => {
    const cases: (readonly [string[], string, RegExp])[] = [
      [[], '', /Name a table/],
      [['a', 'b'], '', /One table at a time/],
      [['-', '--noise', 'loud'], 'A,B\n1,1\n', /--noise loud is no figure/],
      [['-', '--players', 'Horn'], 'A,B\n1,1\n', /no column "Horn"; there are "A", "B"/],
      [['-'], 'A,B\n1,1\n2,x1\n3,3\n4,4\n', /line 3, column 2: "x1" under "B"/],
      [['-'], 'A\u0000B', /no plain table/],
      [[inside('nothing.csv')], '', /nothing\.csv/],
      [['-', '--jsn'], 'A,B\n1,1\n', /did you mean --json/],
    ];
    for (const [args, input, said] of cases) {
      const { code, out, err } = await levare(['together', ...args], input);
      expect([code, out], err).toEqual([2, '']);
      expect(err).toMatch(said);
    }
  });

  it('has help that fits', async () => {
    const { out } = await levare(['together', '--help']);
    expect(out.split('\n').filter((line) => line.length > 118)).toEqual([]);
  });
});
