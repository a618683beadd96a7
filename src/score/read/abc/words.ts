/** Words and symbols under the notes: w: and s: lines. Source: ABC 2.1, sections 4.15, 5 and 10.6. */
import type { Lyric } from '../../notes.ts';
import { decorateGroup, readQuoted } from './decorate.ts';
import type { Group } from './events.ts';
import type { Line } from './source.ts';
import { decodeString } from './text.ts';
import type { Tune } from './tune.ts';
import type { Progress } from './layer.ts';
import type { Voice } from './voice.ts';

interface Syllable {
  readonly kind: 'syllable';
  text: string;
  hyphen: boolean;
  extend: boolean;
}
type Token = Syllable | { readonly kind: 'held' | 'skip' | 'bar' };

/** A line of words as syllables and what stands between them. */
const tokensOf = (line: string): Token[] => {
  const tokens: Token[] = [];
  let text = '';
  /** The syllable that "_" holds on. */
  let word = null as Syllable | null;
  /** Whether the text follows a "_" without space. */
  let touches = false;
  const finish = (hyphen: boolean): void => {
    const before = tokens.at(-1);
    if (text !== '' && !/[\p{L}\p{N}]/u.test(text) && before?.kind === 'held' && touches) {
      // "o_." is the word "o." held on.
      if (word !== null) word.text += text;
    } else if (text !== '') {
      const syllable: Syllable = { kind: 'syllable', text, hyphen, extend: false };
      tokens.push(syllable);
      word = syllable;
    }
    text = '';
    touches = false;
  };
  for (let at = 0; at < line.length; at += 1) {
    const sign = line.charAt(at);
    switch (sign) {
      case ' ':
      case '\t':
        finish(false);
        break;
      case '-': {
        const before = line.charAt(at - 1);
        if (text !== '') finish(true);
        else if (before === '' || before === ' ' || before === '-') {
          // Behind a space or another hyphen it counts for a note of its own.
          const last = tokens.at(-1);
          if (last?.kind === 'syllable') last.hyphen = true;
          tokens.push({ kind: 'skip' });
        }
        break;
      }
      case '_': {
        finish(false);
        if (word !== null) word.extend = true;
        tokens.push({ kind: 'held' });
        touches = true;
        break;
      }
      case '*':
        finish(false);
        word = null;
        tokens.push({ kind: 'skip' });
        break;
      case '|':
        finish(false);
        tokens.push({ kind: 'bar' });
        break;
      case '~':
        text += ' ';
        break;
      case '\\':
        if (line.charAt(at + 1) === '-') text += '-';
        else text += line.slice(at, at + 2);
        at += 1;
        break;
      default:
        text += sign;
    }
  }
  finish(false);
  return tokens;
};

/** "1. Three": the number of a verse stands with the word behind it (section 5.3). */
const numbered = (line: string): string => line.replace(/^\s*(\d{1,4}[.:)]?) +(?=\S)/, '$1~');

/** Where a line begins: behind the notes that lines before spoke of; in files of old at the beginning of its music. */
const begin = (voice: Voice, progress: Progress, strict: boolean): void => {
  progress.stacked += 1;
  if (progress.stacked > 1) return;
  const old = !strict && voice.lineFrom > progress.next;
  progress.from = old ? voice.lineFrom : progress.next;
  progress.fromBar = old ? voice.lineBar : progress.nextBar;
  progress.next = voice.sung.length;
  progress.nextBar = voice.textBar;
};

/** Goes through the notes of a line, one at a time. */
class Notes {
  readonly #voice: Voice;
  #at: number;
  #bar: number;

  constructor(voice: Voice, { from, fromBar }: Progress) {
    this.#voice = voice;
    this.#at = from;
    this.#bar = fromBar;
  }

  next(): Group | null {
    const sung = this.#voice.sung[this.#at];
    this.#at += 1;
    return sung?.group ?? null;
  }

  /** On to the next bar; nothing where the words have come so far already. */
  nextBar(): void {
    for (;;) {
      const sung = this.#voice.sung[this.#at];
      if (sung === undefined || sung.bar > this.#bar) break;
      this.#at += 1;
    }
    this.#bar += 1;
  }
}

/** A w: field for the voice that goes on. */
export const readWords = (line: Line, tune: Tune): void => {
  const voice = tune.current;
  begin(voice, voice.words, tune.strict);
  const verse = String(voice.words.stacked);
  const notes = new Notes(voice, voice.words);
  let joined = false;
  let extra = 0;
  for (const token of tokensOf(numbered(line.text))) {
    if (token.kind === 'bar') {
      notes.nextBar();
      continue;
    }
    const group = notes.next();
    if (group === null) {
      if (token.kind === 'syllable') extra += 1;
      continue;
    }
    if (token.kind !== 'syllable') continue;
    const { text, hyphen, extend } = token;
    const syllabic: Lyric['syllabic'] = joined ? (hyphen ? 'middle' : 'end') : hyphen ? 'begin' : 'single';
    joined = hyphen;
    (group.lyrics ??= []).push({ verse, syllabic, text: decodeString(text), extend });
  }
  if (extra > 0)
    tune.log.say(
      'repair',
      'lyrics-extra',
      `A line of words has ${extra} more ${extra === 1 ? 'syllable' : 'syllables'} than there are notes; what is beyond is left out.`,
      { line: line.line },
    );
};

/** An s: field: decorations and texts, aligned like words. */
export const readSymbols = (line: Line, tune: Tune): void => {
  const voice = tune.current;
  begin(voice, voice.symbols, tune.strict);
  const notes = new Notes(voice, voice.symbols);
  const { text } = line;
  const place = { line: line.line, column: line.column };
  let extra = 0;
  for (let at = 0; at < text.length;) {
    const sign = text.charAt(at);
    const quoted = sign === '"' ? readQuoted(text, at) : null;
    const named = sign === '!' || sign === '+' ? text.indexOf(sign, at + 1) : -1;
    const end = quoted?.end ?? (named < 0 ? at + 1 : named + 1);
    if (sign === '|') notes.nextBar();
    else if (sign === '*') notes.next();
    else if (quoted !== null || named > 0) {
      const group = notes.next();
      if (group === null) extra += 1;
      else
        decorateGroup(
          tune,
          group,
          sign === '"' ? text.slice(at, end) : `!${text.slice(at + 1, end - 1)}!`,
          place,
        );
    } else if (!/\s/.test(sign)) {
      tune.log.say(
        'repair',
        'music-unreadable',
        `"${text.slice(at, at + 20)}" in a line of symbols is none; the rest of the line is left out.`,
        place,
      );
      break;
    }
    at = end;
  }
  if (extra > 0)
    tune.log.say(
      'repair',
      'lyrics-extra',
      `A line of symbols has ${extra} more than there are notes; what is beyond is left out.`,
      place,
    );
};
