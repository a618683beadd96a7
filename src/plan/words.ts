/** Note values and players in words. */
import { F, type Beats, type Fraction } from '../units/index.ts';

/** As a drill writes it: "1/4", with a dot where that is how it is drawn: 3/8 is "1/4.". */
export const valueName = (value: Beats): string => {
  const halved = F.div(F.mul(value, F.fraction(2)), F.fraction(3));
  return value.n === 3n && halved.n === 1n ? `${F.format(halved)}.` : F.format(value);
};

const names: Readonly<Record<string, string>> = {
  '1/2': 'halves',
  '1/4': 'quarters',
  '1/8': 'eighths',
  '1/16': 'sixteenths',
  '1/32': 'thirty-seconds',
  '1/3': 'triplet halves',
  '1/6': 'triplet quarters',
  '1/12': 'triplet eighths',
  '1/24': 'triplet sixteenths',
  '1/48': 'triplet thirty-seconds',
};

/** "eighths", "triplet eighths". */
export const valuesText = (value: Beats): string => names[F.format(value)] ?? `notes of ${F.format(value)}`;

/** "A", "A and B", "A, B and C". */
export const listText = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1) ?? ''}`;

export const times = (count: number): string =>
  count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`;

/** Up to twelve in words, as one says them of beats and bars. */
const numbers = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const numberText = (count: number): string => numbers[count] ?? String(count);

const singles: Readonly<Record<string, string>> = {
  '2/1': 'double whole note',
  '1/1': 'whole note',
  '1/2': 'half note',
  '1/4': 'quarter note',
  '1/8': 'eighth note',
  '1/16': 'sixteenth note',
  '1/32': 'thirty-second note',
  '1/64': 'sixty-fourth note',
};

const article = (text: string): string => `${/^e/.test(text) ? 'an' : 'a'} ${text}`;

/** One note's name: "quarter note", "dotted quarter note", "triplet eighth"; null for a length that no single note has. */
const singleText = (length: Fraction): string | null => {
  const named = (value: Fraction): string | undefined => singles[`${value.n}/${value.d}`];
  const plain = named(length);
  if (plain !== undefined) return plain;
  const base = named(F.div(F.mul(length, F.fraction(2)), F.fraction(3)));
  if (base !== undefined) return `dotted ${base}`;
  const triplet = named(F.mul(length, F.fraction(3, 2)));
  return triplet === undefined ? null : `triplet ${triplet.replace(/ note$/, '')}`;
};

/** A length in whole notes as a musician says it: "an eighth note", "a dotted quarter note", "five sixteenths". */
export const lengthText = (length: Fraction): string => {
  const single = singleText(length);
  if (single !== null) return article(single);
  for (const [value, name] of Object.entries(names)) {
    const count = F.div(length, F.parse(value) ?? F.one);
    if (count.d === 1n) return `${numberText(Number(count.n))} ${name}`;
  }
  return `${F.format(length)} of a whole note`;
};

/** The value of a tempo mark without an article: "quarter", "dotted quarter". */
export const unitText = (unit: Fraction): string => singleText(unit)?.replace(/ note$/, '') ?? F.format(unit);

/**
 * How far apart two moments are, as players count it: whole bars, whole beats and halves of them, else a note value. `bar`: null
 * where bars differ in length.
 */
export const apartText = (length: Fraction, beat: Beats, bar: Beats | null): string => {
  const bars = bar === null ? null : F.div(length, bar);
  if (bars !== null && F.isPositive(bars) && bars.d === 1n)
    return bars.n === 1n ? 'a bar' : `${numberText(Number(bars.n))} bars`;
  const count = F.div(length, beat);
  if (count.d === 1n) return count.n === 1n ? 'a beat' : `${numberText(Number(count.n))} beats`;
  if (count.d === 2n && count.n > 1n) {
    const whole = Number(F.floor(count));
    return whole === 1 ? 'a beat and a half' : `${numberText(whole)} and a half beats`;
  }
  return lengthText(length);
};
