/** Who plays what, by name: a player of the ensemble where one is named, else the part. */
import type { Ensemble, Overview, Piece } from '../../desk/index.ts';
import type { Keeper } from '../shelf/keeping.ts';

export const homeOf = (keeper: Keeper, piece: Piece): Ensemble | null => {
  const record = keeper.now.state.records.get(`ensemble:${piece.ensemble}`);
  return record?.kind === 'ensemble' ? record.value : null;
};

/** Someone who may be there: by the id of the player, or of the part where nobody is named. */
export interface Person {
  readonly id: string;
  readonly name: string;
  /** Ids of the parts that they play. */
  readonly parts: readonly string[];
}

export const peopleOf = (keeper: Keeper, piece: Piece, look: Overview['look']): readonly Person[] => {
  const players = homeOf(keeper, piece)?.players ?? {};
  const people = new Map<string, { id: string; name: string; parts: string[] }>();
  for (const part of look.parts) {
    const player = piece.players[part.id] ?? '';
    const name = Object.hasOwn(players, player) ? (players[player]?.name ?? '') : '';
    const id = name === '' ? part.id : player;
    const known = people.get(id);
    if (known === undefined)
      people.set(id, { id, name: name === '' ? part.name || part.id : name, parts: [part.id] });
    else known.parts.push(part.id);
  }
  return [...people.values()];
};

/** Names by part id. */
export const namesOf = (people: readonly Person[]): Readonly<Record<string, string>> =>
  Object.fromEntries(people.flatMap(({ name, parts }) => parts.map((part) => [part, name])));
