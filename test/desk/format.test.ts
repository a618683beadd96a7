import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from '../../src/desk/index.ts';
import { drillJson, parseDrill } from '../../src/drill/format.ts';

const fixture = (version: number): string =>
  readFileSync(path.resolve('test', 'desk', 'fixtures', `levare.drill.${version}.json`), 'utf8');

const parsed = (text: string): Record<string, unknown> => {
  const json: unknown = JSON.parse(text);
  if (typeof json !== 'object' || json === null) throw new Error('The fixture is no object.');
  return { ...json };
};

const errorOf = (json: unknown): { code: string; message: string } => {
  const result = parseDrill(json);
  if (result.ok) throw new Error('It was taken for a drill.');
  return result.error;
};

describe('the drill in a file', () => {
  it('version 2 reads, and is written back byte for byte', () => {
    const drill = parseDrill(parsed(fixture(2)));
    if (!drill.ok) throw new Error(drill.error.message);
    expect(drill.value.tempo).toEqual(['72', '1/4.=60', '80%']);
    expect(drill.value.click).toBe('weak,12:1 3,@14:none');
    expect(drillJson(drill.value)).toBe(fixture(2));
  });

  it('version 1 is brought up to date and means the same', () => {
    const drill = parseDrill(parsed(fixture(1)));
    if (!drill.ok) throw new Error(drill.error.message);
    expect(drill.value).toEqual({ ...parsed(fixture(1)), format: 'levare.drill/2' });
  });

  it('is written alike whatever the order of its fields', () => {
    const entries = Object.entries(parsed(fixture(1))).reverse();
    const drill = parseDrill({ ...Object.fromEntries(entries), octaves: { P2: -1, P1: 1 } });
    expect(drill.ok && drillJson(drill.value)).toBe(fixture(1).replace('levare.drill/1', 'levare.drill/2'));
  });

  it('of a newer version is refused, and the version is named', () => {
    const error = errorOf({ ...parsed(fixture(1)), format: 'levare.drill/3' });
    expect(error.code).toBe('format-newer');
    expect(error.message).toContain('version 3');
  });

  it.each([
    ['times', { times: 'often' }],
    ['times', { times: 1.5 }],
    ['tacet.without', { tacet: { with: 2 } }],
    ['score.sha256', { score: { sha256: 'abc', title: '', file: 'score.mxl' } }],
    ['octaves.P1', { octaves: { P1: 'high' } }],
    ['tims', { tims: 3 }],
  ])('that is damaged names the field %s', (field, change) => {
    const error = errorOf({ ...parsed(fixture(1)), ...change });
    expect(error.code).toBe('drill-damaged');
    expect(error.message).toContain(`"${field}"`);
  });

  it.each(['../score.mxl', '/etc/passwd', 'a/b.mxl', '.hidden', 'a\\b', ''])(
    'may not name a file outside its folder: %j',
    (file) => {
      const score = { sha256: 'a'.repeat(64), title: '', file };
      expect(errorOf({ ...parsed(fixture(1)), score }).message).toContain('"score.file"');
    },
  );

  it('that lacks a field names it', () => {
    const entries = Object.entries(parsed(fixture(1))).filter(([key]) => key !== 'click');
    expect(errorOf(Object.fromEntries(entries)).message).toContain('"click"');
  });

  it.each([null, 3, 'levare.drill/1', [], {}, { format: 'levare.drill/x' }, { format: 'levare.drill/0' }])(
    'is not taken from %j',
    (json) => {
      expect(errorOf(json).code).toBe('drill-damaged');
    },
  );
});

describe('the JSON schemas in docs/schemas', () => {
  it.each(Object.entries(jsonSchemas()))('%s is current (scripts/schemas.mjs writes it)', (name, schema) => {
    const file: unknown = JSON.parse(readFileSync(path.resolve('docs', 'schemas', name), 'utf8'));
    expect(file).toEqual(JSON.parse(JSON.stringify(schema)));
  });
});
