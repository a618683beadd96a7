/** Numbers, lengths and note values as MusicXML 4.0 writes them. */
import { beats, F, Refusal, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import { noteTypes, type NoteType, type NoteValue } from '../../notes.ts';

/** xs:decimal, exactly; null where it is none. */
export const decimal = (text: string): Fraction | null => (text.includes('/') ? null : F.parse(text));

/** xs:integer within safe bounds; null where it is none. */
export const integer = (text: string): number | null => {
  if (!/^\s*[+-]?\d{1,9}\s*$/.test(text)) return null;
  return Number(text);
};

/** A whole number from `least` to `most`; null where it is none. */
export const integerWithin = (text: string, least: number, most: number): number | null => {
  const value = integer(text);
  return value === null || value < least || value > most ? null : value;
};

const isNoteType = (text: string): text is NoteType => noteTypes.some((type) => type === text);

/** Null for a value that the standard does not know. */
export const noteType = (text: string): NoteType | null => (isNoteType(text) ? text : null);

/** A maxima lasts 8 whole notes, each next type half of the one before; a dot adds half of what the last added. */
export const valueLength = ({ type, dots }: NoteValue): Beats => {
  const power = noteTypes.indexOf(type);
  const plain = F.fraction(8n, 1n << BigInt(power));
  // With n dots the length is (2 - 1/2^n) times the plain one.
  const factor = F.fraction((2n << BigInt(dots)) - 1n, 1n << BigInt(dots));
  return beats(F.mul(plain, factor));
};

/** Longest single duration that is believed, in whole notes: a slip of digits should not make a bar of hours. */
export const longestDuration: Fraction = F.fraction(1024);

/** Largest denominator of a position: real scores need fewer than ten digits. */
const finest = 10n ** 80n;

/**
 * Throws Refusal `divisions-absurd` where positions become so fine that only a file made to harm can mean it: thousands
 * of changes of divisions, each by another prime number, would make the fractions grow without end.
 */
export const refuseTooFine = (position: Fraction, place: Place): void => {
  if (position.d > finest)
    throw new Refusal(
      'divisions-absurd',
      'The file divides its quarters in so many different ways that no common unit of time can be found. It is damaged.',
      place,
    );
};

/**
 * Remembers what a text of divisions lasts, since a score repeats a handful of durations thousands of times.
 * A duration in divisions of a quarter: whole notes = duration / (4 x divisions).
 */
export const createLengths = () => {
  let divisions = F.one;
  let cache = new Map<string, Fraction | null>();
  return {
    set: (value: Fraction): void => {
      if (F.equal(value, divisions)) return;
      divisions = value;
      cache = new Map();
    },
    /** Whole notes, of any sign; null where the text is no number. */
    read: (text: string): Fraction | null => {
      const known = cache.get(text);
      if (known !== undefined) return known;
      const value = decimal(text);
      const length = value === null ? null : F.div(value, F.mul(divisions, F.fraction(4)));
      cache.set(text, length);
      return length;
    },
  };
};
export type Lengths = ReturnType<typeof createLengths>;
