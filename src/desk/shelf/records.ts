/** Records read from plain data, written back, made and changed. */
import { fail, ok, type Result } from '../../units/index.ts';
import {
  ensembleSchema,
  markingSchema,
  pieceSchema,
  savedDrillSchema,
  strangeSchema,
  takeSchema,
  type Ensemble,
  type Marking,
  type Piece,
  type Plain,
  type SavedDrill,
  type ShelfRecord,
  type Take,
} from './formats.ts';
import { readJournal } from './journalRecords.ts';
import { formatOf, readVersion, type Format } from './versions.ts';

/** The formats of records, with upgraders where there has been an older version. */
const ensembleFormat: Format<Ensemble> = {
  name: 'levare.ensemble',
  version: 1,
  schema: ensembleSchema,
  upgraders: new Map(),
};
const pieceFormat: Format<Piece> = {
  name: 'levare.piece',
  version: 2,
  schema: pieceSchema,
  upgraders: new Map([[1, (older) => ({ ...older, format: 'levare.piece/2', sound: {} })]]),
};
const savedDrillFormat: Format<SavedDrill> = {
  name: 'levare.saved-drill',
  version: 1,
  schema: savedDrillSchema,
  upgraders: new Map(),
};
export const markingFormat: Format<Marking> = {
  name: 'levare.marking',
  version: 2,
  schema: markingSchema,
  upgraders: new Map([[1, (older) => ({ ...older, format: 'levare.marking/2', time: null, note: '' })]]),
};

const takeFormat: Format<Take> = {
  name: 'levare.take',
  version: 1,
  schema: takeSchema,
  upgraders: new Map(),
};

/** A piece is known by its ensemble and its score, so that it is the same on every device. */
export const pieceId = (ensemble: string, score: string): string => `${ensemble}.${score}`;

/** Under which a record is kept: its kind and its id. What is gone keeps the key that it had. */
export const recordKey = ({ kind, value }: ShelfRecord): string =>
  kind === 'strange'
    ? `${formatOf(value)?.name.slice(7) ?? ''}:${value.id}`
    : `${kind === 'gone' ? value.of : kind}:${value.id}`;

/** The version of its format that a record has. */
export const recordVersion = ({ value }: ShelfRecord): number => formatOf(value)?.version ?? 0;

const damaged = (what: string, field: string, why: string): Result<never> =>
  fail(
    'shelf-record-damaged',
    `${what} on the shelf is damaged: its field "${field}" is missing or is not what it should be (${why}). It is left out; all else is there.`,
  );

const wrap = (json: unknown): Result<ShelfRecord> => {
  const ensemble = readVersion(ensembleFormat, json);
  if (ensemble.kind === 'read') return ok({ kind: 'ensemble', value: ensemble.value });
  if (ensemble.kind === 'damaged') return damaged('An ensemble', ensemble.field, ensemble.why);
  const piece = readVersion(pieceFormat, json);
  if (piece.kind === 'read') {
    const { value } = piece;
    return value.id === pieceId(value.ensemble, value.score)
      ? ok({ kind: 'piece', value })
      : damaged('A piece', 'id', 'it does not belong to ensemble and score');
  }
  if (piece.kind === 'damaged') return damaged('A piece', piece.field, piece.why);
  const drill = readVersion(savedDrillFormat, json);
  if (drill.kind === 'read') return ok({ kind: 'saved-drill', value: drill.value });
  if (drill.kind === 'damaged') return damaged('A saved drill', drill.field, drill.why);
  const marking = readVersion(markingFormat, json);
  if (marking.kind === 'read') return ok({ kind: 'marking', value: marking.value });
  if (marking.kind === 'damaged') return damaged('A marking', marking.field, marking.why);
  const take = readVersion(takeFormat, json);
  if (take.kind === 'read') return ok({ kind: 'take', value: take.value });
  if (take.kind === 'damaged') return damaged('A take', take.field, take.why);
  const journal = readJournal(json);
  if (journal.kind === 'read') return ok(journal.value);
  if (journal.kind === 'damaged') return damaged('A record of the journal', journal.field, journal.why);
  const strange = strangeSchema.safeParse(json);
  return strange.success
    ? ok({ kind: 'strange', value: strange.data })
    : damaged('A record', 'format', 'it is none that is known');
};

/**
 * Reads a record of any kind and version; what a later program wrote comes as `strange`. Error:
 * `shelf-record-damaged`.
 */
export const readRecord = (json: unknown): Result<ShelfRecord> => wrap(json);

/** A record of this program's own making, which cannot be damaged. */
export const asRecord = (value: Plain): ShelfRecord => {
  const read = wrap(value);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
};

/** The ensemble that is there from the beginning has the same id everywhere, so that two devices' first shelves are one. */
export const firstEnsemble = 'own';

export const newEnsemble = (id: string, name: string): Ensemble => ({
  format: 'levare.ensemble/1',
  id,
  name,
  players: {},
  stamps: {},
});

/** A piece as it is put on the shelf: nothing set yet. */
export const newPiece = (
  ensemble: string,
  score: string,
  { file, found }: { readonly file: string; readonly found: string },
): Piece => ({
  format: 'levare.piece/2',
  id: pieceId(ensemble, score),
  ensemble,
  score,
  file,
  found,
  title: '',
  players: {},
  octaves: {},
  transpositions: {},
  barShift: 0,
  asked: {},
  sound: {},
  stamps: {},
});

export const newSavedDrill = (
  id: string,
  piece: string,
  name: string,
  asked: Readonly<Record<string, string>>,
): SavedDrill => ({
  format: 'levare.saved-drill/1',
  id,
  piece,
  name,
  asked: { ...asked },
  stamps: {},
});

/** What is said of a marking besides which it is. */
export type MarkingText = Pick<Marking, 'kind' | 'part' | 'bar' | 'beat' | 'text' | 'time' | 'note'>;

/** What a marking says, without the record around it. */
export const markingText = ({ kind, part, bar, beat, text, time, note }: Marking): MarkingText => ({
  kind,
  part,
  bar,
  beat,
  text,
  time,
  note,
});

export const newMarking = (id: string, piece: string, said: MarkingText): Marking => ({
  format: 'levare.marking/2',
  id,
  piece,
  ...said,
  stamps: {},
});

/** What is said of a take besides which it is. */
export type TakeText = Pick<Take, 'asked' | 'begun' | 'click' | 'ended' | 'sounds'>;

export const newTake = (
  id: string,
  piece: string,
  { asked, begun, click, ended, sounds }: TakeText,
): Take => ({
  format: 'levare.take/1',
  id,
  piece,
  name: '',
  asked: { ...asked },
  begun,
  click,
  ended,
  sounds: { ...sounds },
  stamps: {},
});
