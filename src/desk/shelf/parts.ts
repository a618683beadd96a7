/** What belongs together on a shelf: the pieces of an ensemble, the drills of a piece. */
import type { Ensemble, Marking, Piece, SavedDrill, ShelfRecord, Take, TakeSound } from './formats.ts';
import { recordKey } from './records.ts';

type Records = ReadonlyMap<string, ShelfRecord>;

const byName =
  <T extends { readonly id: string }>(name: (one: T) => string) =>
  (a: T, b: T): number => {
    const [first, second] = [name(a).toLowerCase(), name(b).toLowerCase()];
    return first === second ? (a.id < b.id ? -1 : 1) : first < second ? -1 : 1;
  };

/** What a piece is called. Empty where neither player nor score nor file gave a name. */
export const pieceTitle = ({ title, found, file }: Piece): string => title || found || file;

/** By their names. */
export const ensemblesOf = (records: Records): readonly Ensemble[] =>
  [...records.values()]
    .flatMap((record) => (record.kind === 'ensemble' ? [record.value] : []))
    .sort(byName(({ name }) => name));

/** By their titles. */
export const piecesOf = (records: Records, ensemble: string): readonly Piece[] =>
  [...records.values()]
    .flatMap((record) =>
      record.kind === 'piece' && record.value.ensemble === ensemble ? [record.value] : [],
    )
    .sort(byName(pieceTitle));

/** By their names. */
export const drillsOf = (records: Records, piece: string): readonly SavedDrill[] =>
  [...records.values()]
    .flatMap((record) =>
      record.kind === 'saved-drill' && record.value.piece === piece ? [record.value] : [],
    )
    .sort(byName(({ name }) => name));

/** As they stand in the score. */
export const markingsOf = (records: Records, piece: string): readonly Marking[] =>
  [...records.values()]
    .flatMap((record) => (record.kind === 'marking' && record.value.piece === piece ? [record.value] : []))
    .sort((a, b) => a.bar - b.bar || (a.beat === b.beat ? (a.id < b.id ? -1 : 1) : a.beat < b.beat ? -1 : 1));

/** The latest first. */
export const takesOf = (records: Records, piece: string): readonly Take[] =>
  [...records.values()]
    .flatMap((record) => (record.kind === 'take' && record.value.piece === piece ? [record.value] : []))
    .sort((a, b) => (a.begun === b.begun ? (a.id < b.id ? -1 : 1) : a.begun < b.begun ? 1 : -1));

/** The sounds of a take that are there, with their ids: what was recorded here first, then as they were brought. */
export const soundsOf = ({ sounds }: Take): readonly (readonly [id: string, sound: TakeSound])[] =>
  Object.entries(sounds)
    .flatMap(([id, sound]): [string, TakeSound][] => (sound === null ? [] : [[id, sound]]))
    .sort(([a, one], [b, two]) => Number(two.recorded) - Number(one.recorded) || (a < b ? -1 : 1));

/** Names of all sounds that takes on the shelf have. */
export const soundsNamed = (records: Records): ReadonlySet<string> =>
  new Set(
    [...records.values()].flatMap((record) =>
      record.kind === 'take' ? soundsOf(record.value).map(([, { file }]) => file) : [],
    ),
  );

/** Keys of a piece and of all that is kept about it, records of later versions among it. */
export const keysOfPiece = (records: Records, piece: string): readonly string[] =>
  [...records.values()]
    .filter(({ kind, value }) => (kind === 'piece' ? value.id === piece : value['piece'] === piece))
    .map(recordKey);

/** Keys of an ensemble, of its pieces, and of all that is kept about them. */
export const keysOfEnsemble = (records: Records, ensemble: string): readonly string[] => [
  `ensemble:${ensemble}`,
  ...piecesOf(records, ensemble).flatMap(({ id }) => keysOfPiece(records, id)),
];

/** Keys that make a piece complete for somebody else: itself, what is kept about it, and its ensemble. */
export const keysToTakeAlong = (records: Records, piece: Piece): readonly string[] => [
  `ensemble:${piece.ensemble}`,
  ...keysOfPiece(records, piece.id),
];
