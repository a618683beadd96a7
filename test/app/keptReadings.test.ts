/** Readings that are kept on the device go with their take, and never because a shelf could not be read. Definition. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { KeptReadings } from '../../src/app/reading/keptReadings.ts';
import { parseTakeReading } from '../../src/desk/index.ts';
import { problem, type Problem } from '../../src/units/index.ts';

const text = readFileSync(
  path.resolve(import.meta.dirname, '..', 'desk', 'fixtures', 'levare.take-reading.1.json'),
  'utf8',
);
const read = parseTakeReading(JSON.parse(text));
if (!read.ok) throw new Error(read.error.message);
const reading = read.value;

const made = (takes: readonly string[], trouble: Problem | null = null) => {
  const disk = new Map([
    ['a', JSON.stringify({ ...reading, take: 'a' })],
    ['b', JSON.stringify({ ...reading, take: 'b' })],
  ]);
  const records = new Map<string, unknown>(takes.map((id) => [`take:${id}`, {}]));
  const kept = new KeptReadings(
    { now: { state: { records }, trouble } },
    {
      list: () => Promise.resolve([...disk.keys()]),
      get: (take) => Promise.resolve(disk.get(take) ?? null),
      set: (take, value) => Promise.resolve(disk.set(take, value).has(take)),
      remove: (gone) => {
        for (const take of gone) disk.delete(take);
        return Promise.resolve();
      },
    },
  );
  return { kept, disk, records };
};

it('a reading goes with its take, when the page is opened and at once', async () => {
  const { kept, disk, records } = made(['a', 'c']);
  await kept.start();
  expect([...disk.keys()]).toEqual(['a']);
  await kept.keep({ ...reading, take: 'c' });
  expect([...kept.ids]).toEqual(['a', 'c']);
  expect((await kept.of('c'))?.take).toBe('c');
  records.delete('take:a');
  kept.noticed();
  expect([[...kept.ids], [...disk.keys()]]).toEqual([['c'], ['c']]);
  await kept.forget('c');
  expect([kept.ids.size, disk.size, await kept.of('c')]).toEqual([0, 0, null]);
});

it('none goes where the shelf could not be read', async () => {
  const { kept, disk } = made([], problem('error', 'shelf-off', ''));
  await kept.start();
  kept.noticed();
  expect([[...kept.ids], disk.size]).toEqual([['a', 'b'], 2]);
});
