import { F, type Fraction } from '../units/index.ts';

/** The largest whole number whose square is not above n >= 0. Newton's iteration on whole numbers. */
export const wholeRoot = (n: bigint): bigint => {
  if (n < 2n) return n;
  let x = 1n << BigInt(Math.ceil(n.toString(2).length / 2));
  for (;;) {
    const next = (x + n / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
};

/**
 * Square root of a fraction not below zero: exact where it is a fraction, else from below with a relative error under
 * 2^-96.
 */
export const squareRoot = (value: Fraction): Fraction => {
  const n = wholeRoot(value.n);
  const d = wholeRoot(value.d);
  if (n * n === value.n && d * d === value.d) return F.fraction(n, d);
  // sqrt(n/d) = sqrt(n d)/d; shifted so that the whole root below the line has at least 97 binary digits.
  const product = value.n * value.d;
  const missing = Math.max(0, 97 - Math.floor(product.toString(2).length / 2));
  const shift = BigInt(missing);
  return F.fraction(wholeRoot(product << (2n * shift)), value.d << shift);
};
