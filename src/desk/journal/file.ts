/** A journal as a file outside of the app: the list of a shelf as plain JSON, without its scores (levare.shelf/1). */
import { ok, type Result } from '../../units/index.ts';
import { readShelfFile } from '../shelf/file.ts';
import { canonical } from '../shelf/merge.ts';
import type { Records } from './journal.ts';

const jsonIn = (bytes: Uint8Array): unknown => {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
};

export const editableJournal = {
  empty: new Map() as Records,
  /** Null where the bytes are no JSON. */
  json: jsonIn,
  /** Records of a journal or of a shelf that was taken along. Errors: those of `readShelfFile`. */
  read: (bytes: Uint8Array): Result<Records> => {
    const read = readShelfFile(bytes);
    return read.ok ? ok(read.value.records, read.problems) : read;
  },
  /** Same records, same text. */
  text: (records: Records): string => {
    const list = [...records]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, { value }]): unknown => JSON.parse(canonical(value)));
    return `${JSON.stringify({ format: 'levare.shelf/1', records: list, scores: {} }, null, 2)}\n`;
  },
} as const;
