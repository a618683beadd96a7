import { F, note, type Beats } from '../units/index.ts';

/**
 * A metre as written. One component for 4/4 or 3+2/8; several for 2/4 + 3/8; none for music without metre.
 */
export interface Metre {
  readonly components: readonly MetreComponent[];
  /** How it is printed: as numbers, as C, as cut C. Cut C and 2/2 are counted alike. */
  readonly symbol: 'numbers' | 'common' | 'cut';
}

export interface MetreComponent {
  /** [4] for 4/4; [3, 2] for 3+2/8. Each above zero. */
  readonly numerators: readonly number[];
  /** The note value below: 4 for quarters. Above zero. */
  readonly unit: number;
}

export const metre = (numerator: number, unit: number, symbol: Metre['symbol'] = 'numbers'): Metre => ({
  components: [{ numerators: [numerator], unit }],
  symbol,
});

/** Music without metre (senza misura). */
export const noMetre: Metre = { components: [], symbol: 'numbers' };

/** Length of a full bar; null for music without metre. */
export const metreLength = (value: Metre): Beats | null => {
  if (value.components.length === 0) return null;
  const parts = value.components.flatMap(({ numerators, unit }) =>
    numerators.map((n) => F.fraction(n, unit)),
  );
  const { n, d } = parts.reduce(F.add, F.zero);
  return note(n, d);
};

/** "4/4", "3+2/8", "2/4+3/8"; "free" for music without metre. C is "4/4", cut C is "2/2". */
export const metreText = (value: Metre): string =>
  value.components.length === 0
    ? 'free'
    : value.components.map(({ numerators, unit }) => `${numerators.join('+')}/${unit}`).join('+');

/** Reads what `metreText` writes, and "C" and "cut". Null where it is none of them. */
export const parseMetre = (text: string): Metre | null => {
  const trimmed = text.trim();
  if (trimmed === 'free') return noMetre;
  if (trimmed === 'C') return metre(4, 4, 'common');
  if (trimmed === 'cut') return metre(2, 2, 'cut');
  if (!/^\d{1,3}(\+\d{1,3})*\/\d{1,3}(\+\d{1,3}(\+\d{1,3})*\/\d{1,3})*$/.test(trimmed)) return null;
  const components = [...trimmed.matchAll(/(\d+(?:\+\d+)*)\/(\d+)\+?/g)].map((match) => ({
    numerators: (match[1] ?? '').split('+').map(Number),
    unit: Number(match[2]),
  }));
  const positive = components.every(({ numerators, unit }) => unit > 0 && numerators.every((n) => n > 0));
  return positive ? { components, symbol: 'numbers' } : null;
};

export const sameMetre = (a: Metre, b: Metre): boolean =>
  metreText(a) === metreText(b) && a.symbol === b.symbol;
