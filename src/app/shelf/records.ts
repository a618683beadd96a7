/** Records made from other records: moved to another ensemble, found by name; and the names of files. */
import {
  newEnsemble,
  newSavedDrill,
  pieceId,
  type Ensemble,
  type Piece,
  type ShelfContent,
  type ShelfRecord,
} from '../../desk/index.ts';
import { freshTag } from '../../host/browser/index.ts';
import type { Asked } from '../asked.ts';
import type { Keeper } from './keeping.ts';
import type { Words } from '../words/index.ts';

type Records = ReadonlyMap<string, ShelfRecord>;

/** The name of a file without its ending. */
export const withoutEnding = (name: string): string => name.replace(/\.[^.]{1,12}$/, '');

/** Letters and digits of a name, fit for a file. */
export const bare = (name: string): string =>
  name.replace(/[^\p{L}\p{M}\p{N}]+/gu, '-').replace(/^-|-$/g, '');

/** A piece and its drills as they stand with another ensemble, whose players are others. */
export const movedTo = (
  ensemble: string,
  { score }: Piece,
  { records }: ShelfContent,
  freshId: () => string,
): readonly ShelfRecord[] => {
  const id = pieceId(ensemble, score);
  return [...records.values()].flatMap((record): readonly ShelfRecord[] => {
    if (record.kind === 'piece')
      return [{ kind: 'piece', value: { ...record.value, id, ensemble, players: {} } }];
    if (record.kind === 'marking')
      return [{ kind: 'marking', value: { ...record.value, id: freshId(), piece: id } }];
    if (record.kind === 'take')
      return [{ kind: 'take', value: { ...record.value, id: freshId(), piece: id } }];
    return record.kind === 'saved-drill'
      ? [{ kind: 'saved-drill', value: { ...record.value, id: freshId(), piece: id } }]
      : [];
  });
};

/** The id of a player by name, capitals or not; empty for nobody, null where there is none of that name. */
const playerCalled = ({ players }: Ensemble, name: string): string | null => {
  const wanted = name.trim().toLowerCase();
  if (wanted === '') return '';
  return Object.entries(players).find(([, player]) => player?.name.toLowerCase() === wanted)?.[0] ?? null;
};

/** Somebody plays a part of the piece on the stand: a player of its ensemble by this name, or a new one. Empty: nobody. */
export const partPlayedBy = (
  keeper: Keeper,
  part: { readonly id: string; readonly name: string },
  name: string,
): void => {
  const { piece, state } = keeper.now;
  const home = piece === null ? undefined : state.records.get(`ensemble:${piece.ensemble}`);
  if (piece === null || home?.kind !== 'ensemble') return;
  const known = playerCalled(home.value, name);
  const id = known ?? freshTag();
  if (known === null)
    keeper.change(`ensemble:${home.value.id}`, {
      players: { [id]: { name: name.trim(), instrument: part.name } },
    });
  keeper.change(`piece:${piece.id}`, { players: { [part.id]: id } });
};

/** How many pieces of a file are new here, and how many are known. */
export const countedWords = ({ records }: ShelfContent, here: Records, { shelf }: Words): string => {
  const pieces = [...records].flatMap(([key, { kind }]) => (kind === 'piece' ? [key] : []));
  const known = pieces.filter((key) => here.has(key)).length;
  return shelf.broughtIn(pieces.length - known, known);
};

/** Ensembles for those pieces whose own is not there any more. */
export const homesFor = (records: Records, here: Records): readonly ShelfRecord[] =>
  [...records.values()].flatMap(({ kind, value }): readonly ShelfRecord[] =>
    kind !== 'piece' || here.has(`ensemble:${value.ensemble}`)
      ? []
      : [{ kind: 'ensemble', value: newEnsemble(value.ensemble, '') }],
  );

/** What is asked of a piece, to be kept under a name. */
export const savedDrill = (piece: string, name: string, asked: Asked): ShelfRecord => ({
  kind: 'saved-drill',
  value: newSavedDrill(freshTag(), piece, name, { ...asked }),
});
