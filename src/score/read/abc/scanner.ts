/** What every reader of a line of music does: it goes forward sign by sign and reads notes, lengths and texts. Source: ABC 2.1, section 4. */
import { F, type Fraction } from '../../../units/index.ts';
import type { Pitch } from '../../notes.ts';
import { readQuoted } from './decorate.ts';
import type { Marks } from './events.ts';
import type { Line } from './source.ts';
import type { Tune } from './tune.ts';
import { readFactor } from './values.ts';
import type { HeadRead, TextPlace } from './layer.ts';
import type { Voice } from './voice.ts';

const isStep = (letter: string): letter is Pitch['step'] => /^[A-G]$/.test(letter);

export class Scanner {
  protected readonly text: string;
  protected readonly tune: Tune;
  protected readonly line: Line;
  protected at = 0;
  /** Where the last closing signs of the line stand: behind them nothing is looked for again and again. */
  protected readonly lastBracket: number;
  protected readonly lastBrace: number;
  protected quoteOpen = false;

  constructor(text: string, line: Line, tune: Tune) {
    this.text = text;
    this.line = line;
    this.tune = tune;
    this.lastBracket = text.lastIndexOf(']');
    this.lastBrace = text.lastIndexOf('}');
  }

  protected get voice(): Voice {
    return this.tune.current;
  }

  protected place(at = this.at): TextPlace {
    return { line: this.line.line, column: this.line.column + at };
  }

  protected unreadable(what: string, at = this.at): void {
    this.tune.log.say('repair', 'music-unreadable', `${what}; it is passed over.`, this.place(at));
  }

  /** The rest of the line belongs to something that never ends. */
  protected unclosed(what: string): void {
    this.tune.log.say(
      'repair',
      'bracket-unclosed',
      `${what} begins here and does not end in its line; the sign is passed over.`,
      this.place(),
    );
    this.at += 1;
  }

  protected digits(): string {
    const from = this.at;
    while (this.at < this.text.length && /\d/.test(this.text.charAt(this.at))) this.at += 1;
    return this.text.slice(from, this.at);
  }

  /** The length behind a note, as a factor of the unit length. */
  protected factor(): Fraction {
    const from = this.at;
    while (this.at < this.text.length && /[\d/]/.test(this.text.charAt(this.at))) this.at += 1;
    const text = this.text.slice(from, this.at);
    const factor = readFactor(text);
    if (factor !== null) return factor;
    this.tune.log.say(
      'repair',
      'duration-out-of-range',
      `A note has the length "${text.slice(0, 30)}", which can not be; it lasts one unit.`,
      this.place(from),
    );
    return F.one;
  }

  protected lengthHere(): Fraction {
    return this.tune.length(this.factor());
  }

  /** Accidental, letter and octave signs; null where no note follows the accidental. */
  protected head(marks: Marks | null, slurStart: number): HeadRead | null {
    const from = this.at;
    let sign = '';
    while (/[\^_=]/.test(this.text.charAt(this.at)) && sign.length < 2) {
      if (sign !== '' && (sign !== this.text.charAt(this.at) || sign === '=')) break;
      sign += this.text.charAt(this.at);
      this.at += 1;
    }
    let alter: number | null = sign === '' ? null : 0;
    if (sign.startsWith('^')) alter = sign.length;
    if (sign.startsWith('_')) alter = -sign.length;
    // Quarter tones and the like, from the drafts of ABC 2.2: "^/c" is half of a sharp, "_3/2d" one and a half flats.
    if (sign === '^' || sign === '_') {
      const start = this.at;
      while (/[\d/]/.test(this.text.charAt(this.at)) && this.at - start < 8) this.at += 1;
      const part = this.at === start ? F.one : readFactor(this.text.slice(start, this.at));
      alter = (sign === '^' ? 1 : -1) * (part === null ? 1 : F.toNumber(part));
    }
    const letter = this.text.charAt(this.at);
    const upper = letter.toUpperCase();
    if (!isStep(upper)) {
      this.unreadable('An accidental stands before no note', from);
      return null;
    }
    this.at += 1;
    let octave = letter === upper ? 4 : 5;
    for (; ; this.at += 1) {
      const mark = this.text.charAt(this.at);
      if (mark === ',') octave -= 1;
      else if (mark === "'") octave += 1;
      else break;
    }
    return { letter: upper, octave, alter, marks, tie: false, slurStart, slurEnd: 0 };
  }

  /** A text in quotation marks; null, with a problem, where it does not end. */
  protected quoted(): string | null {
    const found = this.quoteOpen ? null : readQuoted(this.text, this.at);
    if (found === null) {
      this.quoteOpen = true;
      this.unclosed('A text in quotation marks');
      return null;
    }
    this.at = found.end;
    return found.text;
  }
}
