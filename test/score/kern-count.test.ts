/**
 * The kern reader against a counter that shares nothing with it: test/outside/count_kern.py, written in Python from the Humdrum
 * User's Guide and Reference. Examples of the guide, the two pieces in formats/, and pieces made up at random.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Part } from '../../src/score/model.ts';
import { F, seeded, type Fraction } from '../../src/units/index.ts';
import { examples, read, tabbed } from './kern-examples.ts';
import { randomKern } from './kern-random.ts';

interface Count {
  readonly bars: number;
  readonly length: string;
  readonly parts: readonly {
    readonly notes: number;
    readonly graces: number;
    readonly onsets: string;
    readonly durations: string;
    readonly midi: number;
  }[];
  readonly error?: string;
}

const sum = (values: readonly Fraction[]): Fraction => values.reduce(F.add, F.zero);

const countOf = (parts: readonly Part[]) => {
  const notes = parts.flatMap((part) => part.notes);
  return {
    notes: notes.length,
    graces: parts.flatMap(({ written }) => written).filter(({ kind }) => kind === 'grace').length,
    onsets: F.format(sum(notes.map(({ onset }) => onset))),
    durations: F.format(sum(notes.map(({ duration }) => duration))),
    midi: notes.reduce((total, { midi }) => total + (midi ?? 0), 0),
  };
};

const totalOf = ({ parts }: Count) => ({
  notes: parts.reduce((total, part) => total + part.notes, 0),
  graces: parts.reduce((total, part) => total + part.graces, 0),
  onsets: F.format(sum(parts.map(({ onsets }) => F.parse(onsets) ?? F.zero))),
  durations: F.format(sum(parts.map(({ durations }) => F.parse(durations) ?? F.zero))),
  midi: parts.reduce((total, part) => total + part.midi, 0),
});

const formats = path.resolve('test', 'score', 'formats');
const random = seeded(11);
const sources: Readonly<Record<string, string>> = {
  ...Object.fromEntries(Object.entries(examples).map(([name, text]) => [name, tabbed(text)])),
  lanterns: readFileSync(path.join(formats, 'lanterns.krn'), 'utf8'),
  odd: readFileSync(path.join(formats, 'odd.krn'), 'utf8'),
  ...Object.fromEntries(Array.from({ length: 60 }, (_, n) => [`random ${n}`, randomKern(random)])),
};

const folder = mkdtempSync(path.join(tmpdir(), 'kern-'));
const names = Object.keys(sources);
names.forEach((name, index) => writeFileSync(path.join(folder, `${index}.krn`), sources[name] ?? ''));
afterAll(() => rmSync(folder, { recursive: true }));

const output = execFileSync(
  '/usr/bin/python3',
  [
    path.resolve('test', 'outside', 'count_kern.py'),
    ...names.map((_, index) => path.join(folder, `${index}.krn`)),
  ],
  { maxBuffer: 64 * 1024 * 1024 },
);
const counts = JSON.parse(output.toString('utf8')) as Record<string, Count>;

describe('notes, grace notes, bars and exact sums as counted independently', () => {
  test.each(names.map((name, index) => [name, index] as const))('%s', (name, index) => {
    const count = counts[`${index}.krn`];
    if (count === undefined || count.error !== undefined) throw new Error(count?.error ?? 'not counted');
    const { score, codes } = read(sources[name] ?? '');
    expect(codes.filter((code) => code.startsWith('kern-'))).toEqual([]);
    expect(score.bars).toHaveLength(count.bars);
    expect(F.format(sum(score.bars.map(({ length }) => length)))).toBe(count.length);
    expect(countOf(score.parts)).toEqual(totalOf(count));
    // Where each column is a part, they agree one by one: the last column is the first part.
    if (count.parts.length === score.parts.length)
      expect(score.parts.map((part) => countOf([part]))).toEqual(count.parts.toReversed());
  });
});
