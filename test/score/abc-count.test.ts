/**
 * Every piece of ABC here against a counter that shares nothing with the reader: test/outside/count_abc.py, written in
 * Python from the ABC standard 2.1. Bars, notes, grace notes, and exact sums of onsets, durations and pitches.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Part, Score } from '../../src/score/model.ts';
import { readAbc } from '../../src/score/read/abc/index.ts';
import { F, seeded, type Fraction } from '../../src/units/index.ts';
import { canzonetta, english, reels, strathspeys, zocharti } from './abc-examples.ts';
import { randomAbc } from './abc-random.ts';

interface Sums {
  readonly notes: number;
  readonly graces: number;
  readonly onsets: string;
  readonly durations: string;
  readonly midi: string;
}
interface Count {
  readonly bars?: number;
  readonly length?: string;
  readonly voices?: Readonly<Record<string, Sums>>;
  readonly error?: string;
}

const own = (name: string): string =>
  readFileSync(path.resolve(import.meta.dirname, 'formats', name), 'utf8');

const counted = (texts: ReadonlyMap<string, string>): Readonly<Record<string, Count>> => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-abc-'));
  try {
    const files = [...texts].map(([name, text]) => {
      const file = path.join(folder, name);
      writeFileSync(file, text);
      return file;
    });
    const script = path.resolve(import.meta.dirname, '..', 'outside', 'count_abc.py');
    const output = execFileSync('/usr/bin/python3', [script, ...files], { maxBuffer: 64 * 1024 * 1024 });
    return JSON.parse(output.toString('utf8')) as Record<string, Count>;
  } finally {
    rmSync(folder, { recursive: true });
  }
};

const sum = (values: readonly Fraction[]): Fraction => values.reduce(F.add, F.zero);
const decimal = (value: number): Fraction => F.parse(String(value)) ?? F.zero;

const sumsOf = (part: Part): Sums => ({
  notes: part.notes.length,
  graces: part.written.filter(({ kind }) => kind === 'grace').length,
  onsets: F.format(sum(part.notes.map(({ onset }) => onset))),
  durations: F.format(sum(part.notes.map(({ duration }) => duration))),
  midi: F.format(sum(part.notes.map(({ midi }) => decimal(midi ?? 0)))),
});

const added = (all: readonly Sums[]): Sums => {
  const of = (name: 'onsets' | 'durations' | 'midi'): string =>
    F.format(sum(all.map((one) => F.parse(one[name]) ?? F.zero)));
  return {
    notes: all.reduce((count, { notes }) => count + notes, 0),
    graces: all.reduce((count, { graces }) => count + graces, 0),
    onsets: of('onsets'),
    durations: of('durations'),
    midi: of('midi'),
  };
};

/** Voices that are one part; all others are parts of their own. */
const together: Readonly<Record<string, readonly string[]>> = {
  T1: ['T1', 'T2'],
  B1: ['B1', 'B2'],
  P4: ['P4', 'P4b', 'P4l'],
};

const byPart = (voices: Readonly<Record<string, Sums>>): Readonly<Record<string, Sums>> => {
  const within = new Set(Object.values(together).flatMap(([, ...others]) => others));
  return Object.fromEntries(
    Object.entries(voices)
      .filter(([id]) => !within.has(id))
      .map(([id, one]) => [
        /^\d/.test(id) ? `P${id}` : id,
        added((together[id] ?? [id]).map((voice) => voices[voice] ?? one)),
      ]),
  );
};

const read = (text: string): Score => {
  const result = readAbc(text);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

const random = seeded(21);
const texts = new Map([
  ['english', english],
  ['strathspeys', strathspeys],
  ['reels', reels],
  ['canzonetta', canzonetta],
  ['zocharti', zocharti],
  ['lanterns', own('lanterns.abc')],
  ['odd', own('odd.abc')],
  ...Array.from({ length: 60 }, (_, index): [string, string] => [`random ${index}`, randomAbc(random)]),
]);

describe('ABC counted independently', () => {
  const counts = counted(texts);

  test.each([...texts])('%s', (name, text) => {
    const expected = counts[name];
    expect(expected?.error, `the counter itself reads it:\n${text}`).toBeUndefined();
    const score = read(text);
    expect([score.bars.length, F.format(sum(score.bars.map(({ length }) => length)))], text).toEqual([
      expected?.bars,
      expected?.length,
    ]);
    const parts = Object.fromEntries(score.parts.map((part) => [part.id, sumsOf(part)]));
    expect(parts, text).toEqual(byPart(expected?.voices ?? {}));
  });
});
