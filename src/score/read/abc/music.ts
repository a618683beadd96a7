/** Reads one line of music, sign by sign. Source: ABC 2.1, section 4. */
import { F, type Fraction } from '../../../units/index.ts';
import { notKept } from '../drafts/log.ts';
import { barRun } from './barlines.ts';
import { takeBarLine, takeEnding } from './course.ts';
import { decorate, readQuoted } from './decorate.ts';
import type { Marks } from './events.ts';
import { expandMacros } from './macros.ts';
import type { Line } from './source.ts';
import type { Tune } from './tune.ts';
import { isCompound, readFactor } from './values.ts';
import type { HeadRead, TextPlace, Voice } from './voice.ts';

/** Reads a field that stands in the music: [M:3/4]. */
export type FieldReader = (letter: string, text: string, place: TextPlace) => void;

/** Bar rests of one file; more bars are no piece. */
const mostRests = 100_000;
const mostHeads = 100;

class MusicReader {
  readonly #text: string;
  readonly #tune: Tune;
  readonly #line: Line;
  readonly #field: FieldReader;
  #at = 0;
  /** Where the last closing signs of the line stand: behind them nothing is looked for again and again. */
  readonly #lastBracket: number;
  readonly #lastBrace: number;
  #quoteOpen = false;

  constructor(text: string, line: Line, tune: Tune, field: FieldReader) {
    this.#text = text;
    this.#line = line;
    this.#tune = tune;
    this.#field = field;
    this.#lastBracket = text.lastIndexOf(']');
    this.#lastBrace = text.lastIndexOf('}');
  }

  get #voice(): Voice {
    return this.#tune.current;
  }

  #place(at = this.#at): TextPlace {
    return { line: this.#line.line, column: this.#line.column + at };
  }

  #unreadable(what: string, at = this.#at): void {
    this.#tune.log.say('repair', 'music-unreadable', `${what}; it is passed over.`, this.#place(at));
  }

  read(): void {
    this.#voice.spaced = true;
    while (this.#at < this.#text.length) this.#sign();
  }

  #sign(): void {
    const sign = this.#text.charAt(this.#at);
    const run =
      sign === '|' || sign === ':' || sign === '[' || sign === ']' ? barRun(this.#text, this.#at) : 0;
    if (run > 0) {
      this.#bar(run, false);
      return;
    }
    if (/[A-Ga-g^_=]/.test(sign)) {
      this.#note();
      return;
    }
    switch (sign) {
      case ' ':
      case '\t':
        this.#voice.spaced = true;
        this.#at += 1;
        return;
      case 'z':
      case 'x':
        this.#at += 1;
        this.#voice.rest(this.#lengthHere(), sign === 'x', this.#place());
        return;
      case 'Z':
      case 'X':
        this.#barRest(sign === 'X');
        return;
      case 'y':
        // Space alone; signs that wait for a note have found their place.
        this.#at += 1;
        this.#digits();
        this.#voice.dropMarks(this.#place());
        return;
      case '[':
        this.#bracket();
        return;
      case '(':
        this.#parenthesis();
        return;
      case ')':
        this.#voice.endSlur(this.#place());
        this.#at += 1;
        return;
      case '{':
        this.#graces();
        return;
      case '-':
        if (!this.#voice.tie()) this.#unreadable('A tie stands behind no note');
        this.#at += 1;
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
        this.#enclosed(sign);
        return;
      case '`':
      case '$':
        this.#at += 1;
        return;
      case '\\':
        if (this.#at + 1 < this.#text.length) this.#unreadable('A backslash stands inside a line of music');
        this.#at += 1;
        return;
      default:
        this.#other(sign);
    }
  }

  #other(sign: string): void {
    const meaning = this.#tune.letters.get(sign);
    if (meaning !== undefined) {
      decorate(this.#tune, this.#voice, meaning, this.#place());
      this.#at += 1;
      return;
    }
    const from = this.#at;
    this.#at += 1;
    // Section 8.1: these are reserved and ignored.
    if (/[#*;?@]/.test(sign)) {
      this.#tune.log.tally(
        'repair',
        'music-unreadable',
        'reserved',
        (many) =>
          `The music holds signs that mean nothing in ABC ("${sign}" and the like, ${many}); they are passed over.`,
        { line: this.#line.line },
      );
      return;
    }
    // One message for a run of nonsense.
    while (this.#at < this.#text.length && this.#at - from < 2000 && this.#text.charAt(this.#at) === sign)
      this.#at += 1;
    this.#unreadable(
      `"${this.#text.slice(from, Math.min(this.#at, from + 20))}" is nothing that music is written with`,
      from,
    );
  }

  #digits(): string {
    const from = this.#at;
    while (this.#at < this.#text.length && /\d/.test(this.#text.charAt(this.#at))) this.#at += 1;
    return this.#text.slice(from, this.#at);
  }

  /** The length behind a note, as a factor of the unit length. */
  #factor(): Fraction {
    const from = this.#at;
    while (this.#at < this.#text.length && /[\d/]/.test(this.#text.charAt(this.#at))) this.#at += 1;
    const text = this.#text.slice(from, this.#at);
    const factor = readFactor(text);
    if (factor !== null) return factor;
    this.#tune.log.say(
      'repair',
      'duration-out-of-range',
      `A note has the length "${text.slice(0, 30)}", which can not be; it lasts one unit.`,
      this.#place(from),
    );
    return F.one;
  }

  #lengthHere(): Fraction {
    return this.#tune.length(this.#factor());
  }

  /** Accidental, letter and octave signs; null where no note follows the accidental. */
  #head(marks: Marks | null, slurStart: number): HeadRead | null {
    const from = this.#at;
    let sign = '';
    while (/[\^_=]/.test(this.#text.charAt(this.#at)) && sign.length < 2) {
      if (sign !== '' && (sign !== this.#text.charAt(this.#at) || sign === '=')) break;
      sign += this.#text.charAt(this.#at);
      this.#at += 1;
    }
    let alter: number | null = sign === '' ? null : 0;
    if (sign.startsWith('^')) alter = sign.length;
    if (sign.startsWith('_')) alter = -sign.length;
    // Quarter tones and the like, from the drafts of ABC 2.2: "^/c" is half of a sharp, "_3/2d" one and a half flats.
    if (sign === '^' || sign === '_') {
      const start = this.#at;
      while (/[\d/]/.test(this.#text.charAt(this.#at)) && this.#at - start < 8) this.#at += 1;
      const part = this.#at === start ? F.one : readFactor(this.#text.slice(start, this.#at));
      alter = (sign === '^' ? 1 : -1) * (part === null ? 1 : F.toNumber(part));
    }
    const letter = this.#text.charAt(this.#at);
    if (!/[A-Ga-g]/.test(letter)) {
      this.#unreadable('An accidental stands before no note', from);
      return null;
    }
    this.#at += 1;
    const upper = letter.toUpperCase();
    let octave = letter === upper ? 4 : 5;
    for (; ; this.#at += 1) {
      const mark = this.#text.charAt(this.#at);
      if (mark === ',') octave -= 1;
      else if (mark === "'") octave += 1;
      else break;
    }
    return { letter: upper, octave, alter, marks, tie: false, slurStart, slurEnd: 0 };
  }

  #note(): void {
    const place = this.#place();
    const head = this.#head(null, 0);
    if (head !== null) this.#voice.notes([head], this.#lengthHere(), place);
  }

  #barRest(hidden: boolean): void {
    const place = this.#place();
    this.#at += 1;
    const digits = this.#digits();
    const wanted = digits === '' ? 1 : digits.length > 6 ? Infinity : Number(digits);
    const voice = this.#voice;
    const fits = wanted >= 1 && voice.bars.length + wanted <= mostRests;
    if (!fits)
      this.#tune.log.say(
        'note',
        'too-many-bars',
        `A rest is to last ${digits.slice(0, 20)} bars, which no piece has; it is read as one bar.`,
        place,
      );
    voice.barRests(fits ? wanted : 1, hidden, place);
  }

  #bracket(): void {
    const next = this.#text.charAt(this.#at + 1);
    if (/[A-Za-z]/.test(next) && this.#text.charAt(this.#at + 2) === ':') {
      this.#inline();
      return;
    }
    if (/\d/.test(next)) {
      this.#at += 1;
      this.#ending();
      return;
    }
    if (next === '"') {
      this.#at += 1;
      const text = this.#quoted();
      if (text !== null) takeEnding(this.#tune, this.#voice, '', text, this.#place());
      return;
    }
    this.#chord();
  }

  #inline(): void {
    const end = this.#lastBracket < this.#at ? -1 : this.#text.indexOf(']', this.#at);
    if (end < 0) {
      this.#unclosed('A field in the music');
      return;
    }
    const from = this.#at;
    this.#at = end + 1;
    this.#field(this.#text.charAt(from + 1), this.#text.slice(from + 3, end).trim(), this.#place(from));
  }

  /** The rest of the line belongs to something that never ends. */
  #unclosed(what: string): void {
    this.#tune.log.say(
      'repair',
      'bracket-unclosed',
      `${what} begins here and does not end in its line; the sign is passed over.`,
      this.#place(),
    );
    this.#at += 1;
  }

  #ending(): void {
    const from = this.#at;
    while (/[\d,-]/.test(this.#text.charAt(this.#at))) this.#at += 1;
    takeEnding(this.#tune, this.#voice, this.#text.slice(from, this.#at), null, this.#place(from));
  }

  #bar(run: number, dotted: boolean): void {
    const signs = this.#text.slice(this.#at, this.#at + run);
    const place = this.#place();
    this.#at += run;
    takeBarLine(this.#tune, this.#voice, signs, dotted, place);
    if (/\d/.test(this.#text.charAt(this.#at))) this.#ending();
  }

  #chord(): void {
    const place = this.#place();
    if (this.#lastBracket < this.#at) {
      this.#unclosed('A chord');
      return;
    }
    this.#at += 1;
    const heads = this.#heads(']');
    const factor = F.mul(heads.factor ?? F.one, this.#factor());
    if (heads.reads.length > 0) this.#voice.notes(heads.reads, this.#tune.length(factor), place);
    else if (heads.factor !== null) this.#voice.rest(this.#tune.length(factor), false, place);
    else this.#unreadable('A chord holds no note');
  }

  /** A chord of more notes than hands have fingers for is a slip, and would take long to tie. */
  #roomFor(reads: readonly HeadRead[], place: TextPlace): boolean {
    if (reads.length < mostHeads) return true;
    this.#tune.log.tally(
      'repair',
      'music-unreadable',
      'chord',
      (many) => `A chord has more than ${mostHeads} notes; what is beyond is left out (${many}).`,
      { line: place.line },
    );
    return false;
  }

  /** The heads of a chord up to its closing bracket; the length is that of the first. */
  #heads(closing: string): { reads: HeadRead[]; factor: Fraction | null } {
    const reads: HeadRead[] = [];
    let factor: Fraction | null = null;
    let marks: Marks | null = null;
    let slurs = 0;
    const voice = this.#voice;
    while (this.#at < this.#text.length && this.#text.charAt(this.#at) !== closing) {
      const sign = this.#text.charAt(this.#at);
      const last = reads.at(-1);
      if (/[A-Ga-g^_=]/.test(sign)) {
        const place = this.#place();
        const head = this.#head(marks, slurs);
        const own = this.#factor();
        [marks, slurs] = [null, 0];
        if (head === null || !this.#roomFor(reads, place)) continue;
        reads.push(head);
        factor ??= own;
        if (!F.equal(own, factor))
          this.#tune.log.say(
            'repair',
            'chord-lengths-differ',
            'The notes of a chord have different lengths; all last as long as its first.',
            place,
          );
      } else if (sign === '-' && last !== undefined) {
        reads[reads.length - 1] = { ...last, tie: true };
        this.#at += 1;
      } else if (sign === '(') {
        slurs += 1;
        this.#at += 1;
      } else if (sign === ')' && last !== undefined) {
        reads[reads.length - 1] = { ...last, slurEnd: last.slurEnd + 1 };
        this.#at += 1;
      } else if (sign === 'z' || sign === 'x') {
        this.#at += 1;
        const own = this.#factor();
        factor ??= own;
        notKept(this.#tune.log, 'chord-rest', 'A rest within a chord', this.#place());
      } else if (
        sign === ' ' ||
        sign === '`' ||
        (sign === '.' && /[-(]/.test(this.#text.charAt(this.#at + 1)))
      )
        this.#at += 1;
      else {
        // Signs inside the chord belong to the next of its heads, those before it to the whole.
        const outer = voice.marks;
        voice.marks = marks;
        const before = this.#at;
        if (sign === '.') {
          voice.mark().articulations.push('staccato');
          this.#at += 1;
        } else if (/["!+]/.test(sign)) this.#enclosed(sign);
        else this.#other(sign);
        if (this.#at === before) this.#at += 1;
        marks = voice.marks;
        voice.marks = outer;
      }
    }
    this.#at += 1;
    return { reads, factor };
  }

  #parenthesis(): void {
    const match = /^\((\d{1,9})(?::(\d{0,9}))?(?::(\d{0,9}))?/.exec(
      this.#text.slice(this.#at, this.#at + 40),
    );
    const place = this.#place();
    if (match === null) {
      this.#voice.slur(place);
      this.#at += 1;
      return;
    }
    this.#at += match[0].length;
    const voice = this.#voice;
    const [p, q, r] = [match[1], match[2], match[3]].map((text) => (text === undefined ? 0 : Number(text)));
    voice.tuplets.begin(p ?? 0, q ?? 0, r ?? 0, isCompound(voice.metre), place);
  }

  #graces(): void {
    const close = this.#lastBrace < this.#at ? -1 : this.#text.indexOf('}', this.#at);
    if (close < 0) {
      this.#unclosed('A group of grace notes');
      return;
    }
    const voice = this.#voice;
    const outer = voice.marks;
    voice.marks = null;
    const spaced = voice.spaced;
    this.#at += 1;
    const slash = this.#text.charAt(this.#at) === '/';
    if (slash) this.#at += 1;
    const inner = this.#text.slice(this.#at, close);
    const single = (inner.replace(/\[[^\]]*\]/g, 'A').match(/[A-Ga-g]/g) ?? []).length < 2;
    const unit = F.fraction(1, this.#tune.pipes ? 32 : single ? 8 : 16);
    let broken: Fraction = F.one;
    voice.spaced = true;
    while (this.#at < close) {
      const sign = this.#text.charAt(this.#at);
      const place = this.#place();
      const chord = sign === '[';
      if (chord || /[A-Ga-g^_=]/.test(sign)) {
        if (chord) this.#at += 1;
        const read = chord
          ? this.#heads(']')
          : { reads: [this.#head(null, 0)].filter((one) => one !== null), factor: F.one };
        let factor = F.mul(F.mul(read.factor ?? F.one, this.#factor()), broken);
        broken = F.one;
        const next = this.#text.charAt(this.#at);
        if (next === '>' || next === '<') {
          factor = F.mul(factor, next === '>' ? F.fraction(3, 2) : F.fraction(1, 2));
          broken = next === '>' ? F.fraction(1, 2) : F.fraction(3, 2);
          this.#at += 1;
        }
        if (read.reads.length > 0) voice.notes(read.reads, F.mul(unit, factor), place, { slash });
      } else if (/[zxy]/.test(sign)) {
        notKept(this.#tune.log, 'grace-rest', 'A rest among grace notes, which takes no time', place);
        this.#at += 1;
      } else if (sign === '-') this.#at += 1;
      else if (/["!+.()\s`]/.test(sign) || this.#tune.letters.has(sign)) this.#sign();
      else this.#other(sign);
    }
    this.#at = Math.max(this.#at, close) + (this.#text.charAt(this.#at) === '}' ? 1 : 0);
    voice.marks = outer;
    voice.spaced = spaced;
  }

  #broken(sign: '>' | '<'): void {
    const from = this.#at;
    while (this.#text.charAt(this.#at) === sign) this.#at += 1;
    if (!this.#voice.breakRhythm(this.#at - from, sign === '>')) {
      const at = this.#at;
      this.#at = from;
      this.#unreadable('A sign for broken rhythm stands behind no note, or too many of them');
      this.#at = at;
    }
  }

  #overlay(): void {
    const from = this.#at;
    while (this.#text.charAt(this.#at) === '&') this.#at += 1;
    if (!this.#voice.overlay(this.#at - from))
      this.#unreadable('An overlay goes back beyond the beginning', from);
  }

  #dot(): void {
    const next = this.#text.charAt(this.#at + 1);
    if (next === '|') {
      this.#at += 1;
      this.#bar(barRun(this.#text, this.#at), true);
      return;
    }
    this.#at += 1;
    if (next === '(' && !/\d/.test(this.#text.charAt(this.#at + 1)))
      notKept(this.#tune.log, 'dotted-slur', 'That a slur or tie is dotted', this.#place());
    else if (next === '-' || next === ')')
      notKept(this.#tune.log, 'dotted-slur', 'That a slur or tie is dotted', this.#place());
    else this.#voice.mark().articulations.push('staccato');
  }

  /** A text in quotation marks; null, with a problem, where it does not end. */
  #quoted(): string | null {
    const found = this.#quoteOpen ? null : readQuoted(this.#text, this.#at);
    if (found === null) {
      this.#quoteOpen = true;
      this.#unclosed('A text in quotation marks');
      return null;
    }
    this.#at = found.end;
    return found.text;
  }

  /** Words, decorations, and chords as they were written once: "...", !...!, +...+. */
  #enclosed(sign: '"' | '!' | '+' | (string & {})): void {
    const place = this.#place();
    if (sign === '"') {
      const text = this.#quoted();
      if (text !== null) decorate(this.#tune, this.#voice, `"${text}"`, place);
      return;
    }
    const tune = this.#tune;
    const match = /^[!+]([^\s!+|[\]:]{0,40}|\+)[!+]/.exec(this.#text.slice(this.#at, this.#at + 44));
    const name = match?.[0].endsWith(sign) === true ? (match[1] ?? '') : null;
    if (sign === '!' && (name === null || tune.bangBreaks)) {
      this.#at += 1;
      tune.log.tally(
        'note',
        'syntax-outdated',
        'bang',
        (many) => `"!" breaks the line here, as in files of old (${many}); it says nothing about the music.`,
        { line: place.line },
      );
      return;
    }
    if (name === null) {
      this.#unreadable('"+" stands alone');
      this.#at += 1;
      return;
    }
    const isName = sign === tune.decorationSign || (sign === '!' && !tune.bangBreaks);
    if (isName) {
      this.#at += name.length + 2;
      decorate(tune, this.#voice, `!${name}!`, place);
      return;
    }
    // Before ABC 1.6 "+CEG+" was a chord (section 10.2.3).
    this.#at += 1;
    tune.log.tally(
      'note',
      'syntax-outdated',
      'plus',
      (many) =>
        `"+${name.slice(0, 20)}+" is an outdated way of writing (${many}); it is read as a chord or a decoration.`,
      { line: place.line },
    );
    if (/^(?:(?:\^\^?|__?|=)?[A-Ga-g][,']*[\d/]*)+$/.test(name)) {
      const { reads, factor } = this.#heads('+');
      this.#voice.notes(reads, tune.length(F.mul(factor ?? F.one, this.#factor())), place);
    } else {
      this.#at += name.length + 1;
      decorate(tune, this.#voice, `!${name}!`, place);
    }
  }
}

/** Reads one line of music into the voice that goes on there. */
export const readMusic = (line: Line, tune: Tune, field: FieldReader): void => {
  new MusicReader(expandMacros(line.text, tune.macros).trimEnd(), line, tune, field).read();
};
