/** The command line: arguments in, text or JSON out. All that it knows about music it asks of the desk. */
import { readFileSync } from 'node:fs';
import type { Problem } from '../units/index.ts';
import { drill } from './drill.ts';
import { find } from './find.ts';
import { hear } from './hear.ts';
import { generalHelp, drillHelp, findHelp, hearHelp, lookHelp, togetherHelp } from './help.ts';
import { nodeIo, type Io } from './io.ts';
import { look } from './look.ts';
import { pack } from './pack.ts';
import { plan } from './plan.ts';
import { packHelp, planHelp } from './planHelp.ts';
import { suggest } from './suggest.ts';
import { together } from './together.ts';
import { placeText, tame } from './words.ts';

/** 0: done. 2: the input or the request is at fault. 1: the program is. */
export type ExitCode = 0 | 1 | 2;

interface Command {
  readonly help: string;
  readonly run: (args: readonly string[], io: Io) => Promise<Problem | null>;
}

const commands: Readonly<Record<string, Command>> = {
  look: { help: lookHelp, run: look },
  find: { help: findHelp, run: find },
  drill: { help: drillHelp, run: drill },
  hear: { help: hearHelp, run: hear },
  together: { help: togetherHelp, run: together },
  plan: { help: planHelp, run: plan },
  pack: { help: packHelp, run: pack },
};

const version = (): string => {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return /"version":\s*"([^"]+)"/.exec(text)?.[1] ?? 'unknown';
};

const say = (io: Io, message: string): void => {
  io.stderr.write(`levare: ${tame(message)}\n`);
};

const unknownCommand = (word: string): string => {
  const near = suggest(word, [...Object.keys(commands), 'help']);
  return near === null
    ? `There is no command "${word}". There are look, find, drill, hear, together, plan and pack: levare --help shows examples.`
    : `There is no command "${word}"; did you mean levare ${near}?`;
};

const isCommand = (word: string): boolean => Object.hasOwn(commands, word);

const answer = async (argv: readonly string[], io: Io): Promise<ExitCode> => {
  const [word, ...rest] = argv;
  const about = word === 'help' ? (rest[0] ?? '') : (word ?? '');
  if (word === undefined || word === '--help' || word === '-h' || (word === 'help' && about === '')) {
    io.stdout.write(generalHelp);
    return 0;
  }
  if (word === '--version') {
    io.stdout.write(`levare ${version()}\n`);
    return 0;
  }
  const command = isCommand(about) ? commands[about] : undefined;
  if (command === undefined) {
    say(io, unknownCommand(about));
    return 2;
  }
  if (word === 'help' || rest.includes('--help') || rest.includes('-h')) {
    io.stdout.write(command.help);
    return 0;
  }
  const error = await command.run(rest, io);
  if (error === null) return 0;
  say(io, `${placeText(error)}${error.message}`);
  return 2;
};

/** Runs the command line with what was typed after "levare". Never throws; the exit code is the result. */
export const main = async (argv: readonly string[], io: Io = nodeIo()): Promise<ExitCode> => {
  try {
    return await answer(argv, io);
  } catch (error) {
    const what = error instanceof Error ? error.message : String(error);
    say(io, `This is a fault in Levare, not in what you did: ${what}. Please report it with the score.`);
    return 1;
  }
};
