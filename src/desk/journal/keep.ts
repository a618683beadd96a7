/** Two journals into one, deletion for good, and what there is of one player. */
import type { Ensemble, ShelfRecord } from '../shelf/formats.ts';
import { changeRecord, mergeRecords } from '../shelf/merge.ts';
import { recordKey } from '../shelf/records.ts';
import type { Records } from './journal.ts';
import { pairOf } from './keys.ts';

/** Records by their keys. */
export const keyed = (records: Iterable<ShelfRecord>): Records =>
  new Map([...records].map((record) => [recordKey(record), record]));

/** All that either has, each record merged; in which order and how often does not matter. */
export const mergeShelves = (a: Records, b: Records): Records => {
  const merged = new Map(a);
  for (const [key, record] of b) {
    const before = merged.get(key);
    merged.set(key, before === undefined ? record : mergeRecords(before, record));
  }
  return merged;
};

/** The mark that stands where a record was: no merge brings the record back. */
export const goneRecord = (record: ShelfRecord): ShelfRecord => {
  const key = recordKey(record);
  const at = key.indexOf(':');
  return {
    kind: 'gone',
    value: { format: 'levare.gone/1', id: key.slice(at + 1), of: key.slice(0, at), stamps: {} },
  };
};

const partsOf = (record: ShelfRecord, player: string): readonly string[] => {
  if (record.kind === 'piece')
    return Object.entries(record.value.players).flatMap(([part, who]) => (who === player ? [part] : []));
  if (record.kind === 'journal-take')
    return Object.entries(record.value.parts).flatMap(([part, own]) =>
      own?.player === player ? [part] : [],
    );
  return [];
};

/** What of a record is the player's, as changes of fields: their share of it is emptied; null where nothing is. */
const emptied = (
  record: ShelfRecord,
  player: string,
  pieceParts: ReadonlySet<string>,
): Readonly<Record<string, unknown>> | null => {
  const parts = partsOf(record, player);
  switch (record.kind) {
    case 'ensemble':
      return Object.hasOwn(record.value.players, player) && record.value.players[player] !== null
        ? { players: Object.fromEntries([[player, null]]) }
        : null;
    case 'piece':
      return parts.length === 0 ? null : { players: Object.fromEntries(parts.map((part) => [part, ''])) };
    case 'rehearsal':
      return record.value.present[player] === true
        ? { present: Object.fromEntries([[player, false]]) }
        : null;
    case 'journal-take': {
      if (parts.length === 0) return null;
      const pairs = Object.keys(record.value.pairs).filter((key) =>
        pairOf(key).some((part) => parts.includes(part)),
      );
      return {
        parts: Object.fromEntries(parts.map((part) => [part, null])),
        pairs: Object.fromEntries(pairs.map((key) => [key, null])),
      };
    }
    case 'take': {
      const sounds = Object.entries(record.value.sounds).flatMap(([id, sound]): [string, null][] =>
        sound !== null && pieceParts.has(`${record.value.piece} ${sound.part}`) ? [[id, null]] : [],
      );
      return sounds.length === 0 ? null : { sounds: Object.fromEntries(sounds) };
    }
    case 'journal-note':
    case 'saved-drill':
    case 'marking':
    case 'gone':
    case 'strange':
      return null;
  }
};

/**
 * What is to be put on the shelf so that nothing of a player is left: name and instrument, which parts they play, their share of each
 * take (their notes' counts and every pair with them), recordings of their part alone, the notes they wrote. Recordings of all together hold everyone and stay. `by`: tag of this window. Takes that were theirs alone are gone.
 */
export const forgetPlayer = (records: Records, player: string, by: string): readonly ShelfRecord[] => {
  const pieceParts = new Set(
    [...records.values()].flatMap((record) =>
      record.kind === 'piece' ? partsOf(record, player).map((part) => `${record.value.id} ${part}`) : [],
    ),
  );
  return [...records.values()].flatMap((record) => {
    if (record.kind === 'journal-note' && record.value.by === player) return [goneRecord(record)];
    const change = emptied(record, player, pieceParts);
    if (change === null) return [];
    const left = changeRecord(record, change, by);
    const alone =
      left.kind === 'journal-take' && Object.values(left.value.parts).every((part) => part === null);
    return [alone ? goneRecord(record) : left];
  });
};

/** All that the shelf has of one player, to be handed to them: plain data, `levare.player/1`. */
export interface PlayerData {
  readonly format: 'levare.player/1';
  readonly player: string;
  readonly name: string;
  readonly instrument: string;
  readonly ensembles: readonly string[];
  /** Pieces by id, and the parts that they play there. */
  readonly parts: readonly { readonly piece: string; readonly parts: readonly string[] }[];
  readonly rehearsals: readonly string[];
  readonly takes: readonly {
    readonly day: string;
    readonly piece: string;
    readonly place: string;
    readonly step: string;
    readonly heard: number;
    readonly notes: number;
    /** Milliseconds from one other part each. */
    readonly apart: readonly {
      readonly part: string;
      readonly sd: {
        readonly value: number;
        readonly low: number | null;
        readonly high: number | null;
      } | null;
    }[];
  }[];
  readonly notes: readonly { readonly day: string; readonly piece: string; readonly text: string }[];
}

export const playerData = (records: Records, player: string): PlayerData => {
  const all = [...records.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, record]) => record);
  const homes = all.flatMap((record): Ensemble[] =>
    record.kind === 'ensemble' && Object.hasOwn(record.value.players, player) ? [record.value] : [],
  );
  const [first] = homes.flatMap(({ players }) => players[player] ?? []);
  return {
    format: 'levare.player/1',
    player,
    name: first?.name ?? '',
    instrument: first?.instrument ?? '',
    ensembles: homes.map(({ name, id }) => (name === '' ? id : name)),
    parts: all.flatMap((record) => {
      const parts = record.kind === 'piece' ? partsOf(record, player) : [];
      return parts.length === 0 ? [] : [{ piece: record.value.id, parts }];
    }),
    rehearsals: all.flatMap((record) =>
      record.kind === 'rehearsal' && record.value.present[player] === true ? [record.value.day] : [],
    ),
    takes: all.flatMap((record) => {
      if (record.kind !== 'journal-take') return [];
      const { day, piece, place, step, pairs } = record.value;
      return partsOf(record, player).map((part) => ({
        day,
        piece,
        place,
        step,
        heard: record.value.parts[part]?.heard ?? 0,
        notes: record.value.parts[part]?.notes ?? 0,
        apart: Object.entries(pairs).flatMap(([key, pair]) => {
          const two = pairOf(key);
          const other = two.find((one) => one !== part);
          return pair === null || other === undefined || !two.includes(part)
            ? []
            : [{ part: other, sd: pair.sd }];
        }),
      }));
    }),
    notes: all.flatMap((record) =>
      record.kind === 'journal-note' && record.value.by === player
        ? [{ day: record.value.day, piece: record.value.piece, text: record.value.text }]
        : [],
    ),
  };
};
