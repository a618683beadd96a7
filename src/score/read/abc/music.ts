/** Reads one line of music, sign by sign. Source: ABC 2.1, section 4. */
import { notKept } from '../drafts/log.ts';
import { barRun } from './barlines.ts';
import { ChordReader } from './chords.ts';
import { takeBarLine, takeEnding } from './course.ts';
import { expandMacros } from './macros.ts';
import type { Line } from './source.ts';
import type { Tune } from './tune.ts';
import { isCompound } from './values.ts';
import type { TextPlace } from './layer.ts';

/** Reads a field that stands in the music: [M:3/4]. */
export type FieldReader = (letter: string, text: string, place: TextPlace) => void;

/** Bar rests of one file; more bars are no piece. */
const mostRests = 100_000;

class MusicReader extends ChordReader {
  readonly #field: FieldReader;

  constructor(text: string, line: Line, tune: Tune, field: FieldReader) {
    super(text, line, tune);
    this.#field = field;
  }

  read(): void {
    // A line that names its voice at once belongs to that one alone.
    if (!/^\s*\[V:/.test(this.text.slice(0, 100))) this.#beginLine();
    while (this.at < this.text.length) this.sign();
    if (!this.text.endsWith('\\')) this.voice.endLine();
  }

  #beginLine(): void {
    const { voice } = this;
    if (voice.lineFull && !/^\s*(?:[|:]|\[[|\d"])/.test(this.text.slice(this.at, this.at + 50))) {
      voice.barLine(this.line.line);
      this.tune.log.tally(
        'repair',
        'bar-line-missing',
        voice.id,
        (many) =>
          `A line of music ends with a full bar and without a bar line (${many}); it is read as if there were one.`,
        { line: this.line.line },
      );
    }
    voice.lineFull = false;
    voice.beginLine(this.text.endsWith('\\'));
    voice.spaced = true;
  }

  protected override sign(): void {
    const sign = this.text.charAt(this.at);
    const run = sign === '|' || sign === ':' || sign === '[' || sign === ']' ? barRun(this.text, this.at) : 0;
    if (run > 0) {
      this.#bar(run, false);
      return;
    }
    if (sign === ':' && this.#colon()) return;
    if (/[A-Ga-g^_=]/.test(sign)) {
      this.#note();
      return;
    }
    switch (sign) {
      case ' ':
      case '\t':
        this.voice.spaced = true;
        this.at += 1;
        return;
      case 'z':
      case 'x':
        this.at += 1;
        this.voice.rest(this.lengthHere(), sign === 'x', this.place());
        return;
      case 'Z':
      case 'X':
        this.#barRest(sign === 'X');
        return;
      case 'y':
        // Space alone; signs that wait for a note have found their place.
        this.at += 1;
        this.digits();
        this.voice.dropMarks(this.place());
        return;
      case '[':
        this.#bracket();
        return;
      case '(':
        this.#parenthesis();
        return;
      case ')':
        this.voice.endSlur(this.place());
        this.at += 1;
        return;
      case '{':
        this.graces();
        return;
      case '-':
        if (!this.voice.tie()) this.unreadable('A tie stands behind no note');
        this.at += 1;
        return;
      case '>':
      case '<':
        this.#broken(sign);
        return;
      case '&':
        this.#overlay();
        return;
      case '.':
        this.#dot();
        return;
      case '"':
      case '!':
      case '+':
        this.enclosed(sign);
        return;
      case '`':
      case '$':
        this.at += 1;
        return;
      case '\\':
        if (this.at + 1 < this.text.length) this.unreadable('A backslash stands inside a line of music');
        this.at += 1;
        return;
      default:
        this.other(sign);
    }
  }

  #note(): void {
    const place = this.place();
    const head = this.head(null, 0);
    if (head !== null) this.voice.notes([head], this.lengthHere(), place);
  }

  #barRest(hidden: boolean): void {
    const place = this.place();
    this.at += 1;
    const digits = this.digits();
    const wanted = digits === '' ? 1 : digits.length > 6 ? Infinity : Number(digits);
    const voice = this.voice;
    const fits = wanted >= 1 && voice.bars.length + wanted <= mostRests;
    if (!fits)
      this.tune.log.say(
        'note',
        'too-many-bars',
        `A rest is to last ${digits.slice(0, 20)} bars, which no piece has; it is read as one bar.`,
        place,
      );
    voice.barRests(fits ? wanted : 1, hidden, place);
  }

  #bracket(): void {
    const next = this.text.charAt(this.at + 1);
    if (/[A-Za-z]/.test(next) && this.text.charAt(this.at + 2) === ':') {
      this.#inline();
      return;
    }
    if (/\d/.test(next)) {
      this.at += 1;
      this.#ending();
      return;
    }
    if (next === '"') {
      this.at += 1;
      const text = this.quoted();
      if (text !== null) takeEnding(this.tune, this.voice, '', text, this.place());
      return;
    }
    this.chord();
  }

  #inline(): void {
    const end = this.lastBracket < this.at ? -1 : this.text.indexOf(']', this.at);
    if (end < 0) {
      this.unclosed('A field in the music');
      return;
    }
    const from = this.at;
    this.at = end + 1;
    const letter = this.text.charAt(from + 1);
    this.#field(letter, this.text.slice(from + 3, end).trim(), this.place(from));
    if (letter === 'V') this.#beginLine();
  }

  #ending(): void {
    const from = this.at;
    while (/[\d,-]/.test(this.text.charAt(this.at))) this.at += 1;
    takeEnding(this.tune, this.voice, this.text.slice(from, this.at), null, this.place(from));
  }

  #bar(run: number, dotted: boolean): void {
    const signs = this.text.slice(this.at, this.at + run);
    const place = this.place();
    this.at += run;
    takeBarLine(this.tune, this.voice, signs, dotted, place);
    if (/\d/.test(this.text.charAt(this.at))) this.#ending();
  }

  /** The dots of a repeat that stand apart from their stroke: ": |", and ":" behind a bar line, in a new line too. */
  #colon(): boolean {
    const apart = /^:[ \t]+\|/.exec(this.text.slice(this.at, this.at + 20))?.[0];
    if (apart === undefined && (this.voice.bar.filled || !this.voice.hasBar)) return false;
    const place = this.place();
    this.at += apart?.length ?? 1;
    takeBarLine(this.tune, this.voice, apart === undefined ? '|:' : ':|', false, place);
    if (/\d/.test(this.text.charAt(this.at))) this.#ending();
    return true;
  }

  #parenthesis(): void {
    const match = /^\((\d{1,9})(?::(\d{0,9}))?(?::(\d{0,9}))?/.exec(this.text.slice(this.at, this.at + 40));
    const place = this.place();
    if (match === null) {
      this.voice.slur(place);
      this.at += 1;
      return;
    }
    this.at += match[0].length;
    const voice = this.voice;
    const [p, q, r] = [match[1], match[2], match[3]].map((text) => (text === undefined ? 0 : Number(text)));
    voice.tuplets.begin(p ?? 0, q ?? 0, r ?? 0, isCompound(voice.metre), place);
  }

  #broken(sign: '>' | '<'): void {
    const from = this.at;
    while (this.text.charAt(this.at) === sign) this.at += 1;
    if (!this.voice.breakRhythm(this.at - from, sign === '>')) {
      const at = this.at;
      this.at = from;
      this.unreadable('A sign for broken rhythm stands behind no note, or too many of them');
      this.at = at;
    }
  }

  #overlay(): void {
    const from = this.at;
    while (this.text.charAt(this.at) === '&') this.at += 1;
    if (!this.voice.overlay(this.at - from))
      this.unreadable('An overlay goes back beyond the beginning', from);
  }

  #dot(): void {
    const next = this.text.charAt(this.at + 1);
    if (next === '|') {
      this.at += 1;
      this.#bar(barRun(this.text, this.at), true);
      return;
    }
    this.at += 1;
    if (next === '(' && !/\d/.test(this.text.charAt(this.at + 1)))
      notKept(this.tune.log, 'dotted-slur', 'That a slur or tie is dotted', this.place());
    else if (next === '-' || next === ')')
      notKept(this.tune.log, 'dotted-slur', 'That a slur or tie is dotted', this.place());
    else this.voice.mark().articulations.push('staccato');
  }
}

/** Reads one line of music into the voice that goes on there. */
export const readMusic = (line: Line, tune: Tune, field: FieldReader): void => {
  new MusicReader(expandMacros(line.text, tune.macros).trimEnd(), line, tune, field).read();
};
