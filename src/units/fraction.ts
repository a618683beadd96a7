/**
 * Exact fractions. Musical time is kept in these, so that nothing drifts; see design section 6. Numerator and
 * denominator are big integers because sums over many tempi leave the range of safe integers.
 */
export interface Fraction {
  readonly n: bigint;
  /** Always positive; n and d have no common factor. */
  readonly d: bigint;
}

const gcd = (a: bigint, b: bigint): bigint => {
  let x = a < 0n ? -a : a;
  let y = b;
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
};

const reduced = (n: bigint, d: bigint): Fraction => {
  if (d === 0n) throw new RangeError('A fraction has no zero below the line.');
  const divisor = gcd(n, d < 0n ? -d : d) * (d < 0n ? -1n : 1n);
  return { n: n / divisor, d: d / divisor };
};

/** n/d in lowest terms. Throws RangeError for d = 0 or for numbers that are not whole. */
export const fraction = (n: bigint | number, d: bigint | number = 1): Fraction =>
  reduced(BigInt(n), BigInt(d));

export const zero: Fraction = fraction(0);
export const one: Fraction = fraction(1);

export const add = (a: Fraction, b: Fraction): Fraction =>
  a.d === b.d ? reduced(a.n + b.n, a.d) : reduced(a.n * b.d + b.n * a.d, a.d * b.d);
export const sub = (a: Fraction, b: Fraction): Fraction =>
  a.d === b.d ? reduced(a.n - b.n, a.d) : reduced(a.n * b.d - b.n * a.d, a.d * b.d);
export const mul = (a: Fraction, b: Fraction): Fraction => reduced(a.n * b.n, a.d * b.d);
/** a / b. Throws RangeError where b is zero. */
export const div = (a: Fraction, b: Fraction): Fraction => reduced(a.n * b.d, a.d * b.n);

/** Negative, zero or positive as a is before, at or after b: fit for Array.sort. */
export const compare = (a: Fraction, b: Fraction): number => {
  const left = a.n * b.d;
  const right = b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
};
export const equal = (a: Fraction, b: Fraction): boolean => a.n === b.n && a.d === b.d;
export const less = (a: Fraction, b: Fraction): boolean => compare(a, b) < 0;
export const atMost = (a: Fraction, b: Fraction): boolean => compare(a, b) <= 0;
export const min = (a: Fraction, b: Fraction): Fraction => (less(b, a) ? b : a);
export const max = (a: Fraction, b: Fraction): Fraction => (less(a, b) ? b : a);
export const isZero = (a: Fraction): boolean => a.n === 0n;
export const isPositive = (a: Fraction): boolean => a.n > 0n;

/** The largest whole number not above a. */
export const floor = (a: Fraction): bigint => {
  const quotient = a.n / a.d;
  return a.n < 0n && a.n % a.d !== 0n ? quotient - 1n : quotient;
};

/** What is left of a after taking b as often as it goes in: 0 <= result < b, for b > 0. */
export const modulo = (a: Fraction, b: Fraction): Fraction => sub(a, mul(b, fraction(floor(div(a, b)))));

/** Nearest double. */
export const toNumber = (a: Fraction): number => {
  const n = Number(a.n);
  const d = Number(a.d);
  if (Number.isSafeInteger(n) && Number.isSafeInteger(d)) return n / d;
  // Keep 64 bits of the quotient, so that huge terms neither overflow nor lose their leading digits.
  const shift = BigInt(Math.max(0, a.d.toString(2).length - a.n.toString(2).length + 66));
  const scaled = Number((a.n << shift) / a.d);
  return scaled / 2 ** Number(shift);
};

/** "3/8", or "2" for whole numbers. */
export const format = (a: Fraction): string => (a.d === 1n ? String(a.n) : `${String(a.n)}/${String(a.d)}`);

/** Reads "3/8", "2", "-1/4" and decimals such as "133.33" or "+0.5e1", exactly. Null where it is none of them. */
export const parse = (text: string): Fraction | null => {
  const ratio = /^\s*([+-]?\d{1,40})\s*\/\s*(\d{1,40})\s*$/.exec(text);
  if (ratio !== null) {
    const d = BigInt(ratio[2] ?? '0');
    return d === 0n ? null : fraction(BigInt(ratio[1] ?? '0'), d);
  }
  const decimal = /^\s*([+-]?)(\d{0,40})(?:\.(\d{0,40}))?(?:[eE]([+-]?\d{1,2}))?\s*$/.exec(text);
  if (decimal === null) return null;
  const [, sign, whole = '', rest = '', exponent = '0'] = decimal;
  if (whole === '' && rest === '') return null;
  const digits = BigInt(whole + rest) * (sign === '-' ? -1n : 1n);
  const power = Number(exponent) - rest.length;
  return power >= 0 ? fraction(digits * 10n ** BigInt(power)) : fraction(digits, 10n ** BigInt(-power));
};

/** Least common multiple of the denominators. */
export const commonDenominator = (values: Iterable<Fraction>): bigint => {
  let result = 1n;
  for (const { d } of values) result = (result / gcd(result, d)) * d;
  return result;
};
