/** A complex number. */
export interface Complex {
  readonly re: number;
  readonly im: number;
}

/**
 * e^(re + i im), for |re|, |im| below about 10, to about 13 digits. Summed from its power series with plain sums, products and
 * quotients, which IEEE 754 fixes to the last bit. The language leaves the last bits of Math.sin, cos, exp and pow
 * open (ECMA-262, "implementation-approximated"), and the same drill must give the same bytes in every browser.
 */
export const exponential = (re: number, im: number): Complex => {
  let term = { re: 1, im: 0 };
  let sum = { re: 1, im: 0 };
  for (let k = 1; k <= 60; k += 1) {
    term = { re: (term.re * re - term.im * im) / k, im: (term.re * im + term.im * re) / k };
    sum = { re: sum.re + term.re, im: sum.im + term.im };
  }
  return sum;
};

/** The first `count` powers of z, from z^0 = 1: a rotation that shrinks, one step a sample. */
export const powers = (z: Complex, count: number): readonly Complex[] => {
  const result: Complex[] = [];
  let power: Complex = { re: 1, im: 0 };
  for (let n = 0; n < count; n += 1) {
    result.push(power);
    power = { re: power.re * z.re - power.im * z.im, im: power.re * z.im + power.im * z.re };
  }
  return result;
};
