/** Two players' journals meet: the laws of a join with deletions, and what belongs to a player. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readShelfFile, shelfFile, type ShelfRecord } from '../../../src/desk/index.ts';
import { forgetPlayer, goneRecord, mergeShelves, playerData } from '../../../src/desk/journal/keep.ts';
import type { Records } from '../../../src/desk/journal/journal.ts';
import { canonical, changeRecord } from '../../../src/desk/shelf/merge.ts';
import { recordKey } from '../../../src/desk/shelf/records.ts';
import { anyJournal, someRecords, take } from './records.ts';

const text = (records: Records): string =>
  [...records]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, { value }]) => `${key} ${canonical(value)}`)
    .join('\n');

const shelf = (records: readonly ShelfRecord[]): Records =>
  new Map(records.map((one) => [recordKey(one), one]));

describe('two journals', () => {
  it('meet in any order, any grouping and any number of times with the same outcome', () => {
    fc.assert(
      fc.property(anyJournal, anyJournal, anyJournal, (a, b, c) => {
        expect(text(mergeShelves(a, b))).toBe(text(mergeShelves(b, a)));
        expect(text(mergeShelves(mergeShelves(a, b), c))).toBe(text(mergeShelves(a, mergeShelves(b, c))));
        expect(text(mergeShelves(a, a))).toBe(text(a));
        expect(text(mergeShelves(mergeShelves(a, b), b))).toBe(text(mergeShelves(a, b)));
      }),
      { numRuns: 400 },
    );
  });

  it('what one deleted stays deleted, whatever the other did with it', () => {
    fc.assert(
      fc.property(anyJournal, anyJournal, (a, b) => {
        const merged = mergeShelves(a, b);
        for (const [key, record] of [...a, ...b])
          if (record.kind === 'gone') expect(merged.get(key)?.kind).toBe('gone');
        for (const [key, { kind }] of merged)
          if (kind === 'gone') expect([a.get(key)?.kind, b.get(key)?.kind]).toContain('gone');
      }),
      { numRuns: 400 },
    );
  });

  it('travel as a file of the shelf and come back as they were', () => {
    fc.assert(
      fc.property(anyJournal, (journal) => {
        const home = mergeShelves(journal, shelf(someRecords.slice(0, 1)));
        const read = readShelfFile(shelfFile({ records: home, scores: new Map() }));
        if (!read.ok) throw new Error(read.error.message);
        expect(text(read.value.records)).toBe(text(home));
      }),
      { numRuns: 60 },
    );
  });

  it('nothing is left of a deleted note but its name', () => {
    const [note] = someRecords.filter(({ kind }) => kind === 'journal-note');
    if (note === undefined) throw new Error('no note');
    const gone = goneRecord(note);
    expect(recordKey(gone)).toBe(recordKey(note));
    expect(canonical(gone.value)).not.toContain('breathe');
  });
});

describe('what belongs to a player', () => {
  const records = shelf(someRecords);
  const after = (player: string): Records => mergeShelves(records, shelf(forgetPlayer(records, player, 'x')));

  it('is given whole', () => {
    const data = playerData(records, 'anna');
    expect(data).toMatchObject({
      format: 'levare.player/1',
      name: 'Anna',
      instrument: 'Flute',
      ensembles: ['Duo'],
      rehearsals: ['2026-11-28'],
      notes: [{ text: 'breathe' }],
    });
    expect(data.takes).toHaveLength(2);
    expect(data.takes[0]).toMatchObject({ heard: 40, notes: 44, apart: [{ part: 'P2', sd: { value: 24 } }] });
  });

  it('is deleted on request, and no old copy brings it back', () => {
    const forgotten = after('anna');
    for (const left of [forgotten, mergeShelves(forgotten, records), mergeShelves(records, forgotten)]) {
      const data = playerData(left, 'anna');
      expect({ ...data, ensembles: [] }).toMatchObject({
        name: '',
        instrument: '',
        parts: [],
        rehearsals: [],
        takes: [],
        notes: [],
      });
      expect(text(left)).not.toMatch(/Anna|breathe|Flute/);
      // What is the others' stays.
      expect(playerData(left, 'ben').takes.map(({ heard }) => heard)).toEqual([38, 38]);
    }
  });

  it('asked twice is asked once, and two who ask apart are both forgotten', () => {
    expect(forgetPlayer(after('anna'), 'anna', 'x')).toEqual([]);
    const both = mergeShelves(after('anna'), after('ben'));
    expect(playerData(both, 'anna').takes).toEqual([]);
    expect(playerData(both, 'ben').takes).toEqual([]);
  });

  it('a take of one player alone is gone with them', () => {
    const solo: ShelfRecord = {
      kind: 'journal-take',
      value: take('solo', { parts: { P1: { player: 'anna', heard: 1, notes: 2 } }, pairs: {} }),
    };
    expect(forgetPlayer(shelf([solo]), 'anna', 'x').map(({ kind }) => kind)).toEqual(['gone']);
  });

  it('a decision made elsewhere meanwhile is kept, and the player stays forgotten', () => {
    const [one] = someRecords.filter(({ kind }) => kind === 'journal-take');
    if (one === undefined) throw new Error('no take');
    const decided = shelf([
      changeRecord(changeRecord(one, { decided: 'stay' }, 'z'), { decided: 'on' }, 'z'),
    ]);
    const merged = mergeShelves(after('anna'), decided).get(recordKey(one));
    expect(merged?.value).toMatchObject({ decided: 'on', parts: { P1: null }, pairs: { 'P1 P2': null } });
  });
});
