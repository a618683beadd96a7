/** Merging states of a record: the laws of a join, and what a player sees of it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newEnsemble, newPiece, type ShelfRecord } from '../../../src/desk/index.ts';
import { canonical, changeRecord, mergeRecords } from '../../../src/desk/shelf/merge.ts';
import { readRecord } from '../../../src/desk/shelf/records.ts';
import { hashes, states } from './records.ts';

const [hash = ''] = hashes;
const piece: ShelfRecord = {
  kind: 'piece',
  value: newPiece('own', hash, { file: 'trio', found: 'Trio' }),
};

describe('two states of a record', () => {
  it('meet in any order, any grouping and any number of times with the same outcome', () => {
    fc.assert(
      fc.property(states(3), ([a, b, c]) => {
        if (a === undefined || b === undefined || c === undefined) throw new Error('Three were asked for.');
        // As texts: names such as "constructor" are compared like any other.
        const same = (one: ShelfRecord, two: ShelfRecord): void => {
          expect(canonical(one)).toBe(canonical(two));
        };
        same(mergeRecords(a, b), mergeRecords(b, a));
        same(mergeRecords(mergeRecords(a, b), c), mergeRecords(a, mergeRecords(b, c)));
        expect(mergeRecords(a, a)).toBe(a);
        same(mergeRecords(mergeRecords(a, b), b), mergeRecords(a, b));
      }),
      { numRuns: 300 },
    );
  });

  it('keep what each changed alone', () => {
    const one = changeRecord(piece, { title: 'Our trio', octaves: { P1: 1 } }, 'x');
    const two = changeRecord(piece, { barShift: 4, octaves: { P2: -1 } }, 'y');
    expect(mergeRecords(one, two).value).toMatchObject({
      title: 'Our trio',
      barShift: 4,
      octaves: { P1: 1, P2: -1 },
    });
  });

  it('have the later of two changes to the same field', () => {
    const early = changeRecord(piece, { title: 'Early' }, 'z');
    const late = changeRecord(changeRecord(piece, { barShift: 1 }, 'a'), { title: 'Late' }, 'a');
    expect(mergeRecords(early, late).value).toMatchObject({ title: 'Late' });
    expect(mergeRecords(late, early).value).toMatchObject({ title: 'Late' });
  });

  it('keep fields of a later version, and the later version of a record whole', () => {
    const now = changeRecord(piece, { markings: [{ bar: '3', text: 'breathe' }] }, 'x');
    const merged = mergeRecords(now, changeRecord(piece, { title: 'Ours' }, 'y'));
    expect(merged.value).toMatchObject({ title: 'Ours', markings: [{ bar: '3', text: 'breathe' }] });
    const later = readRecord({ ...piece.value, format: 'levare.piece/3', title: 7 });
    if (!later.ok) throw new Error(later.error.message);
    expect(later.value.kind).toBe('strange');
    expect(mergeRecords(now, later.value)).toBe(later.value);
    expect(mergeRecords(later.value, now)).toBe(later.value);
  });

  it('of an ensemble keep the players of both', () => {
    const trio: ShelfRecord = { kind: 'ensemble', value: newEnsemble('e1', 'Trio') };
    const one = changeRecord(trio, { players: { a: { name: 'Anna', instrument: 'Flute' } } }, 'x');
    const two = changeRecord(trio, { players: { b: { name: 'Ben', instrument: 'Cello' } } }, 'y');
    const both = mergeRecords(one, two);
    expect(both.value).toMatchObject({ players: { a: { name: 'Anna' }, b: { name: 'Ben' } } });
    expect(mergeRecords(both, changeRecord(both, { players: { a: null } }, 'y')).value).toMatchObject({
      players: { a: null, b: { name: 'Ben' } },
    });
  });
});

it.each([
  ['barShift', { barShift: 1.5 }],
  ['octaves.P1', { octaves: { P1: 9 } }],
  ['score', { score: 'abc' }],
  ['title', { title: 3 }],
  ['id', { id: 'own.elsewhere' }],
  ['stamps.title', { stamps: { title: 4 } }],
])('a damaged record names its field %s', (field, change) => {
  const read = readRecord({ ...piece.value, ...change });
  if (read.ok) throw new Error('It was taken.');
  expect(read.error.code).toBe('shelf-record-damaged');
  expect(read.error.message).toContain(`"${field}`);
});

it.each([
  null,
  3,
  'levare.piece/1',
  [],
  {},
  { format: 'levare.piece/0', id: 'a' },
  { format: 'x/1', id: 'a' },
])('no record is taken from %j', (json) => {
  expect(readRecord(json).ok).toBe(false);
});
