/** Records and shelves for tests: by hand, and at random. */
import fc from 'fast-check';
import {
  newEnsemble,
  newMarking,
  newPiece,
  newSavedDrill,
  newTake,
  pieceId,
  type ShelfContent,
  type ShelfRecord,
} from '../../../src/desk/index.ts';
import { pieceHash } from '../../../src/desk/makeDrill.ts';
import { changeRecord } from '../../../src/desk/shelf/merge.ts';
import { recordKey } from '../../../src/desk/shelf/records.ts';

const encoder = new TextEncoder();

/** Small scores by their hash: bar plans. */
export const plans: ReadonlyMap<string, Uint8Array> = new Map(
  ['1-4 3/4', '1-8 4/4; tempo 1/4=92', '1-16 C twice'].map((text) => {
    const bytes = encoder.encode(text);
    return [pieceHash(bytes), bytes];
  }),
);
export const hashes = [...plans.keys()];

const ensembles = ['own', 'e1', 'e2'];
const word = fc.string({ maxLength: 12 });
const key = fc.constantFrom('P1', 'P2', 'toString', 'constructor');
const asked = fc.dictionary(fc.constantFrom('from', 'to', 'click', 'later'), word, { noNullPrototype: true });

/** JSON as a later version might put it into a field. */
const unknownField = fc.record({ fromLater: fc.jsonValue({ maxDepth: 2 }) }).map(({ fromLater }) => ({
  // JSON knows no negative zero.
  fromLater: JSON.parse(JSON.stringify(fromLater)) as unknown,
}));

const record = (value: ShelfRecord): ShelfRecord => value;

const fresh: fc.Arbitrary<ShelfRecord> = fc.oneof(
  fc.constantFrom(...ensembles).map((id) => record({ kind: 'ensemble', value: newEnsemble(id, '') })),
  fc
    .tuple(fc.constantFrom(...ensembles), fc.constantFrom(...hashes))
    .map(([ensemble, hash]) =>
      record({ kind: 'piece', value: newPiece(ensemble, hash, { file: 'a', found: '' }) }),
    ),
  fc
    .tuple(fc.constantFrom('d1', 'd2'), fc.constantFrom(...ensembles), fc.constantFrom(...hashes))
    .map(([id, ensemble, hash]) =>
      record({ kind: 'saved-drill', value: newSavedDrill(id, pieceId(ensemble, hash), '', {}) }),
    ),
  fc
    .tuple(fc.constantFrom('m1', 'm2'), fc.constantFrom(...ensembles), fc.constantFrom(...hashes))
    .map(([id, ensemble, hash]) =>
      record({
        kind: 'marking',
        value: newMarking(id, pieceId(ensemble, hash), {
          kind: 'breath',
          part: 'P1',
          bar: 3,
          beat: '2',
          text: '',
          time: null,
          note: '',
        }),
      }),
    ),
  fc
    .tuple(fc.constantFrom('t1', 't2'), fc.constantFrom(...ensembles), fc.constantFrom(...hashes))
    .map(([id, ensemble, hash]) =>
      record({
        kind: 'take',
        value: newTake(id, pieceId(ensemble, hash), {
          asked: { from: '3' },
          begun: '2026-11-28T12:40:03.000Z',
          click: 'room',
          ended: 'played',
          sounds: {},
        }),
      }),
    ),
  fc.constantFrom('a', 'b').map((id) => record({ kind: 'strange', value: { format: 'levare.later/1', id } })),
);

const changes: Readonly<Record<ShelfRecord['kind'], fc.Arbitrary<Record<string, unknown>>>> = {
  ensemble: fc.oneof(
    fc.record({ name: word }),
    fc.tuple(key, fc.option(fc.record({ name: word, instrument: word }))).map(([id, player]) => ({
      players: Object.fromEntries([[id, player]]),
    })),
    unknownField,
  ),
  piece: fc.oneof(
    fc.record({ title: word }),
    fc.record({ barShift: fc.integer({ min: -9, max: 9 }) }),
    fc.record({ asked }),
    fc.tuple(key, fc.integer({ min: -4, max: 4 })).map(([part, octave]) => ({
      octaves: Object.fromEntries([[part, octave]]),
    })),
    fc.tuple(key, word).map(([part, player]) => ({ players: Object.fromEntries([[part, player]]) })),
    unknownField,
  ),
  'saved-drill': fc.oneof(fc.record({ name: word }), fc.record({ asked }), unknownField),
  marking: fc.oneof(
    fc.record({ text: word }),
    fc.record({ bar: fc.nat(99) }),
    fc.record({ kind: fc.constantFrom('rit', 'cue') }),
    unknownField,
  ),
  take: fc.oneof(
    fc.record({ name: word }),
    fc.record({ click: fc.constantFrom('room', 'headphones') }),
    fc.tuple(key, fc.option(word)).map(([id, name]) => ({
      sounds: Object.fromEntries([
        [
          id,
          name === null
            ? null
            : { file: 'a.wav', name, part: '', recorded: false, seconds: 2.5, bytes: 9, along: false },
        ],
      ]),
    })),
    unknownField,
  ),
  rehearsal: unknownField,
  'journal-take': unknownField,
  'journal-note': unknownField,
  gone: unknownField,
  strange: unknownField,
};

/** A record after some changes made in some windows. */
export const anyRecord: fc.Arbitrary<ShelfRecord> = fresh.chain((start) =>
  fc
    .array(fc.tuple(changes[start.kind], fc.constantFrom('x', 'y')), { maxLength: 5 })
    .map((list) => list.reduce((now, [change, by]) => changeRecord(now, change, by), start)),
);

/** Several states of one record. */
export const states = (count: number): fc.Arbitrary<readonly ShelfRecord[]> =>
  anyRecord.chain((first) =>
    fc
      .array(fc.array(fc.tuple(changes[first.kind], fc.constantFrom('x', 'y', 'z')), { maxLength: 4 }), {
        minLength: count,
        maxLength: count,
      })
      .map((lists) =>
        lists.map((list) => list.reduce((now, [change, by]) => changeRecord(now, change, by), first)),
      ),
  );

/** A shelf in which each piece has its ensemble and its score. */
export const anyShelf: fc.Arbitrary<ShelfContent> = fc.array(anyRecord, { maxLength: 8 }).map((list) => {
  const records = new Map(list.map((one) => [recordKey(one), one]));
  const scores = new Map<string, Uint8Array>();
  for (const one of [...records.values()]) {
    if (one.kind !== 'piece') continue;
    const { ensemble, score } = one.value;
    const bytes = plans.get(score);
    if (bytes !== undefined) scores.set(score, bytes);
    const home = record({ kind: 'ensemble', value: newEnsemble(ensemble, '') });
    if (!records.has(recordKey(home))) records.set(recordKey(home), home);
  }
  return { records, scores };
});
