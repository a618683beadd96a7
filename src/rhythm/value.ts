/** Note values as musicians name them in figures: "1/4" a quarter, "1/4." a dotted quarter, "3/8" the same. */
import { beats, F, type Beats } from '../units/index.ts';

/** Reads "1/4", "1/4.", "1/2..", "3/4", "1". Null where it is none of them or not above zero. */
export const parseValue = (text: string): Beats | null => {
  const match = /^\s*(\d{1,4}(?:\/\d{1,4})?)(\.{0,3})\s*$/.exec(text);
  if (match === null) return null;
  const plain = F.parse(match[1] ?? '');
  if (plain === null || !F.isPositive(plain)) return null;
  return beats(F.mul(plain, dotFactor(match[2]?.length ?? 0)));
};

/** What dots make of a value: 1, 3/2, 7/4, 15/8. */
export const dotFactor = (dots: number): F.Fraction => F.fraction(2 ** (dots + 1) - 1, 2 ** dots);

/** "1/4", or with a dot where that is how it is written: 3/8 is "1/4.". Others as fractions. */
export const valueText = (value: Beats): string => {
  const halved = F.fraction(value.n, value.d * 3n);
  const base = F.mul(halved, F.fraction(2));
  return value.n === 3n && base.n === 1n ? `${F.format(base)}.` : F.format(value);
};
