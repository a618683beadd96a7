import {
  madeOf,
  makeFolder,
  makingWords,
  markingsName,
  openPiece,
  pieceHash,
  readMaking,
  readMarkings,
  readRequest,
  requestWords,
  type DrillFolder,
  type Marking,
  type Opened,
} from '../desk/index.ts';
import { terminalProgress } from '../host/node/index.ts';
import { ok, problem, type Problem, type Result } from '../units/index.ts';
import { takeApart, type Typed } from './arguments.ts';
import { madeText, problemText } from './drillText.ts';
import type { Io } from './io.ts';
import { nothingKept } from './nothingKept.ts';
import { tame } from './words.ts';

const syntax = {
  command: 'drill',
  texts: [...requestWords, ...makingWords, 'markings', 'out'],
  flags: ['json'],
  repeatable: ['octave', 'tempo', 'parts', 'keep', 'without'],
} as const;

/** What is missing before anything is read. */
const lacking = ({ words, texts }: Typed): Problem | null => {
  if (words.length === 0) {
    return problem(
      'error',
      'score-missing',
      'Name a score: levare drill sonata.musicxml --bars 12-15 --out bars-12',
    );
  }
  if (words.length > 1) {
    const message = `One score at a time, please: ${words.join(' and ')} are given. A value of several words needs quotation marks, as --click "2 4".`;
    return problem('error', 'too-many-words', message);
  }
  return texts['out'] === undefined
    ? problem('error', 'out-missing', 'Say where the drill goes: --out and the name of a folder.')
    : null;
};

/**
 * The players' markings: of the file that is named, or those of the drill that is made anew. Null where there are none;
 * empty where those of an earlier drill in the folder no longer hold.
 */
const markingsFor = async (
  { bytes, markings }: Opened,
  named: string | undefined,
  folder: string,
  { reader }: Io,
): Promise<Result<readonly Marking[] | null>> => {
  if (named !== undefined) {
    const read = await reader.read(named);
    return read.ok ? readMarkings(read.value, pieceHash(bytes)) : read;
  }
  if (markings.length > 0) return ok(markings);
  const left = await reader.read(reader.inside(folder, markingsName));
  return ok(left.ok ? [] : null);
};

const made = async (
  typed: Typed,
  opened: Opened,
  markings: readonly Marking[] | null,
  io: Io,
): Promise<Result<DrillFolder>> => {
  const request = readRequest(typed.texts);
  if (!request.ok) return request;
  const making = readMaking(typed.texts);
  if (!making.ok) return making;
  return makeFolder(opened.bytes, request.value, making.value, io, opened.drill, markings);
};

/** `levare drill`: the error, or null when the folder is written and that is told. */
export const drill = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const [path] = words;
  const lacks = lacking(typed.value);
  const folder = texts['out'];
  if (lacks !== null || path === undefined || folder === undefined) return lacks;
  const opened = await openPiece(path, io.reader);
  if (!opened.ok) return opened.error;
  if (texts['bars'] === undefined && opened.value.drill === null) {
    return problem(
      'error',
      'passage-missing',
      'Say which bars: --bars 12-15, or --bars all for the whole piece.',
    );
  }
  const markings = await markingsFor(opened.value, texts['markings'], folder, io);
  if (!markings.ok) return markings.error;
  const result = await made(typed.value, opened.value, markings.value, io);
  if (!result.ok) return result.error;
  const nothing = nothingKept(result.problems);
  if (nothing !== null) return nothing;
  const { files, summary, fromScore } = result.value;
  const progress = terminalProgress(io.stderr);
  const written = await io.writer.writeFolder(folder, files, progress.tell);
  progress.done();
  if (!written.ok) return written.error;
  const told = madeOf(folder, written.value, summary, result.problems);
  if (flags.has('json')) {
    io.stdout.write(`${JSON.stringify(told, null, 2)}\n`);
    return null;
  }
  for (const line of problemText(told.problems, fromScore, told.bars)) io.stderr.write(`${tame(line)}\n`);
  io.stdout.write(
    madeText(told)
      .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
      .join(''),
  );
  return null;
};
