/** Numbers and lengths as MusicXML 4.0 writes them. */
import { F, type Fraction } from '../../../units/index.ts';

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
