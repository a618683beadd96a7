/** What was typed, taken apart. What the options mean is for the desk to say. */
import { parseArgs } from 'node:util';
import { fail, ok, type Result } from '../units/index.ts';
import { suggest } from './suggest.ts';

/** Options of a command: those that take a text, those that stand alone, and those that may be given several times. */
export interface Syntax {
  readonly command: string;
  readonly texts: readonly string[];
  readonly flags: readonly string[];
  readonly repeatable: readonly string[];
}

export interface Typed {
  readonly words: readonly string[];
  readonly texts: Readonly<Record<string, string>>;
  readonly flags: ReadonlySet<string>;
}

const shorts: Readonly<Record<string, string>> = { h: 'help' };

/**
 * Takes the arguments after the command apart. Errors: `option-unknown`, with what was likely meant; `option-empty`,
 * `option-twice`, `option-takes-nothing`.
 */
export const takeApart = (args: readonly string[], syntax: Syntax): Result<Typed> => {
  const { command, repeatable } = syntax;
  const flags = [...syntax.flags, 'help'];
  const options: Record<string, { type: 'string' | 'boolean' }> = {};
  for (const name of syntax.texts) options[name] = { type: 'string' };
  for (const name of flags) options[name] = { type: 'boolean' };
  const { tokens } = parseArgs({
    args: [...args],
    options,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const words: string[] = [];
  const texts = new Map<string, string>();
  const given = new Set<string>();
  for (const token of tokens) {
    if (token.kind === 'positional') words.push(token.value);
    if (token.kind !== 'option') continue;
    const name = token.rawName.startsWith('--') ? token.name : (shorts[token.name] ?? token.name);
    const shown = token.rawName;
    if (flags.includes(name)) {
      if (token.value !== undefined) {
        return fail('option-takes-nothing', `${shown} stands alone; it takes no value.`);
      }
      given.add(name);
      continue;
    }
    if (!syntax.texts.includes(name)) {
      const near = suggest(name, [...syntax.texts, ...flags]);
      const hint = near === null ? `levare ${command} --help shows what there is` : `did you mean --${near}?`;
      return fail('option-unknown', `levare ${command} has no option ${shown}: ${hint}`);
    }
    const missing = token.value === undefined || (!token.inlineValue && token.value.startsWith('--'));
    if (missing || token.value === '') {
      return fail('option-empty', `${shown} needs a value; levare ${command} --help shows examples.`);
    }
    const before = texts.get(name);
    if (before !== undefined && !repeatable.includes(name)) {
      return fail('option-twice', `${shown} is given twice, as ${before} and as ${token.value}.`);
    }
    texts.set(name, before === undefined ? token.value : `${before},${token.value}`);
  }
  return ok({ words, texts: Object.fromEntries(texts), flags: given });
};
