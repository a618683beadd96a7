/** A kept reading taken up again: each version that there has been, newer ones, and damaged ones. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseReading } from '../../src/desk/index.ts';

const fixture = (version: number): object => {
  const json: unknown = JSON.parse(
    readFileSync(path.resolve('test', 'desk', 'fixtures', `levare.reading.${version}.json`), 'utf8'),
  );
  if (typeof json !== 'object' || json === null) throw new Error('The fixture is no object.');
  return json;
};

describe('a reading in a file', () => {
  it('version 4 reads as it stands', () => {
    const read = parseReading(fixture(4));
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value).toEqual(fixture(4));
    expect(read.value.played.map(({ bar }) => bar)).toEqual(['10', '11', '12']);
    expect(read.value.written).toHaveLength(read.value.notes.length);
  });

  it('version 3 is brought up to date: it knew no rough notes, and nothing else changes', () => {
    const read = parseReading(fixture(3));
    expect(read.ok && read.value).toEqual({ ...fixture(3), format: 'levare.reading/4' });
  });

  it('version 2 is brought up to date: lengths held against each other whatever is written are left out', () => {
    const read = parseReading(fixture(2));
    if (!read.ok) throw new Error(read.error.message);
    const { format, played, written, articulationBetween, findings, ...figures } = read.value;
    expect({ format, written, articulationBetween }).toEqual({
      format: 'levare.reading/4',
      written: [],
      articulationBetween: [],
    });
    expect(played.every(({ gives }) => !gives)).toBe(true);
    expect(fixture(2)).toMatchObject(figures);
    expect(findings.length).toBeGreaterThan(3);
    expect(findings.every(({ kind, times }) => kind !== 'length' && times === 1)).toBe(true);
  });

  it('version 1 is brought up to date: its figures stay, findings are worked out', () => {
    const read = parseReading(fixture(1));
    if (!read.ok) throw new Error(read.error.message);
    const {
      format,
      playing,
      played,
      entries,
      syncopations,
      lengths,
      written,
      articulationBetween,
      findings,
      ...figures
    } = read.value;
    expect(fixture(1)).toMatchObject(figures);
    expect({ format, playing, played, entries, syncopations, lengths, written, articulationBetween }).toEqual(
      {
        format: 'levare.reading/4',
        playing: 'click',
        played: [],
        entries: [],
        syncopations: [],
        lengths: [],
        written: [],
        articulationBetween: [],
      },
    );
    expect(findings.length).toBeGreaterThan(3);
    const free = parseReading({ ...fixture(1), click: { placement: 'none', perBar: 0 } });
    expect(free.ok && free.value.playing).toBe('free');
  });

  it('of a newer version is refused, and the version is named', () => {
    const read = parseReading({ ...fixture(4), format: 'levare.reading/5' });
    expect(!read.ok && [read.error.code, read.error.message.includes('version 5')]).toEqual([
      'format-newer',
      true,
    ]);
  });

  it.each([
    ['title', { title: 3 }],
    ['playing', { playing: 'loudly' }],
    ['tempi', { tempi: [] }],
  ])('that is damaged names the field %s', (field, change) => {
    for (const version of [1, 2, 3, 4]) {
      if (field === 'playing' && version === 1) continue;
      const read = parseReading({ ...fixture(version), ...change });
      expect(!read.ok && read.error.code).toBe('reading-damaged');
      expect(!read.ok && read.error.message).toContain(`"${field}"`);
    }
  });

  it.each([
    null,
    3,
    'levare.reading/4',
    [],
    {},
    { format: 'levare.reading/0' },
    { format: 'levare.drill/2' },
  ])('is not taken from %j', (json) => {
    const read = parseReading(json);
    expect(!read.ok && read.error.code).toBe('reading-damaged');
  });
});
