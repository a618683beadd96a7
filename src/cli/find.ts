import {
  findCsv,
  findPages,
  foundOf,
  mostOf,
  openPiece,
  readMaking,
  toldIn,
  type FindTexts,
  type FoundPlaces,
  type ToldPiece,
} from '../desk/index.ts';
import { terminalProgress } from '../host/node/index.ts';
import { problem, type Problem } from '../units/index.ts';
import { takeApart, type Typed } from './arguments.ts';
import { findText, pagesText } from './findText.ts';
import type { Io } from './io.ts';
import { problemLines, tame } from './words.ts';

const syntax = {
  command: 'find',
  texts: ['bars', 'parts', 'kind', 'most', 'out', 'paper', 'language'],
  flags: ['json', 'csv'],
  repeatable: ['parts', 'kind'],
} as const;

/** What is missing or too much before anything is read. */
const lacking = ({ words, texts, flags }: Typed): Problem | null => {
  if (words.length === 0)
    return problem('error', 'score-missing', 'Name a score: levare find quartet.musicxml');
  if (words.length > 1)
    return problem(
      'error',
      'too-many-words',
      `One score at a time, please: ${words.join(' and ')} are given.`,
    );
  if (flags.has('json') && flags.has('csv'))
    return problem('error', 'options-clash', 'Say either --json or --csv.');
  const ofPages = texts['paper'] !== undefined || texts['language'] !== undefined;
  return ofPages && texts['out'] === undefined
    ? problem('error', 'out-missing', 'Say where the pages go: --out and the name of a folder.')
    : null;
};

const print = (io: Io, found: FoundPlaces, flags: Typed['flags'], most: number | null): void => {
  if (flags.has('json')) io.stdout.write(`${JSON.stringify(found, null, 2)}\n`);
  else if (flags.has('csv')) io.stdout.write(findCsv(found));
  else
    io.stdout.write(
      findText(found, most)
        .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
        .join(''),
    );
};

/** Writes the pages and tells of them on standard error, so that what is printed stays a list, JSON or a table. */
const pages = async (
  told: ToldPiece,
  asked: FindTexts,
  most: number | null,
  texts: Typed['texts'],
  io: Io,
): Promise<Problem | null> => {
  const folder = texts['out'];
  if (folder === undefined || io.sheets === null) return null;
  const making = readMaking({
    ...(texts['paper'] === undefined ? {} : { paper: texts['paper'] }),
    ...(texts['language'] === undefined ? {} : { language: texts['language'] }),
  });
  if (!making.ok) return making.error;
  const made = await findPages(told, asked, most, io.sheets, making.value.sheet);
  if (!made.ok) return made.error;
  const progress = terminalProgress(io.stderr);
  const written = await io.writer.writeFolder(folder, made.value.files, progress.tell);
  progress.done();
  if (!written.ok) return written.error;
  for (const line of [...problemLines(made.problems), ...pagesText(folder, written.value, made.value)])
    io.stderr.write(`${tame(line)}\n`);
  return null;
};

/** `levare find`: the error, or null when all is printed. */
export const find = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const lacks = lacking(typed.value);
  const [path] = words;
  if (lacks !== null || path === undefined) return lacks;
  const most = mostOf(texts['most']);
  if (!most.ok) return most.error;
  const opened = await openPiece(path, io.reader);
  if (!opened.ok) return opened.error;
  const asked = {
    bars: texts['bars'] ?? null,
    parts: texts['parts'] ?? null,
    kind: texts['kind'] ?? null,
  };
  const told = toldIn(opened.value.bytes, asked);
  if (!told.ok) return told.error;
  const failed = await pages(told.value, asked, most.value, texts, io);
  if (failed !== null) return failed;
  print(io, foundOf(told.value, most.value), flags, most.value);
  return null;
};
