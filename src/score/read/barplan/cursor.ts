import { Refusal, type Place } from '../../../units/index.ts';

/** Blanks of every width, tabs and carriage returns read as a space; each replaces one character, so columns hold. */
const blanks = /[\t\r\u00a0\u1680\u2000-\u200b\u202f\u205f\u3000\ufeff]/g;
const dashes = /[\u2010-\u2015\u2212\ufe58\ufe63\uff0d]/g;
const crosses = /[\u00d7\u2715]/g;

/** A text with every kind of blank, dash and cross made plain, sign for sign. */
export const plainText = (text: string): string =>
  text.replace(blanks, ' ').replace(dashes, '-').replace(crosses, 'x');

/** One statement of a plan: its text as typed, and where it begins (from 1). */
export interface RawStatement {
  readonly text: string;
  readonly line: number;
  readonly column: number;
}

/** Splits at ";" and at line ends, outside quotation marks; "#" begins a comment. Empty statements are left out. */
export const splitStatements = (plan: string): RawStatement[] => {
  const statements: RawStatement[] = [];
  plan.split(/\r\n|\r|\n/).forEach((text, index) => {
    let from = 0;
    let quoted = false;
    const close = (to: number) => {
      const piece = text.slice(from, to);
      const indent = piece.search(/[^\s\u200b]/);
      if (indent >= 0)
        statements.push({ text: piece.slice(indent).trimEnd(), line: index + 1, column: from + indent + 1 });
      from = to + 1;
    };
    for (let at = 0; at < text.length; at += 1) {
      const character = text[at] ?? '';
      if (quoted && character === '\\') at += 1;
      else if (/["\u201c-\u201f]/.test(character)) quoted = !quoted;
      else if (!quoted && character === ';') close(at);
      else if (!quoted && character === '#') {
        close(at);
        return;
      }
    }
    close(text.length);
  });
  return statements;
};

const escapes: Readonly<Record<string, string>> = { n: '\n', r: '\r', t: '\t' };

const compiled = new Map<string, RegExp>();

/** The pattern bound to one place and blind to case; kept, since plans ask the same few of every statement. */
const stickyOf = ({ source, unicode }: RegExp): RegExp => {
  const known = compiled.get(source) ?? new RegExp(source, unicode ? 'iyu' : 'iy');
  compiled.set(source, known);
  return known;
};

/** Reads one statement from left to right. Patterns are tried on the text with dashes and blanks made plain. */
export class Cursor {
  readonly #raw: RawStatement;
  readonly #plain: string;
  #at = 0;

  constructor(raw: RawStatement) {
    this.#raw = raw;
    this.#plain = plainText(raw.text);
  }

  /** Skips blanks and takes what the pattern matches here, case aside; null and no step where it does not. */
  take(pattern: RegExp): RegExpExecArray | null {
    this.#skip();
    const sticky = stickyOf(pattern);
    sticky.lastIndex = this.#at;
    const match = sticky.exec(this.#plain);
    if (match !== null) this.#at += match[0].length;
    return match;
  }

  /** Takes a text in quotation marks: \" \\ \n \r \t \u0007 inside are escapes. Null where none begins here. */
  quoted(): string | null {
    this.#skip();
    const { text } = this.#raw;
    if (!/["\u201c-\u201f]/.test(text[this.#at] ?? '')) return null;
    const start = this.place();
    let result = '';
    for (let at = this.#at + 1; at < text.length; at += 1) {
      const character = text[at] ?? '';
      if (/["\u201c-\u201f]/.test(character)) {
        this.#at = at + 1;
        return result;
      }
      if (character === '\\') {
        at += 1;
        const code = /^u([0-9a-f]{4})/i.exec(text.slice(at, at + 5))?.[1];
        const escaped = text[at] ?? '';
        if (code !== undefined) at += 4;
        result +=
          code === undefined ? (escapes[escaped] ?? escaped) : String.fromCharCode(parseInt(code, 16));
      } else result += character;
    }
    throw new Refusal('quotation-open', 'This quotation mark is never closed.', start);
  }

  /** All that is left, as typed. */
  rest(): string {
    this.#skip();
    const left = this.#raw.text.slice(this.#at);
    this.#at = this.#plain.length;
    return left;
  }

  /** The next word, without taking it; empty at the end. */
  peek(): string {
    this.#skip();
    return /^[^\s]+/.exec(this.#plain.slice(this.#at))?.[0] ?? '';
  }

  done(): boolean {
    this.#skip();
    return this.#at >= this.#plain.length;
  }

  mark(): number {
    return this.#at;
  }

  reset(mark: number): void {
    this.#at = mark;
  }

  /** Where the next word stands. */
  place(): Pick<Required<Place>, 'line' | 'column'> {
    this.#skip();
    return { line: this.#raw.line, column: this.#raw.column + this.#at };
  }

  fail(code: string, message: string): never {
    throw new Refusal(code, message, this.place());
  }

  #skip(): void {
    while (this.#plain[this.#at] === ' ') this.#at += 1;
  }
}
