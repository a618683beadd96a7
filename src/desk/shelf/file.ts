/**
 * A shelf as one file: a ZIP archive with shelf.json ("levare.shelf/1") and the scores beside it as what they are, so
 * that they can be taken out with any tool. Same shelf, same bytes.
 */
import { strToU8, zipSync, type Zippable } from 'fflate';
import { unzipEntry, zipEntries, type ZipEntry } from '../../score/read/zip.ts';
import { fail, notKeptProblem, ok, problem, type Problem, type Result } from '../../units/index.ts';
import { pieceHash } from '../makeDrill.ts';
import { shelfListSchema, type ShelfList, type ShelfRecord } from './formats.ts';
import { canonical, mergeRecords } from './merge.ts';
import { newEnsemble, readRecord, recordKey } from './records.ts';
import { formatOf, readVersion, type Format } from './versions.ts';

/** All or part of a shelf. */
export interface ShelfContent {
  /** By their keys. */
  readonly records: ReadonlyMap<string, ShelfRecord>;
  /** Bytes of scores by their SHA-256. */
  readonly scores: ReadonlyMap<string, Uint8Array>;
}

const listName = 'shelf.json';

/** Everything in the archive has the time at which archives of this kind begin: no clock, same bytes. Local time. */
const archiveTime = '1985-01-01T12:00:00';

/** The ending by which other programs know a score, from its first bytes; a hint only, nothing here relies on it. */
const endingOf = (bytes: Uint8Array): string => {
  const start = new TextDecoder().decode(bytes.subarray(0, 2000));
  if (start.startsWith('PK')) return 'mxl';
  if (start.startsWith('MThd')) return 'mid';
  if (/<(?:\w+:)?mei[\s>]/.test(start)) return 'mei';
  if (/^\s*</.test(start)) return 'musicxml';
  if (/^\*\*|\n\*\*/.test(start)) return 'krn';
  return /^\s*(?:%abc|X:)/m.test(start) ? 'abc' : 'txt';
};

/** Packed scores do not get smaller. */
const level = (name: string): 0 | 6 => (name.endsWith('.mxl') ? 0 : 6);

/** JSON text of a record's data in a fixed order of names. */
const ordered = (value: unknown): unknown => JSON.parse(canonical(value));

/** The bytes of the file. */
export const shelfFile = ({ records, scores }: ShelfContent): Uint8Array<ArrayBuffer> => {
  const byKey = [...records].sort(([a], [b]) => (a < b ? -1 : 1));
  const byHash = [...scores].sort(([a], [b]) => (a < b ? -1 : 1));
  const names = new Map(byHash.map(([hash, bytes]) => [hash, `scores/${hash}.${endingOf(bytes)}`]));
  const list = {
    format: 'levare.shelf/1',
    records: byKey.map(([, { value }]) => ordered(value)),
    scores: Object.fromEntries(names),
  };
  const files: Zippable = { [listName]: [strToU8(`${JSON.stringify(list, null, 2)}\n`), { level: 6 }] };
  for (const [hash, bytes] of byHash) {
    const name = names.get(hash) ?? '';
    files[name] = [bytes, { level: level(name) }];
  }
  return zipSync(files, { mtime: archiveTime });
};

const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;

/** Whether these bytes are an exported shelf and no score, as far as their table of contents says. */
export const isShelfFile = (bytes: Uint8Array): boolean => {
  if (!isZip(bytes)) return looksLikeList(bytes);
  const entries = zipEntries(bytes);
  return entries.ok && entries.value.some(({ name }) => name === listName);
};

/** A list that was taken out of its archive; or one player's data, of which it can then be said what it is. */
const looksLikeList = (bytes: Uint8Array): boolean =>
  /^\s*\{[^]{0,200}"levare\.(?:shelf|player)\//.test(new TextDecoder().decode(bytes.subarray(0, 400)));

/** What is brought up to date when a shelf of an older version is read. There is one version so far. */
const shelfFormat: Format<ShelfList> = {
  name: 'levare.shelf',
  version: 1,
  schema: shelfListSchema,
  upgraders: new Map(),
};

/** All scores of a file together, unpacked; far above any real shelf. Bytes. */
const largestShelf = 1024 * 1024 * 1024;

const damaged = (why: string): Result<never> =>
  fail(
    'shelf-damaged',
    `This shelf is damaged: ${why}. It may have been cut short on its way; take it along once more from where it came.`,
  );

const jsonIn = (bytes: Uint8Array): unknown => {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return undefined;
  }
};

const listIn = (bytes: Uint8Array): Result<ShelfList> => {
  const json = jsonIn(bytes);
  if (json === undefined) return damaged('its list of pieces is no JSON any more');
  const read = readVersion(shelfFormat, json);
  switch (read.kind) {
    case 'read':
      return ok(read.value);
    case 'newer':
      return fail(
        'format-newer',
        `This shelf has format version ${read.version}; this Levare reads up to ${shelfFormat.version}. A newer Levare wrote it: bring this one up to date.`,
      );
    case 'other':
      if (formatOf(json)?.name === 'levare.player')
        return fail(
          'player-file',
          'This file is what was kept about one player, given to them on request. It is theirs to read; nothing is brought in from it.',
        );
      return damaged('its list does not say that it is one');
    case 'damaged':
      return damaged(`the field "${read.field}" of its list is not what it should be (${read.why})`);
  }
};

const recordsIn = (list: ShelfList): { records: Map<string, ShelfRecord>; problems: Problem[] } => {
  const records = new Map<string, ShelfRecord>();
  const problems: Problem[] = [];
  for (const json of list.records) {
    const read = readRecord(json);
    if (!read.ok) {
      problems.push({ ...read.error, severity: 'repair' });
      continue;
    }
    const key = recordKey(read.value);
    const before = records.get(key);
    records.set(key, before === undefined ? read.value : mergeRecords(before, read.value));
  }
  return { records, problems };
};

/** Pieces stand with an ensemble even where the file has lost it. */
const withEnsembles = (records: Map<string, ShelfRecord>): void => {
  for (const { kind, value } of [...records.values()]) {
    if (kind !== 'piece' || records.has(`ensemble:${value.ensemble}`)) continue;
    const ensemble: ShelfRecord = { kind: 'ensemble', value: newEnsemble(value.ensemble, '') };
    records.set(recordKey(ensemble), ensemble);
  }
};

const titleOf = (records: ReadonlyMap<string, ShelfRecord>, hash: string): string => {
  for (const { kind, value } of records.values())
    if (kind === 'piece' && value.score === hash) return value.title || value.found || value.file;
  return '';
};

const later = 'what a later version of Levare keeps is kept here too, and not shown';

const strangeProblems = (records: ReadonlyMap<string, ShelfRecord>): readonly Problem[] => {
  const names = new Set(
    [...records.values()].flatMap(({ kind, value }) =>
      kind === 'strange' ? [formatOf(value)?.name.slice(7) ?? ''] : [],
    ),
  );
  return names.size === 0 ? [] : [problem('note', 'shelf-later', `${[...names].join(', ')}: ${later}.`)];
};

/**
 * Reads an exported shelf. What is damaged is left out and told; the rest is taken. Errors: `shelf-damaged`, `player-file`,
 * `format-newer`, `file-too-large`, those of the archive. Problems: `shelf-record-damaged`, `shelf-score-damaged`,
 * `shelf-later`, `not-kept`.
 */
export const readShelfFile = (bytes: Uint8Array): Result<ShelfContent> => {
  const packed = isZip(bytes);
  const entries = packed ? zipEntries(bytes) : ok<readonly ZipEntry[]>([]);
  if (!entries.ok) return damaged('its table of contents is missing');
  const byName = new Map(entries.value.map((entry) => [entry.name, entry]));
  const listEntry = byName.get(listName);
  if (packed && listEntry === undefined) return damaged(`there is no ${listName} in it`);
  const text = listEntry === undefined ? ok(bytes) : unzipEntry(bytes, listEntry);
  if (!text.ok) return damaged('its list of pieces can not be unpacked');
  const list = listIn(text.value);
  if (!list.ok) return list;
  const { records, problems } = recordsIn(list.value);
  withEnsembles(records);
  const scores = new Map<string, Uint8Array>();
  let total = 0;
  for (const [hash, name] of Object.entries(list.value.scores)) {
    const entry = byName.get(name);
    const score = entry === undefined ? null : unzipEntry(bytes, entry);
    byName.delete(name);
    if (score?.ok !== true || pieceHash(score.value) !== hash) {
      problems.push(
        problem(
          'repair',
          'shelf-score-damaged',
          `The score of "${titleOf(records, hash)}" is damaged or missing in this file. All else about the piece is taken; open its score once more from where you have it.`,
        ),
      );
      continue;
    }
    total += score.value.length;
    if (total > largestShelf)
      return fail('file-too-large', 'The scores in this file unpack to more than 1 GiB: that is no shelf.');
    scores.set(hash, score.value);
  }
  byName.delete(listName);
  const others = [...byName.keys()].filter((name) => !name.endsWith('/'));
  if (others.length > 0) problems.push(notKeptProblem('What else lies in the archive', others.join(', ')));
  return ok({ records, scores }, [...problems, ...strangeProblems(records)]);
};
