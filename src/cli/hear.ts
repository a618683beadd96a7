/** `levare hear`: recordings of a drill, one for each player or one for all, and what was heard in them. */
import {
  hear as heard,
  mostFindings,
  openPiece,
  tellingLanguage,
  type Reading,
  type TakeFile,
} from '../desk/index.ts';
import { ok, fail, problem, type Problem, type Result } from '../units/index.ts';
import { takeApart } from './arguments.ts';
import { hearFolder } from './hearFolder.ts';
import { findingLines } from './hearFindings.ts';
import { hearText } from './hearText.ts';
import type { Io } from './io.ts';
import { problemLines, tame } from './words.ts';

const syntax = {
  command: 'hear',
  texts: ['drill', 'with', 'out', 'most', 'language', 'distance'],
  flags: ['json', 'figures', 'png', 'by-signal'],
  repeatable: ['distance'],
} as const;

/** "P1=flute.wav" names whose recording it is; a file name may hold "=" itself, then a part has to be named. */
const named = (word: string): { readonly part: string | null; readonly path: string } => {
  const at = word.indexOf('=');
  const [part, path] = [word.slice(0, at), word.slice(at + 1)];
  return at > 0 && !/[\\/.]/.test(part) && path !== '' ? { part, path } : { part: null, path: word };
};

const withOf = (text: string | undefined): 'click' | 'free' | null | undefined =>
  text === undefined ? null : text === 'click' || text === 'free' ? text : undefined;

/** "P1=2.5,P2=1": metres by part. Error: `distance-unknown`. */
const distancesOf = (text: string | undefined): Result<ReadonlyMap<string, number>> => {
  const found = new Map<string, number>();
  for (const one of text === undefined ? [] : text.split(',')) {
    const [, part, metres] = /^([^=]+)=(\d+(?:\.\d+)?)$/.exec(one.trim()) ?? [];
    if (part === undefined || metres === undefined)
      return fail('distance-unknown', `--distance is ${one}; it can be P1=2.5 (metres).`);
    found.set(part, Number(metres));
  }
  return ok(found);
};

/** How many findings; one if nothing is said. Error: `number-unknown`. */
const mostOf = (text: string | undefined): Result<number> => {
  if (text === undefined) return ok(1);
  return /^[1-9]\d?$/.test(text) && Number(text) <= mostFindings
    ? ok(Number(text))
    : fail('number-unknown', `--most is ${text}; it can be 1 to ${mostFindings}.`);
};

/** What holds of every reading stands in the documents. */
const remarksOf = ({ assumed }: Reading): readonly string[] =>
  problemLines(assumed.filter(({ code }) => code !== 'beat-model' && code !== 'levels-apart'));

const joinLines = (lines: readonly string[]): string => `${lines.map(tame).join('\n')}\n`;

/** The error, or null when all is told. */
export const hear = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const folder = texts['drill'];
  if (words.length === 0)
    return problem(
      'error',
      'take-missing',
      'Name the recordings, one for each player or one for all: levare hear flute.wav oboe.wav --drill bars-12',
    );
  if (folder === undefined)
    return problem('error', 'drill-missing', 'Say what was played: --drill and the folder of the drill.');
  const playing = withOf(texts['with']);
  if (playing === undefined)
    return problem('error', 'with-unknown', `--with is ${texts['with'] ?? ''}; it can be click or free.`);
  const most = mostOf(texts['most']);
  if (!most.ok) return most.error;
  const language = tellingLanguage(texts['language'] ?? 'en');
  if (!language.ok) return language.error;
  const distances = distancesOf(texts['distance']);
  if (!distances.ok) return distances.error;
  const opened = await openPiece(folder, io.reader);
  if (!opened.ok) return opened.error;
  const { bytes, drill, markings } = opened.value;
  if (drill === null)
    return problem(
      'error',
      'drill-missing',
      `${folder} is a score. Name the folder of a drill that was made from it.`,
    );
  const files = words.map((word): TakeFile => {
    const { part, path } = named(word);
    return { name: path, part, read: () => io.sounds.read(path) };
  });
  const reading = await heard(
    files,
    { bytes, drill, markings },
    { with: playing, distances: distances.value, bySignal: flags.has('by-signal') },
    io.sounds,
  );
  if (!reading.ok) return reading.error;
  const json = `${JSON.stringify(reading.value, null, 2)}\n`;
  const told = (count: number, all: boolean): string =>
    joinLines(findingLines(reading.value, language.value, count, all));
  const figures = joinLines(hearText(reading.value));
  if (texts['out'] !== undefined) {
    const made = await hearFolder(
      { bytes, drill, markings },
      reading.value,
      language.value,
      { json, text: `${told(mostFindings, true)}\n${figures}` },
      io,
      flags.has('png'),
    );
    const written = await io.writer.writeFolder(texts['out'], made.files);
    if (!written.ok) return written.error;
    for (const line of problemLines(made.problems)) io.stderr.write(`${tame(line)}\n`);
  }
  if (flags.has('json')) {
    io.stdout.write(json);
    return null;
  }
  const withFigures = flags.has('figures');
  io.stdout.write(withFigures ? `${told(most.value, true)}\n${figures}` : told(most.value, false));
  // The page of figures has the remarks itself.
  if (!withFigures) for (const line of remarksOf(reading.value)) io.stderr.write(`${tame(line)}\n`);
  return null;
};
