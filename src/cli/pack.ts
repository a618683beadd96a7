/** `levare pack`: for each player one zip to take home. */
import {
  makePacks,
  openPiece,
  pieceHash,
  readMaking,
  readRequest,
  requestOf,
  requestWords,
  tellingLanguage,
  type PackDrill,
} from '../desk/index.ts';
import { flacEncoder, terminalProgress } from '../host/node/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { takeApart, type Typed } from './arguments.ts';
import type { Io } from './io.ts';
import { nothingKept } from './nothingKept.ts';
import { problemLines, sizeText, tame } from './words.ts';

const syntax = {
  command: 'pack',
  texts: [...requestWords, 'rate', 'pitch', 'paper', 'for', 'language', 'out'],
  flags: ['json'],
  repeatable: ['octave', 'tempo', 'parts', 'keep', 'for'],
} as const;

/** The last piece of a path. */
const lastOf = (path: string): string =>
  path
    .split(/[\\/]/)
    .filter((piece) => piece !== '')
    .at(-1) ?? path;

interface Asked {
  readonly bytes: Uint8Array;
  readonly drills: readonly PackDrill[];
}

const asked = async ({ words, texts }: Typed, io: Io): Promise<Result<Asked>> => {
  const request = readRequest(texts);
  if (!request.ok) return request;
  let bytes: Uint8Array | null = null;
  const drills: PackDrill[] = [];
  for (const path of words) {
    const opened = await openPiece(path, io.reader);
    if (!opened.ok) return opened;
    const { drill } = opened.value;
    if (bytes !== null && pieceHash(bytes) !== pieceHash(opened.value.bytes))
      return fail(
        'pack-two-scores',
        `${path} is of another score. The drills of one pack belong to one piece.`,
      );
    bytes = opened.value.bytes;
    if (drill === null && texts['bars'] === undefined)
      return fail('passage-missing', 'Say which bars: --bars 12-15, or --bars all for the whole piece.');
    const name = drill === null ? `bars ${texts['bars'] ?? ''} ${texts['click'] ?? 'every'}` : lastOf(path);
    drills.push({ name, request: { ...(drill === null ? {} : requestOf(drill)), ...request.value } });
  }
  return bytes === null
    ? fail('score-missing', 'Name the folders of drills: levare pack bars-12 bars-40 --out packs')
    : ok({ bytes, drills });
};

/** `--for P1=Anna`: a part, and who plays it; a part alone gets a pack too. */
const players = (text: string | undefined): { parts: string[] | null; names: Record<string, string> } => {
  if (text === undefined) return { parts: null, names: {} };
  const items = text.split(',').map((item) => item.split('='));
  const parts = items.map(([part = '']) => part.trim());
  return {
    parts,
    names: Object.fromEntries(
      items.flatMap(([part = '', ...name]) =>
        name.length === 0 ? [] : [[part.trim(), name.join('=').trim()]],
      ),
    ),
  };
};

/** The error, or null when the packs are written. */
export const pack = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { texts, flags } = typed.value;
  const folder = texts['out'];
  if (typed.value.words.length > 0 && folder === undefined)
    return problem('error', 'out-missing', 'Say where the packs go: --out and the name of a folder.');
  const found = await asked(typed.value, io);
  if (!found.ok) return found.error;
  const language = tellingLanguage(texts['language'] ?? 'en');
  if (!language.ok) return language.error;
  const { rate, pitch, paper } = texts;
  const making = readMaking({
    ...(rate === undefined ? {} : { rate }),
    ...(pitch === undefined ? {} : { pitch }),
    ...(paper === undefined ? {} : { paper }),
    language: language.value,
  });
  if (!making.ok) return making.error;
  const { sheet, sound } = making.value;
  const who = players(texts['for']);
  const words = await io.words.read(language.value);
  const packs = await makePacks(
    found.value.bytes,
    found.value.drills,
    { sheets: sheet === null ? null : io.sheets, flac: flacEncoder },
    {
      sound: { ...sound, words: words.ok ? words.value : null },
      ...(sheet === null ? {} : { sheet }),
      language: language.value,
      players: who.names,
      parts: who.parts,
    },
  );
  if (!packs.ok) return packs.error;
  const nothing = nothingKept(packs.problems);
  if (nothing !== null) return nothing;
  const progress = terminalProgress(io.stderr);
  const written = await io.writer.writeFolder(folder ?? '', packs.value, progress.tell);
  progress.done();
  if (!written.ok) return written.error;
  if (flags.has('json')) {
    const told = { format: 'levare.packs/1', folder, files: written.value, problems: packs.problems };
    io.stdout.write(`${JSON.stringify(told, null, 2)}\n`);
    return null;
  }
  const said = packs.problems.filter(
    ({ severity }) => severity !== 'note' || found.value.drills.length === 0,
  );
  for (const line of problemLines(said)) io.stderr.write(`${tame(line)}\n`);
  io.stdout.write(`In ${tame(folder ?? '')}:\n`);
  for (const { name, bytes } of written.value) io.stdout.write(`  ${tame(name)}  ${sizeText(bytes)}\n`);
  return null;
};
