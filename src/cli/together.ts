import { together as read } from '../desk/index.ts';
import { problem, type Problem } from '../units/index.ts';
import { takeApart } from './arguments.ts';
import type { Io } from './io.ts';
import { togetherText } from './togetherText.ts';
import { tame } from './words.ts';

const syntax = {
  command: 'together',
  texts: ['noise', 'players'],
  flags: ['json'],
  repeatable: ['players'],
} as const;

/** `levare together`: the error, or null when all is printed. */
export const together = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const [path] = words;
  if (path === undefined) {
    return problem('error', 'table-missing', 'Name a table of onsets: levare together onsets.csv');
  }
  if (words.length > 1) {
    return problem(
      'error',
      'too-many-words',
      `One table at a time, please: ${words.join(' and ')} are given.`,
    );
  }
  const bytes = await io.reader.read(path);
  if (!bytes.ok) return bytes.error;
  const seen = read(bytes.value, { noise: texts['noise'] ?? null, players: texts['players'] ?? null });
  if (!seen.ok) return seen.error;
  io.stdout.write(
    flags.has('json')
      ? `${JSON.stringify(seen.value, null, 2)}\n`
      : togetherText(seen.value)
          .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
          .join(''),
  );
  return null;
};
