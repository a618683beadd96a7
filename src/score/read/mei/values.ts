/** Numbers, note values and beat positions as MEI writes them. */
import { beats, F, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import { noteTypes, type NoteType, type NoteValue } from '../../notes.ts';
import type { Log } from '../drafts/log.ts';
import { valueLength } from '../drafts/values.ts';
import { attribute, type XmlElement } from '../xml.ts';

/** A whole number from `least` to `most`; null where the text is none. */
export const whole = (text: string, least: number, most: number): number | null => {
  if (!/^\s*[+-]?\d{1,9}\s*$/.test(text)) return null;
  const value = Number(text);
  return value < least || value > most ? null : value;
};

/** A plain decimal without exponent, exactly; null where the text is none. */
export const plainDecimal = (text: string): Fraction | null =>
  /^\s*[+-]?(\d{1,12}(\.\d{0,20})?|\.\d{1,20})\s*$/.test(text) ? F.parse(text) : null;

/** MEI 5, data.DURATION.cmn: "1" a whole note, "2" a half ... "2048", and "breve", "long" and "maxima". */
const durations = new Map<string, { readonly type: NoteType | null; readonly length: Fraction }>([
  ...noteTypes.map((type, index): [string, { type: NoteType; length: Fraction }] => [
    ['maxima', 'long', 'breve'][index] ?? String(2 ** (index - 3)),
    { type, length: valueLength({ type, dots: 0 }) },
  ]),
  // The model has no name for a value that short; its length holds.
  ['2048', { type: null, length: F.fraction(1, 2048) }],
]);

/** More dots than any note has. */
const mostDots = 8;

export interface Written {
  readonly value: NoteValue | null;
  readonly length: Fraction;
}

const known = new Map<string, Written>();

const written = (duration: string, dots: number): Written | null => {
  const key = `${duration} ${dots}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const plain = durations.get(duration);
  if (plain === undefined) return null;
  // With n dots the length is 2 - 1/2^n times the plain one.
  const factor = F.sub(F.fraction(2), F.fraction(1n, 1n << BigInt(dots)));
  const result: Written = {
    value: plain.type === null ? null : { type: plain.type, dots },
    length: F.mul(plain.length, factor),
  };
  known.set(key, result);
  return result;
};

/** A duration with its dots; null, with a problem, where it is no note value of common notation. */
export const readWritten = (duration: string, dotsText: string, log: Log, place: Place): Written | null => {
  const given = dotsText === '' ? 0 : whole(dotsText, 0, mostDots);
  if (given === null)
    log.say(
      'repair',
      'duration-out-of-range',
      `A note has "${dotsText.slice(0, 30)}" dots, which can not be; it is read without dots.`,
      place,
    );
  const result = written(duration, given ?? 0);
  if (result === null)
    log.say(
      'repair',
      'duration-unreadable',
      `A note has the duration "${duration.slice(0, 30)}", which is no note value; it is left out unless another tells its length.`,
      place,
    );
  return result;
};

/** The dots of an element: its attribute, else its `dot` children. */
export const dotsOf = (element: XmlElement): string => {
  const text = attribute(element, 'dots');
  if (text !== '') return text;
  const count = element.children.filter(({ name }) => name === 'dot').length;
  return count === 0 ? '' : String(count);
};

/** Positions in thirds and the like are written as rounded decimals: the simplest fraction that rounds so is meant. */
const meant = (value: Fraction, digits: number): Fraction => {
  if ((value.d & (value.d - 1n)) === 0n || digits < 3) return value;
  const tolerance = F.fraction(1n, 10n ** BigInt(digits));
  for (let d = 3n; d <= 96n; d += 1n) {
    const n = F.floor(F.add(F.mul(value, F.fraction(d)), F.fraction(1, 2)));
    const near = F.fraction(n, d);
    const away = F.sub(near, value);
    if (F.less(away.n < 0n ? F.sub(F.zero, away) : away, tolerance)) return near;
  }
  return value;
};

/**
 * A `tstamp` as a position from the bar's left edge in whole notes: beats of the metre's unit, counted from 1; "0" is the left bar
 * line (MEI Guidelines 5, 4.2.5 "Timestamps and Durations"). Null where it is no number.
 */
export const readTimestamp = (text: string, unit: number): Beats | null => {
  const value = plainDecimal(text);
  if (value === null || F.less(F.fraction(100_000), value)) return null;
  const digits = /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
  const at = F.sub(meant(value, digits), F.one);
  return beats(at.n < 0n ? F.zero : F.mul(at, F.fraction(1, unit)));
};

/** A `tstamp2` such as "1m+3": how many bar lines later, and the beat there. */
export const readEndTimestamp = (text: string): { readonly bars: number; readonly beat: string } | null => {
  const match = /^\s*(?:(\d{1,6})m\s*\+?\s*)?(\d{1,12}(?:\.\d{1,20})?)?\s*$/.exec(text);
  if (match === null || (match[1] === undefined && match[2] === undefined)) return null;
  return { bars: Number(match[1] ?? 0), beat: match[2] ?? '1' };
};

/** "1 2" as ["1", "2"]; empty for an empty text. */
export const tokens = (text: string): readonly string[] => text.split(/\s+/).filter((token) => token !== '');

/** Yes and no of MEI. */
export const isTrue = (text: string): boolean => text === 'true';
