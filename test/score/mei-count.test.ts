/**
 * The MEI reader against a counter that shares nothing with it: test/outside/count_mei.py, written in Python from the MEI Guidelines.
 * Examples of the Guidelines, the two pieces in formats/, and the shared files where they are.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { midiOf } from '../../src/score/pitch.ts';
import { readMei } from '../../src/score/read/mei/index.ts';
import { F, type Fraction } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { examples } from './mei-examples.ts';

interface Count {
  readonly bars: number;
  readonly length: string;
  readonly staves: readonly {
    readonly notes: number;
    readonly graces: number;
    readonly onsets: string;
    readonly durations: string;
    readonly keys: string;
  }[];
}

const sum = (values: readonly Fraction[]): Fraction => values.reduce(F.add, F.zero);
const exact = (text: string): Fraction => F.parse(text) ?? F.fraction(-1);

/** Of all staves together: the reader joins the staves of a part, and of two movements. */
const totalOf = ({ bars, length, staves }: Count) => ({
  bars,
  length,
  notes: staves.reduce((total, { notes }) => total + notes, 0),
  graces: staves.reduce((total, { graces }) => total + graces, 0),
  onsets: F.format(sum(staves.map(({ onsets }) => exact(onsets)))),
  durations: F.format(sum(staves.map(({ durations }) => exact(durations)))),
  keys: F.toNumber(sum(staves.map(({ keys }) => exact(keys)))),
});

const ownCount = ({ bars, parts }: Score) => {
  const written = parts.flatMap((part) => part.written);
  const notes = written.filter(({ kind, cue }) => kind === 'note' && !cue);
  const last = bars.at(-1);
  return {
    bars: bars.length,
    length: last === undefined ? '' : F.format(F.add(last.start, last.length)),
    notes: notes.length,
    graces: written.filter(({ kind }) => kind === 'grace').length,
    onsets: F.format(sum(notes.map(({ onset }) => onset))),
    durations: F.format(sum(notes.map(({ duration }) => duration))),
    keys: notes.reduce((total, { pitch }) => total + (pitch === null ? 0 : midiOf(pitch)), 0),
  };
};

/** The counter does not play repeats of half bars. */
const left = ['halfBarRepeats'];
const formats = path.resolve('test', 'score', 'formats');
const shared = sharedData === null ? null : path.join(sharedData, 'scores', 'mei');
const sources = new Map<string, string>([
  ...Object.entries(examples).filter(([name]) => !left.includes(name)),
  ['lanterns', readFileSync(path.join(formats, 'lanterns.mei'), 'utf8')],
  ['odd', readFileSync(path.join(formats, 'odd.mei'), 'utf8')],
  ...(shared === null ? [] : readdirSync(shared).filter((name) => name.endsWith('.mei'))).map(
    (name): [string, string] => [name, readFileSync(path.join(shared ?? '', name), 'utf8')],
  ),
]);

const folder = mkdtempSync(path.join(tmpdir(), 'mei-'));
const names = [...sources.keys()];
names.forEach((name, index) => writeFileSync(path.join(folder, `${index}.mei`), sources.get(name) ?? ''));
afterAll(() => rmSync(folder, { recursive: true }));

const output = execFileSync('/usr/bin/python3', [
  path.resolve('test', 'outside', 'count_mei.py'),
  ...names.map((_, index) => path.join(folder, `${index}.mei`)),
]);
const counts = JSON.parse(output.toString()) as readonly Count[];

test.each(names.map((name, index) => [name, index] as const))(
  '%s: the same bars, notes and sums',
  (name, index) => {
    const result = readMei(sources.get(name) ?? '');
    const count = counts[index];
    if (!result.ok || count === undefined) throw new Error('not read');
    expect(ownCount(result.value)).toEqual(totalOf(count));
  },
);
