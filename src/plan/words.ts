/** Note values and players in words. */
import { F, type Beats } from '../units/index.ts';

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
