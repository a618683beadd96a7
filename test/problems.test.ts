/** The table in docs/problems.md against the codes that the sources use. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { usedCodes } from './support/usedCodes.ts';

const table = readFileSync(path.resolve(import.meta.dirname, '..', 'docs', 'problems.md'), 'utf8');

const rows = [...table.matchAll(/^\| `([^`]+)` *\|(.*)\|$/gm)].map(([, code = '', rest = '']) => ({
  code,
  cells: rest.split(' | ').map((cell) => cell.trim()),
}));
const listed = rows.map(({ code }) => code);
const severitiesOf = new Map(rows.map(({ code, cells }) => [code, (cells[0] ?? '').split(', ')]));
const { codes, unreadable } = usedCodes();

describe('the table of problems', () => {
  it('can be compared: each code is written out where it is named', () => {
    expect(unreadable).toEqual([]);
    expect(codes.size).toBeGreaterThan(200);
  });

  it('has every code that is used', () => {
    expect([...codes.keys()].filter((code) => !listed.includes(code))).toEqual([]);
  });

  it('has no code that is not used', () => {
    expect(listed.filter((code) => !codes.has(code))).toEqual([]);
  });

  it('names each severity that a code is said with', () => {
    const missing = [...codes].flatMap(([code, severities]) =>
      [...severities]
        .filter((severity) => severitiesOf.get(code)?.includes(severity) === false)
        .map((severity) => `${code} ${severity}`),
    );
    expect(missing).toEqual([]);
  });

  it('tells each code once, in order, with its severity, what it means and what to do', () => {
    expect(listed).toEqual([...new Set(listed)].sort());
    const words = ['error', 'repair', 'assumption', 'note'];
    for (const { code, cells } of rows) {
      const [severity = '', meaning = '', remedy = '', ...more] = cells;
      expect(
        severity.split(', ').every((word) => words.includes(word)),
        code,
      ).toBe(true);
      expect([meaning.endsWith('.'), remedy.endsWith('.'), more.length], code).toEqual([true, true, 0]);
    }
  });

  it('spells codes as lower-case words joined by hyphens', () => {
    expect([...codes.keys()].filter((code) => !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(code))).toEqual([]);
  });
});
