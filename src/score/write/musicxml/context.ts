import { F, problem, type Fraction, type Place, type Problem, type Severity } from '../../../units/index.ts';
import { cleanText, type XmlLines } from '../xmlText.ts';

/** What every piece of the writer needs: where the lines go, where the problems go, which ids are taken. */
export class Context {
  readonly out: XmlLines;
  readonly problems: Problem[] = [];
  readonly #ids = new Set<string>();
  readonly #lines = new Set<string>();

  constructor(out: XmlLines) {
    this.out = out;
  }

  report(severity: Severity, code: string, message: string, place: Place = {}): void {
    this.problems.push(problem(severity, code, message, place));
  }

  /** Text without the characters that XML forbids, which are reported. `what` begins the sentence: "The title". */
  clean(text: string, what: string, place: Place = {}): string {
    const cleaned = cleanText(text);
    if (cleaned.removed > 0)
      this.report(
        'repair',
        'text-not-xml',
        `${what} held ${cleaned.removed} control character(s) that no XML file may hold: left out.`,
        place,
      );
    return cleaned.text;
  }

  /** The value where the standard's list has it, else `otherwise`, which is reported. `what`: "An accidental". */
  listed(value: string, list: ReadonlySet<string>, otherwise: string, what: string, place: Place): string {
    if (list.has(value)) return value;
    this.report(
      'note',
      'sign-not-standard',
      `${what} is called "${this.clean(value, what, place)}", which MusicXML does not know: ${otherwise === '' ? 'it was left out' : `written as "${otherwise}"`}.`,
      place,
    );
    return otherwise;
  }

  /** For lines of which the model tells the ends but not which is which: they begin and end by turns. */
  nextEnd(line: string): 'start' | 'stop' {
    if (this.#lines.delete(line)) return 'stop';
    this.#lines.add(line);
    return 'start';
  }

  /** Takes an id for an element: true where it is fit for XML and still free. */
  takeId(id: string): boolean {
    // A narrower pattern than the standard's NCName, which also allows other letters.
    if (!/^[A-Za-z_][\w.-]*$/.test(id) || this.#ids.has(id)) return false;
    this.#ids.add(id);
    return true;
  }

  /** The given id, or one like it that is fit and free. */
  makeId(wanted: string): string {
    const base = wanted.replace(/[^\w.-]/g, '_').replace(/^(?![A-Za-z_])/, '_');
    let id = base;
    for (let n = 2; !this.takeId(id); n++) id = `${base}-${n}`;
    return id;
  }
}

/** Divisions per quarter note in which every given position and length is whole: MusicXML 4.0, element divisions. */
export const divisionsFor = (values: Iterable<Fraction>): bigint => {
  const whole = F.commonDenominator(values);
  // In whole notes n/d there are 4n/d quarters: a factor of 4 in d is already paid for.
  return whole % 4n === 0n ? whole / 4n : whole % 2n === 0n ? whole / 2n : whole;
};

/** A length in divisions. */
export const inDivisions = (value: Fraction, divisions: bigint): bigint =>
  (value.n * 4n * divisions) / value.d;
