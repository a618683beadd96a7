/** How counts, lengths and figures stand in messages, so that they read as a person would say them. */
import * as F from './fraction.ts';
import type { Fraction } from './fraction.ts';

/** "1 note ends", "3 notes end": the count before the words for one, or for several. */
export const countText = (count: number, one: string, several: string): string =>
  `${count} ${count === 1 ? one : several}`;

/** A length in whole notes: "3/4 of a whole note", "a whole note", "24 whole notes". */
export const lengthText = (length: Fraction): string => {
  if (F.equal(length, F.one)) return 'a whole note';
  return `${F.format(length)} ${length.d === 1n ? 'whole notes' : 'of a whole note'}`;
};

/** Decimals that are still written out. */
const mostDecimals = 6;

/**
 * A figure as musicians write it, never as a fraction nor with an exponent: "92", "133.33"; with up to six decimals
 * exactly, and rounded to hundredths where more would be needed. What is not zero and rounds to it is "less than 0.01".
 */
export const figureText = (value: Fraction): string => {
  const negative = value.n < 0n;
  const size = negative ? F.sub(F.zero, value) : value;
  let places = 0;
  while (places < mostDecimals && 10n ** BigInt(places) % size.d !== 0n) places += 1;
  if (10n ** BigInt(places) % size.d !== 0n) places = 2;
  const scale = 10n ** BigInt(places);
  const scaled = F.floor(F.add(F.mul(size, F.fraction(scale)), F.fraction(1, 2)));
  if (scaled === 0n && value.n !== 0n) return negative ? 'between -0.01 and 0' : 'less than 0.01';
  const decimals = String(scaled % scale)
    .padStart(places, '0')
    .replace(/0+$/, '');
  const whole = `${negative ? '-' : ''}${String(scaled / scale)}`;
  return places === 0 || decimals === '' ? whole : `${whole}.${decimals}`;
};

const english = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
];
const german = [
  'erstes',
  'zweites',
  'drittes',
  'viertes',
  'fünftes',
  'sechstes',
  'siebtes',
  'achtes',
  'neuntes',
  'zehntes',
];
const endings: Readonly<Record<number, string>> = { 1: 'st', 2: 'nd', 3: 'rd' };

/** Which time through, from 1: "second time", "21st time". */
export const timeText = (time: number): string => {
  const teens = time % 100 > 10 && time % 100 < 14;
  return `${english[time - 1] ?? `${time}${teens ? 'th' : (endings[time % 10] ?? 'th')}`} time`;
};

/** The same in German: "zweites Mal", "21. Mal". */
export const timeTextGerman = (time: number): string => `${german[time - 1] ?? `${time}.`} Mal`;
