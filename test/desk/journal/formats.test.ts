/** What the journal, plans, packs and players' data are written as: a fixture of each version, and what is said of newer ones. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { isShelfFile, packsSchema, parsePlan, readShelfFile } from '../../../src/desk/index.ts';
import { keyed, playerData } from '../../../src/desk/journal/keep.ts';
import { readPlayerData } from '../../../src/desk/journal/playerFormat.ts';
import { isPlain } from '../../../src/desk/shelf/formats.ts';
import { readRecord } from '../../../src/desk/shelf/records.ts';
import { someRecords } from './records.ts';

const textOf = (name: string, version: number): string =>
  readFileSync(path.resolve('test', 'desk', 'fixtures', `levare.${name}.${version}.json`), 'utf8');

const fixture = (name: string, version: number): Readonly<Record<string, unknown>> => {
  const json: unknown = JSON.parse(textOf(name, version));
  if (!isPlain(json)) throw new Error('The fixture is no object.');
  return json;
};

describe('records of the journal', () => {
  it.each([
    ['rehearsal', 1],
    ['journal-take', 2],
    ['journal-note', 1],
    ['gone', 1],
  ])('%s, version %i, is read as it stands, and of a newer version kept as it is', (name, version) => {
    const now = fixture(name, version);
    const read = readRecord(now);
    expect(read.ok && read.value).toStrictEqual({ kind: name, value: now });
    const newer = { ...now, format: `levare.${name}/${version + 1}`, later: 1 };
    const kept = readRecord(newer);
    expect(kept.ok && kept.value).toStrictEqual({ kind: 'strange', value: newer });
  });

  it('a take of the first version was read, not told', () => {
    const read = readRecord(fixture('journal-take', 1));
    expect(read.ok && read.value.value).toStrictEqual(fixture('journal-take', 2));
  });
});

describe('what is kept about a player, as a file', () => {
  it('version 1 is what is given, and reads', () => {
    const now = fixture('player', 1);
    expect(playerData(keyed(someRecords), 'anna')).toStrictEqual(now);
    const read = readPlayerData(now);
    expect(read.ok && read.value).toStrictEqual(now);
  });

  it.each([
    ['format-newer', 'version 2', { format: 'levare.player/2' }],
    ['player-damaged', '"format"', { format: 'levare.plan/1' }],
    ['player-damaged', '"takes"', { takes: 'many' }],
    ['player-damaged', '"name"', { name: 3 }],
  ])('says %s and names %s', (code, names, change) => {
    const read = readPlayerData({ ...fixture('player', 1), ...change });
    expect(read.ok ? '' : read.error.code).toBe(code);
    expect(read.ok ? '' : read.error.message).toContain(names);
  });

  it('is no journal: whoever brings it in is told what it is', () => {
    const bytes = new TextEncoder().encode(textOf('player', 1));
    expect(isShelfFile(bytes)).toBe(true);
    const read = readShelfFile(bytes);
    expect(read.ok ? '' : read.error.code).toBe('player-file');
  });
});

describe('plans and packs', () => {
  it('a plan of version 1 reads, a newer one is refused', () => {
    const now = fixture('plan', 1);
    const read = parsePlan(now);
    expect(read.ok && read.value).toStrictEqual(now);
    const newer = parsePlan({ ...now, format: 'levare.plan/2' });
    expect(newer.ok ? '' : newer.error.code).toBe('format-newer');
  });

  it('packs of version 1 are as their schema says, and nothing else passes for them', () => {
    const now = fixture('packs', 1);
    expect(packsSchema.parse(now)).toStrictEqual(now);
    expect(packsSchema.safeParse({ ...now, format: 'levare.packs/2' }).success).toBe(false);
  });
});
