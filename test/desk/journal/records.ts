/** Journals at random: takes, notes, rehearsals, changed here and there and deleted. */
import fc from 'fast-check';
import { newEnsemble, newPiece, type ShelfRecord } from '../../../src/desk/index.ts';
import { goneRecord } from '../../../src/desk/journal/keep.ts';
import type { JournalTake } from '../../../src/desk/shelf/journalFormats.ts';
import { changeRecord } from '../../../src/desk/shelf/merge.ts';
import { recordKey } from '../../../src/desk/shelf/records.ts';

export const hash = 'a'.repeat(64);
export const piece = `own.${hash}`;

export const figure = (value: number, half = 5) => ({ value, low: value - half, high: value + half });

/** A take of a duo of anna (P1) and ben (P2). */
export const take = (id: string, change: Partial<JournalTake> = {}): JournalTake => ({
  format: 'levare.journal-take/2',
  id,
  piece,
  rehearsal: 'r1',
  day: '2026-11-28',
  nth: 1,
  place: 'shared-line 1/16 @11:1-12:4 P1+P2',
  bars: '12-13',
  step: 'all bar auto',
  playing: 'click',
  told: '',
  parts: {
    P1: { player: 'anna', heard: 40, notes: 44 },
    P2: { player: 'ben', heard: 38, notes: 40 },
  },
  pairs: { 'P1 P2': { n: 36, sd: figure(24) } },
  arrival: null,
  change: null,
  proposed: '',
  decided: '',
  stamps: {},
  ...change,
});

const own: readonly ShelfRecord[] = [
  {
    kind: 'ensemble',
    value: {
      ...newEnsemble('own', 'Duo'),
      players: { anna: { name: 'Anna', instrument: 'Flute' }, ben: { name: 'Ben', instrument: 'Oboe' } },
    },
  },
  {
    kind: 'piece',
    value: { ...newPiece('own', hash, { file: 'duo', found: 'Duo' }), players: { P1: 'anna', P2: 'ben' } },
  },
];

const fresh: readonly ShelfRecord[] = [
  ...own,
  { kind: 'journal-take', value: take('t1') },
  { kind: 'journal-take', value: take('t2', { nth: 2 }) },
  {
    kind: 'journal-note',
    value: {
      format: 'levare.journal-note/1',
      id: 'n1',
      piece,
      rehearsal: 'r1',
      day: '2026-11-28',
      place: '',
      by: 'anna',
      text: 'breathe',
      stamps: {},
    },
  },
  {
    kind: 'rehearsal',
    value: {
      format: 'levare.rehearsal/1',
      id: 'r1',
      ensemble: 'own',
      day: '2026-11-28',
      minutes: 60,
      present: { anna: true },
      concert: '',
      plan: [],
      stamps: {},
    },
  },
];

export const someRecords = fresh;

const word = fc.string({ maxLength: 8 });
const changes: Partial<Record<ShelfRecord['kind'], fc.Arbitrary<Record<string, unknown>>>> = {
  'journal-take': fc.oneof(
    fc.record({ decided: fc.constantFrom('stay', 'on', 'back', 'leave') }),
    fc.constantFrom('P1', 'P2').map((part) => ({ parts: Object.fromEntries([[part, null]]) })),
    fc.constant({ pairs: { 'P1 P2': null } }),
  ),
  'journal-note': fc.record({ text: word }),
  rehearsal: fc.oneof(
    fc.record({ minutes: fc.nat(180) }),
    fc
      .tuple(fc.constantFrom('anna', 'ben'), fc.boolean())
      .map(([id, there]) => ({ present: Object.fromEntries([[id, there]]) })),
  ),
};

/** A record as one player has it: changed some times, or deleted. */
const state = (start: ShelfRecord): fc.Arbitrary<ShelfRecord> =>
  fc
    .tuple(
      fc.array(fc.tuple(changes[start.kind] ?? fc.constant({}), fc.constantFrom('x', 'y', 'z')), {
        maxLength: 4,
      }),
      fc.integer({ min: 0, max: 3 }),
    )
    .map(([list, deleted]) =>
      deleted === 0
        ? goneRecord(start)
        : list.reduce((now, [change, by]) => changeRecord(now, change, by), start),
    );

/** A journal of some of these records. */
export const anyJournal: fc.Arbitrary<ReadonlyMap<string, ShelfRecord>> = fc
  .tuple(...fresh.map((start) => fc.option(state(start))))
  .map((list) => new Map(list.flatMap((one) => (one === null ? [] : [[recordKey(one), one] as const]))));
