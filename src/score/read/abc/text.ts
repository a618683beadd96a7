/**
 * Text strings of ABC: mnemonics for accents, named entities, numbered characters and escapes. Source: ABC 2.1, sections 8.2 and
 * 14.1.
 */
import { lookUp } from '../../../units/index.ts';

/** Combining signs by the mnemonic that stands before the letter. */
const accents: Readonly<Record<string, string>> = {
  '`': '\u0300',
  "'": '\u0301',
  '^': '\u0302',
  '~': '\u0303',
  '"': '\u0308',
  c: '\u0327',
  u: '\u0306',
  v: '\u030c',
  H: '\u030b',
};

/** Letters that are no letter with a sign. */
const ligatures: Readonly<Record<string, string>> = {
  AA: '\u00c5',
  aa: '\u00e5',
  AE: '\u00c6',
  ae: '\u00e6',
  OE: '\u0152',
  oe: '\u0153',
  ss: '\u00df',
  '/O': '\u00d8',
  '/o': '\u00f8',
  DH: '\u00d0',
  dh: '\u00f0',
  TH: '\u00de',
  th: '\u00fe',
};

const entitySigns: Readonly<Record<string, string>> = {
  grave: '\u0300',
  acute: '\u0301',
  circ: '\u0302',
  tilde: '\u0303',
  uml: '\u0308',
  cedil: '\u0327',
  ring: '\u030a',
  caron: '\u030c',
};

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: '\u00a0',
  copy: '\u00a9',
  AElig: '\u00c6',
  aelig: '\u00e6',
  OElig: '\u0152',
  oelig: '\u0153',
  szlig: '\u00df',
  Oslash: '\u00d8',
  oslash: '\u00f8',
  ETH: '\u00d0',
  eth: '\u00f0',
  THORN: '\u00de',
  thorn: '\u00fe',
};

/** A letter with a combining sign as one character; null where no such letter exists. */
const combined = (letter: string, sign: string): string | null => {
  if (!/^[A-Za-z]$/.test(letter)) return null;
  const one = `${letter}${sign}`.normalize('NFC');
  return one.length === 1 ? one : null;
};

const ofCode = (code: number): string =>
  code > 0 && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff) ? String.fromCodePoint(code) : '\ufffd';

const entity = (name: string): string | null => {
  const number = /^#(?:x([0-9a-fA-F]{1,6})|(\d{1,7}))$/.exec(name);
  if (number !== null)
    return ofCode(number[1] === undefined ? Number(number[2]) : Number.parseInt(number[1], 16));
  const known = lookUp(entities, name);
  if (known !== undefined) return known;
  const sign = entitySigns[name.slice(1)];
  return sign === undefined ? null : combined(name.charAt(0), sign);
};

/** What a backslash at `at` stands for, and how many characters it takes; null where it stands for itself. */
const escape = (text: string, at: number): readonly [string, number] | null => {
  const next = text.charAt(at + 1);
  if (next === '\\' || next === '%' || next === '&') return [next, 2];
  const size = next === 'u' ? 4 : next === 'U' ? 8 : 0;
  const hex = text.slice(at + 2, at + 2 + size);
  if (size > 0 && hex.length === size && /^[0-9a-fA-F]+$/.test(hex))
    return [ofCode(Number.parseInt(hex, 16)), 2 + size];
  const pair = text.slice(at + 1, at + 3);
  const ligature = ligatures[pair];
  if (ligature !== undefined) return [ligature, 3];
  const sign = accents[next];
  const letter = sign === undefined ? null : combined(pair.charAt(1), sign);
  return letter === null ? null : [letter, 3];
};

/** The longest name of an entity. */
const longestEntity = 10;

/** A text string as it is read by people. Line breaks written as `\n` and changes of font (`$1`) become spaces or nothing. */
export const decodeString = (text: string): string => {
  if (!/[\\&$]/.test(text)) return text.trim();
  let out = '';
  for (let at = 0; at < text.length; at += 1) {
    const sign = text.charAt(at);
    if (sign === '\\') {
      const found = escape(text, at);
      if (found !== null) {
        out += found[0];
        at += found[1] - 1;
      } else if (text.charAt(at + 1) === 'n' && !/[a-z]/.test(text.charAt(at + 2))) {
        out += ' ';
        at += 1;
      } else out += sign;
      continue;
    }
    if (sign === '&') {
      const end = text.slice(at, at + longestEntity + 2).indexOf(';');
      const known = end < 0 ? null : entity(text.slice(at + 1, at + end));
      if (known !== null) {
        out += known;
        at += end;
        continue;
      }
    }
    if (sign === '$' && /[0-4$]/.test(text.charAt(at + 1))) {
      at += 1;
      if (text.charAt(at) === '$') out += '$';
      continue;
    }
    out += sign;
  }
  return out.trim();
};
