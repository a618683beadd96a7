import { F, type Fraction } from '../../../units/index.ts';
import { noteTypes, type NoteType } from '../../notes.ts';

/** Decimal places kept where a fraction has no finite decimal: far below what a tempo can be heard or set to. */
const roundedPlaces = 12;
/** Most decimal places that are written where the decimal is finite. */
const mostPlaces = 40;

/** The fewest decimal places that hold the value exactly; null where it has no decimal as short as `mostPlaces`. */
const exactPlaces = ({ d }: Fraction): number | null => {
  let power = 1n;
  for (let places = 0; places <= mostPlaces; places++, power *= 10n) if (power % d === 0n) return places;
  return null;
};

/** A fraction above or at zero as a decimal, and whether that is exact. XML Schema decimals have no exponent. */
export const decimalText = (value: Fraction): { readonly text: string; readonly exact: boolean } => {
  const finite = exactPlaces(value);
  const places = finite ?? roundedPlaces;
  const scaled = F.mul(value, F.fraction(10n ** BigInt(places)));
  const digits = String(F.floor(F.add(scaled, F.fraction(1, 2)))).padStart(places + 1, '0');
  const rest = places === 0 ? '' : digits.slice(-places).replace(/0+$/, '');
  const whole = places === 0 ? digits : digits.slice(0, -places);
  return { text: rest === '' ? whole : `${whole}.${rest}`, exact: finite !== null };
};

/** A number such as an alteration as an XML Schema decimal: JavaScript's own text may hold an exponent. */
export const plainNumber = (value: number): string => {
  const text = String(value);
  return /^-?\d+(\.\d+)?$/.test(text) ? text : value.toFixed(6).replace(/\.?0+$/, '');
};

/** A drawn value: a note type with dots. */
export interface DrawnValue {
  readonly type: NoteType;
  readonly dots: number;
}

/** Length of each note type in whole notes: maxima 8, long 4, breve 2, whole 1, then halves. */
const lengths = noteTypes.map((type, index) => ({
  type,
  length: index < 4 ? F.fraction(2 ** (3 - index)) : F.fraction(1, 2 ** (index - 3)),
}));

/** Most dots that are tried; more than this nobody reads. */
const mostDots = 4;

/**
 * The values that, tied, last for `length`: one with or without dots where there is such a one, else the largest
 * first. Null where no tied values make it up, as with a third of a whole note.
 */
export const drawnValues = (length: Fraction): readonly DrawnValue[] | null => {
  const values: DrawnValue[] = [];
  let rest = length;
  for (const { type, length: plain } of lengths) {
    if (F.less(rest, plain)) continue;
    for (let dots = mostDots; dots >= 0; dots--) {
      const dotted = F.mul(plain, F.sub(F.fraction(2), F.fraction(1, 2 ** dots)));
      if (!F.equal(dotted, rest)) continue;
      values.push({ type, dots });
      return values;
    }
    // A double maxima would need two of the largest: not worth a rule of its own.
    values.push({ type, dots: 0 });
    rest = F.sub(rest, plain);
    if (!F.less(rest, plain)) return null;
  }
  return null;
};
