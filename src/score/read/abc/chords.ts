/** Chords, grace notes and what is enclosed: the groups within a line of music. Source: ABC 2.1, sections 4.12, 4.14 and 4.17. */
import { F, type Fraction } from '../../../units/index.ts';
import { notKept } from '../drafts/log.ts';
import { decorate } from './decorate.ts';
import type { Marks } from './events.ts';
import { Scanner } from './scanner.ts';
import type { HeadRead, TextPlace } from './layer.ts';

/** Notes of one chord. */
const mostHeads = 100;

export abstract class ChordReader extends Scanner {
  /** Reads whatever stands next. */
  protected abstract sign(): void;

  protected other(sign: string): void {
    const meaning = this.tune.letters.get(sign);
    if (meaning !== undefined) {
      decorate(this.tune, this.voice, meaning, this.place());
      this.at += 1;
      return;
    }
    const from = this.at;
    this.at += 1;
    // Section 8.1: these are reserved and ignored.
    if (/[#*;?@]/.test(sign)) {
      this.tune.log.tally(
        'repair',
        'music-unreadable',
        'reserved',
        (many) =>
          `The music holds signs that mean nothing in ABC ("${sign}" and the like, ${many}); they are passed over.`,
        { line: this.line.line },
      );
      return;
    }
    while (this.at < this.text.length && this.at - from < 2000 && this.text.charAt(this.at) === sign)
      this.at += 1;
    this.tune.log.tally(
      'repair',
      'music-unreadable',
      // Letters are told one by one, since many a book has its own; the rest together.
      /[!-~]/.test(sign) ? sign : 'other',
      (many) => `"${sign}" is nothing that music is written with (${many}); it is passed over.`,
      this.place(from),
    );
  }

  protected chord(): void {
    const place = this.place();
    if (this.lastBracket < this.at) {
      this.unclosed('A chord');
      return;
    }
    this.at += 1;
    const heads = this.heads(']');
    const factor = F.mul(heads.factor ?? F.one, this.factor());
    if (heads.reads.length > 0) this.voice.notes(heads.reads, this.tune.length(factor), place);
    else if (heads.factor !== null) this.voice.rest(this.tune.length(factor), false, place);
    else this.unreadable('A chord holds no note');
  }

  /** A chord of more notes than hands have fingers for is a slip, and would take long to tie. */
  protected roomFor(reads: readonly HeadRead[], place: TextPlace): boolean {
    if (reads.length < mostHeads) return true;
    this.tune.log.tally(
      'repair',
      'music-unreadable',
      'chord',
      (many) => `A chord has more than ${mostHeads} notes; what is beyond is left out (${many}).`,
      { line: place.line },
    );
    return false;
  }

  /** The heads of a chord up to its closing bracket; the length is that of the first. */
  protected heads(closing: string): { reads: HeadRead[]; factor: Fraction | null } {
    const reads: HeadRead[] = [];
    let factor: Fraction | null = null;
    let marks: Marks | null = null;
    let slurs = 0;
    const voice = this.voice;
    while (this.at < this.text.length && this.text.charAt(this.at) !== closing) {
      const sign = this.text.charAt(this.at);
      const last = reads.at(-1);
      if (/[A-Ga-g^_=]/.test(sign)) {
        const place = this.place();
        const head = this.head(marks, slurs);
        const own = this.factor();
        [marks, slurs] = [null, 0];
        if (head === null || !this.roomFor(reads, place)) continue;
        reads.push(head);
        factor ??= own;
        if (!F.equal(own, factor))
          this.tune.log.say(
            'repair',
            'chord-lengths-differ',
            'The notes of a chord have different lengths; all last as long as its first.',
            place,
          );
      } else if (sign === '-' && last !== undefined) {
        reads[reads.length - 1] = { ...last, tie: true };
        this.at += 1;
      } else if (sign === '(') {
        slurs += 1;
        this.at += 1;
      } else if (sign === ')' && last !== undefined) {
        reads[reads.length - 1] = { ...last, slurEnd: last.slurEnd + 1 };
        this.at += 1;
      } else if (sign === 'z' || sign === 'x') {
        this.at += 1;
        const own = this.factor();
        factor ??= own;
        notKept(this.tune.log, 'chord-rest', 'A rest within a chord', this.place());
      } else if (sign === ' ' || sign === '`' || (sign === '.' && /[-(]/.test(this.text.charAt(this.at + 1))))
        this.at += 1;
      else {
        // Signs inside the chord belong to the next of its heads, those before it to the whole.
        const outer = voice.marks;
        voice.marks = marks;
        const before = this.at;
        if (sign === '.') {
          voice.mark().articulations.push('staccato');
          this.at += 1;
        } else if (/["!+]/.test(sign)) this.enclosed(sign);
        else this.other(sign);
        if (this.at === before) this.at += 1;
        marks = voice.marks;
        voice.marks = outer;
      }
    }
    this.at += 1;
    return { reads, factor };
  }

  protected graces(): void {
    const close = this.lastBrace < this.at ? -1 : this.text.indexOf('}', this.at);
    if (close < 0) {
      this.unclosed('A group of grace notes');
      return;
    }
    const voice = this.voice;
    const outer = voice.marks;
    voice.marks = null;
    const spaced = voice.spaced;
    this.at += 1;
    const slash = this.text.charAt(this.at) === '/';
    if (slash) this.at += 1;
    const inner = this.text.slice(this.at, close);
    const single = (inner.replace(/\[[^\]]*\]/g, 'A').match(/[A-Ga-g]/g) ?? []).length < 2;
    const unit = F.fraction(1, this.tune.pipes ? 32 : single ? 8 : 16);
    let broken: Fraction = F.one;
    voice.spaced = true;
    while (this.at < close) {
      const sign = this.text.charAt(this.at);
      const place = this.place();
      const chord = sign === '[';
      if (chord || /[A-Ga-g^_=]/.test(sign)) {
        if (chord) this.at += 1;
        const read = chord
          ? this.heads(']')
          : { reads: [this.head(null, 0)].filter((one) => one !== null), factor: F.one };
        let factor = F.mul(F.mul(read.factor ?? F.one, this.factor()), broken);
        broken = F.one;
        const next = this.text.charAt(this.at);
        if (next === '>' || next === '<') {
          factor = F.mul(factor, next === '>' ? F.fraction(3, 2) : F.fraction(1, 2));
          broken = next === '>' ? F.fraction(1, 2) : F.fraction(3, 2);
          this.at += 1;
        }
        if (read.reads.length > 0) voice.notes(read.reads, F.mul(unit, factor), place, { slash });
      } else if (/[zxy]/.test(sign)) {
        notKept(this.tune.log, 'grace-rest', 'A rest among grace notes, which takes no time', place);
        this.at += 1;
      } else if (sign === '-') this.at += 1;
      else if (/["!+.()\s`]/.test(sign) || this.tune.letters.has(sign)) this.sign();
      else this.other(sign);
    }
    this.at = Math.max(this.at, close) + (this.text.charAt(this.at) === '}' ? 1 : 0);
    voice.marks = outer;
    voice.spaced = spaced;
  }

  /** Words, decorations, and chords as they were written once: "...", !...!, +...+. */
  protected enclosed(sign: '"' | '!' | '+' | (string & {})): void {
    const place = this.place();
    if (sign === '"') {
      const text = this.quoted();
      if (text !== null) decorate(this.tune, this.voice, `"${text}"`, place);
      return;
    }
    const tune = this.tune;
    const enclosed = sign === '!' ? /^!([^\s!|[\]:]{1,40})!/ : /^\+([^\s+|[\]:]{1,40})\+/;
    const name = enclosed.exec(this.text.slice(this.at, this.at + 44))?.[1] ?? null;
    if (sign === '!' && (name === null || tune.bangBreaks)) {
      this.at += 1;
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
      this.unreadable('"+" stands alone');
      this.at += 1;
      return;
    }
    const isName = sign === tune.decorationSign || (sign === '!' && !tune.bangBreaks);
    if (isName) {
      this.at += name.length + 2;
      decorate(tune, this.voice, `!${name}!`, place);
      return;
    }
    // Before ABC 1.6 "+CEG+" was a chord (section 10.2.3).
    this.at += 1;
    tune.log.tally(
      'note',
      'syntax-outdated',
      'plus',
      (many) =>
        `"+${name.slice(0, 20)}+" is an outdated way of writing (${many}); it is read as a chord or a decoration.`,
      { line: place.line },
    );
    if (/^(?:(?:\^\^?|__?|=)?[A-Ga-g][,']*[\d/]*)+$/.test(name)) {
      const { reads, factor } = this.heads('+');
      this.voice.notes(reads, tune.length(F.mul(factor ?? F.one, this.factor())), place);
    } else {
      this.at += name.length + 1;
      decorate(tune, this.voice, `!${name}!`, place);
    }
  }
}
