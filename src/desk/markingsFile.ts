/** The players' own markings of one piece as a file, for those who want them without a shelf: "levare.markings/1". */
import { z } from 'zod';
import { fail, ok, type Result } from '../units/index.ts';
import { isShelfFile, readShelfFile } from './shelf/file.ts';
import { markingSchema, sha256Schema, type Marking } from './shelf/formats.ts';
import { canonical } from './shelf/merge.ts';
import { markingFormat } from './shelf/records.ts';
import { readVersion, type Format } from './shelf/versions.ts';

/** What the file is called in the folder of a drill. */
export const markingsName = 'markings.json';

const head = {
  format: z.literal('levare.markings/1'),
  score: sha256Schema,
  title: z.string().max(2000).describe('What the piece is called; may be empty'),
};

/** The file's shape. */
export const markingsSchema = z
  .looseObject({ ...head, markings: z.array(markingSchema).describe('As they stand in the score') })
  .describe("Players' own markings of one piece");

/** The same with its markings not looked at yet: they have versions of their own. */
const listSchema = z.looseObject({ ...head, markings: z.array(z.unknown()).max(100_000) });

const markingsFormat: Format<z.infer<typeof listSchema>> = {
  name: 'levare.markings',
  version: 1,
  schema: listSchema,
  upgraders: new Map(),
};

/** The markings of a piece as a file. Same markings, same bytes. */
export const markingsFile = (
  score: string,
  title: string,
  markings: readonly Marking[],
): Uint8Array<ArrayBuffer> => {
  const list = {
    format: 'levare.markings/1',
    score,
    title,
    markings: markings.map((one): unknown => JSON.parse(canonical(one))),
  };
  return new TextEncoder().encode(`${JSON.stringify(list, null, 2)}\n`);
};

const damaged = (why: string): Result<never> =>
  fail(
    'markings-damaged',
    `These markings are damaged: ${why}. Take them along once more from the page, or from the shelf.`,
  );

const newer = (version: number, own: number): Result<never> =>
  fail(
    'format-newer',
    `These markings have format version ${version}; this Levare reads up to ${own}. A newer Levare wrote them: bring this one up to date.`,
  );

const otherPiece = (title: string): Result<never> =>
  fail(
    'markings-other-piece',
    title === ''
      ? 'These markings were written into another score than this one, or into another edition of it.'
      : `These markings were written into "${title}", which is another score than this one, or another edition of it.`,
  );

const readMarking = (json: unknown): Result<Marking> => {
  const read = readVersion(markingFormat, json);
  if (read.kind === 'read') return ok(read.value);
  if (read.kind === 'newer') return newer(read.version, markingFormat.version);
  return damaged(
    read.kind === 'damaged'
      ? `the field "${read.field}" of one of them is not what it should be (${read.why})`
      : 'one of them does not say that it is a marking',
  );
};

const all = (list: readonly unknown[]): Result<readonly Marking[]> => {
  const markings: Marking[] = [];
  for (const json of list) {
    const read = readMarking(json);
    if (!read.ok) return read;
    markings.push(read.value);
  }
  return ok(markings);
};

const jsonIn = (bytes: Uint8Array): unknown => {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return undefined;
  }
};

/** Of a shelf that was taken along: the markings of this score, where only one ensemble has any. */
const onShelf = (bytes: Uint8Array, score: string): Result<readonly Marking[]> => {
  const shelf = readShelfFile(bytes);
  if (!shelf.ok) return shelf;
  const records = [...shelf.value.records.values()];
  const pieces = records.flatMap((record) =>
    record.kind === 'piece' && record.value.score === score ? [record.value.id] : [],
  );
  if (pieces.length === 0) return otherPiece('');
  const mine = records.flatMap((record) =>
    record.kind === 'marking' && pieces.includes(record.value.piece) ? [record.value] : [],
  );
  if (new Set(mine.map(({ piece }) => piece)).size > 1)
    return fail(
      'markings-several',
      'Several ensembles on this shelf have markings in this piece. Take the piece along from one of them alone.',
    );
  return ok(mine, shelf.problems);
};

/**
 * Reads the markings of the score with this SHA-256, from a file of markings or from a shelf that was taken along.
 * Errors: `markings-damaged`, `format-newer`, `markings-other-piece`, `markings-several`, those of `readShelfFile`.
 */
export const readMarkings = (bytes: Uint8Array, score: string): Result<readonly Marking[]> => {
  if (isShelfFile(bytes)) return onShelf(bytes, score);
  const json = jsonIn(bytes);
  if (json === undefined) return damaged('this is no JSON, or it was cut short');
  const read = readVersion(markingsFormat, json);
  switch (read.kind) {
    case 'read':
      return read.value.score === score ? all(read.value.markings) : otherPiece(read.value.title);
    case 'newer':
      return newer(read.version, markingsFormat.version);
    case 'other':
      return damaged('this does not say that it is a file of markings');
    case 'damaged':
      return damaged(`the field "${read.field}" is not what it should be (${read.why})`);
  }
};
