/** What players play and how far they sit from the one microphone: given once, kept with the piece or the player. */
import type { Ensemble, Piece, ShelfRecord } from '../../desk/index.ts';

type Records = ReadonlyMap<string, ShelfRecord>;

/** In front of part ids, among what is kept with a piece of how it sounds. */
export const seat = 'seat/';
const instrument = 'instrument/';

const partsBy = ({ sound }: Piece, key: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.entries(sound).flatMap(([name, text]) =>
      name.startsWith(key) && text !== '' ? [[name.slice(key.length), text]] : [],
    ),
  );

/** Metres to the microphone, as they were written, by part id; where this piece says nothing of a player, those of another piece of the ensemble. */
export const seatsOf = (piece: Piece, records: Records): Readonly<Record<string, string>> => {
  const own = partsBy(piece, seat);
  const others = [...records.values()].flatMap((record): Piece[] =>
    record.kind === 'piece' && record.value.ensemble === piece.ensemble && record.value.id !== piece.id
      ? [record.value]
      : [],
  );
  const elsewhere = new Map(
    others.flatMap((other) =>
      Object.entries(partsBy(other, seat)).flatMap(([part, metres]): [string, string][] => {
        const player = other.players[part] ?? '';
        return player === '' ? [] : [[player, metres]];
      }),
    ),
  );
  const taken = Object.entries(piece.players).flatMap(([part, player]): [string, string][] => {
    const metres = elsewhere.get(player);
    return metres === undefined || Object.hasOwn(piece.sound, `${seat}${part}`) ? [] : [[part, metres]];
  });
  return { ...Object.fromEntries(taken), ...own };
};

/** The player of a part; null where nobody is named. */
const playerOf = (piece: Piece, ensemble: Ensemble | null, part: string): Ensemble['players'][string] =>
  ensemble?.players[piece.players[part] ?? ''] ?? null;

/** What is played in a part, as its player or the piece says; empty: as the score says. */
export const instrumentOf = (piece: Piece, ensemble: Ensemble | null, part: string): string =>
  playerOf(piece, ensemble, part)?.instrument ?? piece.sound[`${instrument}${part}`] ?? '';

/** The change that says it: of the player, who plays it in other pieces too; else of the piece. */
export const instrumentChange = (
  piece: Piece,
  ensemble: Ensemble | null,
  part: string,
  text: string,
): { readonly key: string; readonly change: Readonly<Record<string, unknown>> } => {
  const player = playerOf(piece, ensemble, part);
  return player === null || ensemble === null
    ? { key: `piece:${piece.id}`, change: { sound: { [`${instrument}${part}`]: text } } }
    : {
        key: `ensemble:${ensemble.id}`,
        change: { players: { [piece.players[part] ?? '']: { ...player, instrument: text } } },
      };
};

/** Metres as they were written; null where they are none. */
export const metresIn = (text: string): number | null => {
  const metres = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && metres >= 0 && metres <= 50 ? metres : null;
};
