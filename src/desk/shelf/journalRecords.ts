/** Records of the journal read from plain data. */
import type { ShelfRecord } from './formats.ts';
import {
  goneSchema,
  journalNoteSchema,
  journalTakeSchema,
  rehearsalSchema,
  type Gone,
  type JournalNote,
  type JournalTake,
  type Rehearsal,
} from './journalFormats.ts';
import { readVersion, type Format } from './versions.ts';

/** The formats of these records, with upgraders where there has been an older version. */
const rehearsalFormat: Format<Rehearsal> = {
  name: 'levare.rehearsal',
  version: 1,
  schema: rehearsalSchema,
  upgraders: new Map(),
};
const journalTakeFormat: Format<JournalTake> = {
  name: 'levare.journal-take',
  version: 2,
  schema: journalTakeSchema,
  upgraders: new Map([[1, (older) => ({ ...older, format: 'levare.journal-take/2', told: '' })]]),
};
const journalNoteFormat: Format<JournalNote> = {
  name: 'levare.journal-note',
  version: 1,
  schema: journalNoteSchema,
  upgraders: new Map(),
};
const goneFormat: Format<Gone> = {
  name: 'levare.gone',
  version: 1,
  schema: goneSchema,
  upgraders: new Map(),
};

export type ReadJournal =
  | { readonly kind: 'read'; readonly value: ShelfRecord }
  | { readonly kind: 'other' }
  | { readonly kind: 'damaged'; readonly field: string; readonly why: string };

/** A record of the journal; "other" for all else, later versions among it. */
export const readJournal = (json: unknown): ReadJournal => {
  const rehearsal = readVersion(rehearsalFormat, json);
  if (rehearsal.kind === 'read')
    return { kind: 'read', value: { kind: 'rehearsal', value: rehearsal.value } };
  if (rehearsal.kind === 'damaged') return rehearsal;
  const take = readVersion(journalTakeFormat, json);
  if (take.kind === 'read') return { kind: 'read', value: { kind: 'journal-take', value: take.value } };
  if (take.kind === 'damaged') return take;
  const note = readVersion(journalNoteFormat, json);
  if (note.kind === 'read') return { kind: 'read', value: { kind: 'journal-note', value: note.value } };
  if (note.kind === 'damaged') return note;
  const gone = readVersion(goneFormat, json);
  if (gone.kind === 'read') return { kind: 'read', value: { kind: 'gone', value: gone.value } };
  return gone.kind === 'damaged' ? gone : { kind: 'other' };
};
