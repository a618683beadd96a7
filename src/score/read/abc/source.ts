/**
 * An ABC file as lines: comments taken away, fields continued, and which lines belong to which tune. Source: ABC 2.1,
 * sections 2.2, 3.3, 8 and 10.5.
 */

export interface Line {
  /** A field's letter; "%" for a directive; "" for a line of music or of text. */
  readonly letter: string;
  /** What stands behind the letter and its colon, or behind "%%"; the whole line of music. */
  readonly text: string;
  /** From 1. */
  readonly line: number;
  /** Column of the first character of `text`, from 1. */
  readonly column: number;
}

export interface Source {
  /** Behind "%abc-" in the first line, empty behind a bare "%abc"; null without. */
  readonly version: string | null;
  readonly header: readonly Line[];
  /** Each from its X: field on. */
  readonly tunes: readonly (readonly Line[])[];
  /** How many lines of text, free or typeset, stand outside of all tunes. */
  readonly freeText: number;
}

/** Where a comment begins, or the length of the line. A percent sign behind a backslash is none. */
const commentAt = (text: string, from: number): number => {
  for (let at = text.indexOf('%', from); at >= 0; at = text.indexOf('%', at + 1))
    if (text.charAt(at - 1) !== '\\') return at;
  return text.length;
};

type Kind = 'empty' | 'comment' | 'directive' | 'field' | 'continued' | 'other';
type Raw = Line & { readonly kind: Kind };

const rawLine = (text: string, line: number): Raw => {
  const make = (kind: Kind, letter: string, from: number, to: number): Raw => ({
    kind,
    letter,
    text: text.slice(from, to).trimEnd(),
    line,
    column: from + 1,
  });
  if (text.trim() === '') return make('empty', '', 0, 0);
  if (text.startsWith('%%')) return make('directive', '%', 2, commentAt(text, 2));
  const end = commentAt(text, 0);
  if (text.slice(0, end).trim() === '') return make('comment', '', 0, 0);
  if (text.startsWith('+:')) return make('continued', '+', 2, end);
  if (/^[A-Za-z]:/.test(text)) return make('field', text.charAt(0), 2, end);
  return make('other', '', 0, end);
};

/**
 * Whether a field line inside the music is music after all: the letters of notes and rests stand for themselves there
 * (section 3), so "A:|" is a note and a bar line.
 */
const isMusic = ({ letter, text }: Raw): boolean =>
  /[A-Ga-gx-zX-Z]/.test(letter) && (text === '' || /^[|:\]]/.test(text));

class Splitter {
  readonly header: Line[] = [];
  readonly tunes: Line[][] = [];
  freeText = 0;
  #place: 'header' | 'between' | 'tune' = 'header';
  /** The name of the block whose end is waited for: "text" behind %%begintext. */
  #block: string | null = null;
  #inMusic = false;
  /** The field that "+:" goes on from, and what it adds. */
  #field: { readonly lines: Line[]; readonly index: number } | null = null;
  #more: string[] = [];
  readonly #startsTune: (raw: Raw) => boolean;

  constructor(hasX: boolean) {
    // A file of one tune once could do without X: (section 10.5.1).
    this.#startsTune = (raw) =>
      raw.kind === 'field' &&
      (hasX
        ? raw.letter === 'X' && !(this.#inMusic && isMusic(raw))
        : this.#place !== 'tune' && (this.tunes.length === 0 ? /[TMLQVK]/ : /T/).test(raw.letter));
  }

  take(raw: Raw): void {
    if (this.#block !== null) {
      if (raw.kind === 'directive' && raw.text.startsWith(`end${this.#block}`)) this.#block = null;
      else if (this.#block === 'text') this.freeText += 1;
      return;
    }
    if (raw.kind === 'directive') this.#block = /^begin([a-z]{1,20})\b/.exec(raw.text)?.[1] ?? null;
    if (this.#block !== null || raw.kind === 'comment') return;
    if (raw.kind === 'continued') {
      this.#more.push(raw.text.trim());
      return;
    }
    // A directive may stand between a field and its continuation (section 3.3).
    if (raw.kind !== 'directive') this.finishField();
    if (raw.kind === 'empty') {
      if (this.#place === 'tune' || this.header.length > 0) this.#place = 'between';
      this.#inMusic = false;
      return;
    }
    this.#add(raw);
  }

  #add(raw: Raw): void {
    const { kind, letter, text, line, column } = raw;
    if (this.#startsTune(raw)) {
      this.tunes.push([]);
      this.#place = 'tune';
      this.#inMusic = false;
    }
    const lines =
      this.#place === 'tune' ? this.tunes.at(-1) : this.#place === 'header' ? this.header : undefined;
    const typeset = kind === 'directive' && /^(text|center)\b/.test(text);
    if (lines === undefined || (lines === this.header && kind === 'other')) {
      // Layout between tunes says nothing of the music.
      if (kind !== 'directive' || typeset) this.freeText += 1;
      this.#place = 'between';
      return;
    }
    const music = kind === 'field' && this.#inMusic && isMusic(raw);
    if (kind === 'field' && !music) this.#field = { lines, index: lines.length };
    if (music) lines.push({ letter: '', text: `${letter}:${text}`, line, column: 1 });
    else lines.push({ letter, text, line, column });
    if (this.#place === 'tune' && (letter === 'K' || kind === 'other')) this.#inMusic = true;
  }

  /** Joins a field with its continuations, by a space (section 3.3). */
  finishField(): void {
    const before = this.#field?.lines[this.#field.index];
    if (this.#field !== null && before !== undefined && this.#more.length > 0)
      this.#field.lines[this.#field.index] = {
        ...before,
        text: [before.text, ...this.#more].join(' ').trim(),
      };
    else this.freeText += this.#more.length;
    this.#field = null;
    this.#more = [];
  }
}

/** Splits the text; CR, LF and CRLF end lines alike. */
export const sourceOf = (text: string): Source => {
  const plain = text.replace(/^\ufeff/, '');
  const version = /^%abc(?:-(\d{1,3}(?:\.\d{1,3}){0,2}))?/.exec(plain);
  const splitter = new Splitter(/^X:/m.test(plain));
  plain.split(/\r\n|\n|\r/).forEach((row, index) => {
    splitter.take(rawLine(row, index + 1));
  });
  splitter.finishField();
  const { header, tunes, freeText } = splitter;
  return { version: version === null ? null : (version[1] ?? ''), header, tunes, freeText };
};
