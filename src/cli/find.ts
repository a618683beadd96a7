import { find as places, findCsv, openPiece } from '../desk/index.ts';
import { problem, type Problem } from '../units/index.ts';
import { takeApart } from './arguments.ts';
import { findText } from './findText.ts';
import type { Io } from './io.ts';
import { tame } from './words.ts';

const syntax = {
  command: 'find',
  texts: ['bars', 'parts', 'kind'],
  flags: ['json', 'csv'],
  repeatable: ['parts', 'kind'],
} as const;

/** `levare find`: the error, or null when all is printed. */
export const find = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const [path] = words;
  if (path === undefined)
    return problem('error', 'score-missing', 'Name a score: levare find quartet.musicxml');
  if (words.length > 1) {
    return problem(
      'error',
      'too-many-words',
      `One score at a time, please: ${words.join(' and ')} are given.`,
    );
  }
  if (flags.has('json') && flags.has('csv'))
    return problem('error', 'options-clash', 'Say either --json or --csv.');
  const opened = await openPiece(path, io.reader);
  if (!opened.ok) return opened.error;
  const found = places(opened.value.bytes, {
    bars: texts['bars'] ?? null,
    parts: texts['parts'] ?? null,
    kind: texts['kind'] ?? null,
  });
  if (!found.ok) return found.error;
  if (flags.has('json')) io.stdout.write(`${JSON.stringify(found.value, null, 2)}\n`);
  else if (flags.has('csv')) io.stdout.write(findCsv(found.value));
  else
    io.stdout.write(
      findText(found.value)
        .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
        .join(''),
    );
  return null;
};
