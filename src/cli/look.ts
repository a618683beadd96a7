import { barPlanOf, openPiece, overview } from '../desk/index.ts';
import { problem, type Problem } from '../units/index.ts';
import { takeApart } from './arguments.ts';
import type { Io } from './io.ts';
import { lookText } from './lookText.ts';
import { problemLines, tame } from './words.ts';

const syntax = { command: 'look', texts: [], flags: ['json', 'plan'], repeatable: [] } as const;

/** `levare look`: the error, or null when all is printed. */
export const look = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, flags } = typed.value;
  const [path] = words;
  if (path === undefined)
    return problem('error', 'score-missing', 'Name a score: levare look sonata.musicxml');
  if (words.length > 1) {
    return problem(
      'error',
      'too-many-words',
      `One score at a time, please: ${words.join(' and ')} are given.`,
    );
  }
  if (flags.has('json') && flags.has('plan')) {
    return problem('error', 'options-clash', 'Say either --json or --plan.');
  }
  const opened = await openPiece(path, io.reader);
  if (!opened.ok) return opened.error;
  const { bytes } = opened.value;
  if (flags.has('plan')) {
    const plan = barPlanOf(bytes);
    if (!plan.ok) return plan.error;
    io.stdout.write(plan.value);
    for (const line of problemLines(plan.problems)) io.stderr.write(`${tame(line)}\n`);
    return null;
  }
  const seen = overview(bytes);
  if (!seen.ok) return seen.error;
  io.stdout.write(
    flags.has('json')
      ? `${JSON.stringify(seen.value.look, null, 2)}\n`
      : lookText(seen.value)
          .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
          .join(''),
  );
  return null;
};
