/** Formats with versions, tried on a format that has had three. */
import { expect, it } from 'vitest';
import { z } from 'zod';
import { readVersion, type Format } from '../../../src/desk/shelf/versions.ts';

/** A record as it is read, whatever is in it. */
type Plain = Readonly<Record<string, unknown>>;

const mark: Format<{ format: string; bar: string; text: string }> = {
  name: 'levare.mark',
  version: 3,
  schema: z.object({ format: z.literal('levare.mark/3'), bar: z.string(), text: z.string() }),
  upgraders: new Map<number, (older: Plain) => Plain>([
    [1, ({ bar, word }) => ({ format: 'levare.mark/2', bar, text: word })],
    [2, (older) => ({ ...older, format: 'levare.mark/3', bar: String(older['bar']) })],
  ]),
};

it('brings each older version up to date, step by step', () => {
  const now = { format: 'levare.mark/3', bar: '12', text: 'breathe' };
  const older = [
    { format: 'levare.mark/1', bar: 12, word: 'breathe' },
    { format: 'levare.mark/2', bar: 12, text: 'breathe' },
    now,
  ];
  older.forEach((json, i) => {
    expect(readVersion(mark, json)).toStrictEqual({ kind: 'read', value: now, from: i + 1 });
  });
});

it('tells apart what is newer, damaged, and something else', () => {
  expect(readVersion(mark, { format: 'levare.mark/4' })).toStrictEqual({ kind: 'newer', version: 4 });
  expect(readVersion(mark, { format: 'levare.mark/0' })).toMatchObject({ kind: 'damaged', field: 'format' });
  expect(readVersion(mark, { format: 'levare.mark/3', bar: '1' })).toMatchObject({
    kind: 'damaged',
    field: 'text',
  });
  for (const json of [null, [], 'levare.mark/3', { format: 'levare.take/1' }, { format: 3 }])
    expect(readVersion(mark, json)).toStrictEqual({ kind: 'other' });
});
