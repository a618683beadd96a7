/** What is kept of a take that was heard: read again, brought up to date inside, and refused where a newer Levare wrote it. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseTakeReading, performedOf } from '../../src/desk/index.ts';
import { takeReadingSchema } from '../../src/desk/takeReading.ts';
import { wordsSchema } from '../../src/sound/words/format.ts';
import { readWords } from '../../src/sound/words/wordSet.ts';

const jsonOf = (...names: readonly string[]): object => {
  const json: unknown = JSON.parse(readFileSync(path.resolve(...names), 'utf8'));
  if (typeof json !== 'object' || json === null) throw new Error('no object');
  return json;
};
const fixture = (name: string): object => jsonOf('test', 'desk', 'fixtures', `${name}.json`);
const kept = fixture('levare.take-reading.1');
const codeOf = (read: { readonly ok: boolean; readonly error?: { code: string } }): string =>
  read.error?.code ?? '';

describe('the reading of a take', () => {
  it('reads as it stands, and is what its schema says', () => {
    const read = parseTakeReading(kept);
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value).toEqual(kept);
    expect(takeReadingSchema.safeParse(read.value).success).toBe(true);
  });

  it('that holds a drill and a reading of earlier versions has them brought up to date', () => {
    const older = { ...kept, drill: fixture('levare.drill.1'), reading: fixture('levare.reading.1') };
    const read = parseTakeReading(older);
    if (!read.ok) throw new Error(read.error.message);
    expect([read.value.drill.format, read.value.reading.format]).toEqual([
      'levare.drill/2',
      'levare.reading/4',
    ]);
    expect(takeReadingSchema.safeParse(read.value).success).toBe(true);
  });

  it('of a newer version, or with a newer drill or reading in it, is refused by its version', () => {
    for (const change of [
      { format: 'levare.take-reading/2' },
      { drill: { ...fixture('levare.drill.2'), format: 'levare.drill/9' } },
      { reading: { ...fixture('levare.reading.4'), format: 'levare.reading/9' } },
    ]) {
      const read = parseTakeReading({ ...kept, ...change });
      expect(codeOf(read)).toBe('format-newer');
      expect(read.ok ? '' : read.error.message).toMatch(/version [29]/);
    }
  });

  it.each([
    ['take', { take: 3 }],
    ['sounds', { sounds: [] }],
    ['cut', { cut: -1 }],
    ['settings.markings', { settings: { title: '', barShift: 0, octaves: {}, transpositions: {} } }],
    ['format', { format: 'levare.take-reading/0' }],
  ])('that is damaged names the field %s', (field, change) => {
    const read = parseTakeReading({ ...kept, ...change });
    expect(codeOf(read)).toBe('reading-damaged');
    expect(read.ok ? '' : read.error.message).toContain(`"${field}"`);
  });

  it.each([null, 3, [], {}])('is not taken from %j', (json) =>
    expect(codeOf(parseTakeReading(json))).toBe('reading-damaged'),
  );
});

it('notes of a take that a newer Levare wrote are told apart from damaged ones', () => {
  expect(codeOf(performedOf('{"format":"levare.performing/2","begun":""}', 0))).toBe('format-newer');
  expect(codeOf(performedOf('{"format":"levare.performing/1","begun":""}', 0))).toBe('take-damaged');
});

describe('the index of count words', () => {
  const index = jsonOf('assets', 'words', 'index.json');
  const none = new Uint8Array();

  it('is what its schema says', () => {
    expect(wordsSchema.parse(index)).toEqual(index);
  });

  it('of a newer version is refused by its version, of another kind as damaged', () => {
    expect(codeOf(readWords({ ...index, format: 'levare.words/2' }, 'en', none))).toBe('format-newer');
    expect(codeOf(readWords({ ...index, format: 'levare.words/0' }, 'en', none))).toBe('words-damaged');
    expect(codeOf(readWords(null, 'en', none))).toBe('words-damaged');
  });
});
