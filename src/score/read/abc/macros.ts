/** Macros: static and transposing. Source: ABC 2.1, section 9. */

export interface Macro {
  readonly target: string;
  readonly replacement: string;
  /** The target ends with "n" and a length: it stands for any note. */
  readonly transposing: boolean;
}

/** More than a tune needs; the time to look for them grows with their number. */
export const mostMacros = 100;

/** What an m: field defines; null where it is no macro. */
export const readMacro = (text: string): Macro | null => {
  const at = text.indexOf('=');
  if (at < 0) return null;
  // "m: ~^G2 = ..." and "m: =G2 = ...": the target may hold an equals sign of its own before its note.
  const split = text.indexOf('=', Math.max(at, text.search(/[A-Ga-gn]/)));
  const end = split < 0 ? at : split;
  const target = text.slice(0, end).trim();
  const replacement = text.slice(end + 1).trim();
  if (target === '' || target.length > 31 || replacement.length > 200) return null;
  return { target, replacement, transposing: /n[\d/]*$/.test(target) };
};

const notes = 'CDEFGABcdefgab';

/** The note `steps` above a note of the text, as ABC writes it. */
const moved = (letter: string, octave: string, steps: number): string => {
  let index = notes.indexOf(letter) + steps;
  for (const sign of octave) index += sign === ',' ? -7 : 7;
  let signs = '';
  while (index < 0) {
    index += 7;
    signs += ',';
  }
  while (index >= notes.length) {
    index -= 7;
    signs += "'";
  }
  return `${notes.charAt(index)}${signs}`;
};

const transposed = (replacement: string, letter: string, octave: string): string =>
  replacement.replace(/[h-z]/g, (sign) => moved(letter, octave, sign.charCodeAt(0) - 'n'.charCodeAt(0)));

/** Where a macro fits the text at `at`: how many characters it takes and what stands for them; null where it does not. */
const fit = (
  { target, replacement, transposing }: Macro,
  text: string,
  at: number,
): readonly [number, string] | null => {
  if (!transposing) return text.startsWith(target, at) ? [target.length, replacement] : null;
  const n = target.lastIndexOf('n');
  const [before, after] = [target.slice(0, n), target.slice(n + 1)];
  if (!text.startsWith(before, at)) return null;
  const match = /^([A-Ga-g])([,']{0,10})/.exec(text.slice(at + before.length, at + before.length + 12));
  if (match === null) return null;
  const end = at + before.length + match[0].length;
  if (!text.startsWith(after, end) || /[\d/]/.test(text.charAt(end + after.length))) return null;
  return [end + after.length - at, transposed(replacement, match[1] ?? '', match[2] ?? '')];
};

/** The text with every macro in it replaced, once, from left to right. */
export const expandMacros = (text: string, macros: readonly Macro[]): string => {
  if (macros.length === 0) return text;
  let out = '';
  for (let at = 0; at < text.length;) {
    let found: readonly [number, string] | null = null;
    // The definition given last wins.
    for (let index = macros.length - 1; index >= 0 && found === null; index -= 1) {
      const macro = macros[index];
      if (macro !== undefined) found = fit(macro, text, at);
    }
    if (found === null || found[0] === 0) {
      out += text.charAt(at);
      at += 1;
    } else {
      out += found[1];
      at += found[0];
    }
  }
  return out;
};
