import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Part, Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { F, type Fraction } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';

/**
 * Every shared MusicXML file against a counter that shares nothing with the reader: test/outside/count_musicxml.py,
 * written in Python from the W3C MusicXML 4.0 standard.
 */
interface Count {
  bars?: number;
  length?: string;
  parts?: Record<string, { notes: number; graces: number; onsets: string; durations: string; midi: string }>;
  error?: string;
}

const folder = (name: string): string[] => {
  if (sharedData === null) return [];
  const at = path.join(sharedData, 'scores', name);
  return readdirSync(at)
    .filter((file) => /\.(xml|mxl|musicxml)$/.test(file))
    .sort()
    .map((file) => path.join(at, file));
};

const suite = folder('musicxml-suite');
const quartets = folder('openscore-quartets');
const files = [...suite, ...quartets];

const count = (paths: readonly string[]): Record<string, Count> => {
  const script = path.resolve('test', 'outside', 'count_musicxml.py');
  const output = execFileSync('/usr/bin/python3', [script, ...paths], { maxBuffer: 64 * 1024 * 1024 });
  return JSON.parse(output.toString('utf8')) as Record<string, Count>;
};

const sum = (values: readonly Fraction[]): string => F.format(values.reduce(F.add, F.zero));
const decimal = (value: number): Fraction => F.parse(String(value)) ?? F.zero;

const countOf = (part: Part) => ({
  notes: part.notes.length,
  graces: part.written.filter(({ kind }) => kind === 'grace').length,
  onsets: sum(part.notes.map(({ onset }) => onset)),
  durations: sum(part.notes.map(({ duration }) => duration)),
  midi: sum(part.notes.map(({ midi }) => decimal(midi ?? 0))),
});

const readFile = (file: string): Score => {
  const result = readScore(readFileSync(file));
  if (!result.ok) throw new Error(`${path.basename(file)}: ${result.error.message}`);
  return result.value;
};

describe.skipIf(files.length === 0)('shared MusicXML files', () => {
  const counts = files.length === 0 ? {} : count(files);

  test('at least 105 of the small files and all quartets read; the rest say why not', () => {
    const results = suite.map((file) => readScore(readFileSync(file)));
    expect(results.filter(({ ok }) => ok).length).toBeGreaterThanOrEqual(105);
    for (const result of results) if (!result.ok) expect(result.error.message).toMatch(/\w+ .*\./);
    expect(quartets.length).toBe(10);
    for (const file of quartets) expect(readScore(readFileSync(file)).ok).toBe(true);
  });

  test.each(files.map((file) => [path.basename(file), file] as const))(
    '%s: notes, grace notes, bars and exact sums as counted independently',
    (name, file) => {
      const expected = counts[name];
      expect(expected?.error, 'the counter itself reads the file').toBeUndefined();
      const score = readFile(file);
      expect(score.bars.length).toBe(expected?.bars);
      expect(sum(score.bars.map(({ length }) => length))).toBe(expected?.length);
      expect(Object.fromEntries(score.parts.map((part) => [part.id, countOf(part)]))).toEqual(
        expected?.parts,
      );
    },
  );
});
