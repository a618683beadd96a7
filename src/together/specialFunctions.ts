/**
 * The integrals behind the t and chi-square distributions, by their published series and continued fractions.
 * "A&S" is Abramowitz & Stegun, Handbook of Mathematical Functions (1964); "DLMF" https://dlmf.nist.gov.
 */

/** Coefficients B(2k) / (2k (2k - 1)) of Stirling's series, A&S 6.1.41. */
const stirling = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360_360, 1 / 156];

/** Logarithm of the gamma function for x > 0: Stirling's series (A&S 6.1.41) above 15, recurrence (6.1.15) below. */
export const logGamma = (x: number): number => {
  let shifted = x;
  let product = 1;
  while (shifted < 15) {
    product *= shifted;
    shifted += 1;
  }
  const inverse = 1 / (shifted * shifted);
  let sum = 0;
  for (const coefficient of [...stirling].reverse()) sum = sum * inverse + coefficient;
  const value = (shifted - 0.5) * Math.log(shifted) - shifted + 0.5 * Math.log(2 * Math.PI) + sum / shifted;
  return value - Math.log(product);
};

const small = 1e-300;
const enough = 1e-15;

/** Steps after which a fraction or series is taken as it is; they settle in about the root of the largest argument. */
const steps = (size: number): number => 200 + 20 * Math.ceil(Math.sqrt(size));

/**
 * Lentz's way of a continued fraction b0 + a1/(b1 + a2/(b2 + ...)) (W. J. Lentz 1976, Appl Opt 15:668, with Thompson and
 * Barnett's guard against zero).
 */
const continued = (b0: number, term: (i: number) => readonly [number, number], most: number): number => {
  let value = b0 === 0 ? small : b0;
  let c = value;
  let d = 0;
  for (let i = 1; i <= most; i++) {
    const [a, b] = term(i);
    d = b + a * d;
    if (d === 0) d = small;
    c = b + a / c;
    if (c === 0) c = small;
    d = 1 / d;
    const change = c * d;
    value *= change;
    if (Math.abs(change - 1) < enough) break;
  }
  return value;
};

/** The regularised incomplete gamma function P(a, x), a > 0, x >= 0: series A&S 6.5.29, continued fraction 6.5.31. */
export const gammaP = (a: number, x: number): number => {
  if (x <= 0) return 0;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  const most = steps(a + x);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let i = 1; i <= most && term > sum * enough; i++) {
      term *= x / (a + i);
      sum += term;
    }
    return Math.min(1, front * sum);
  }
  const fraction = continued(x + 1 - a, (i) => [i * (a - i), x + 2 * i + 1 - a], most);
  return Math.max(0, 1 - front / fraction);
};

/** The regularised incomplete beta function I_x(a, b), a, b > 0, 0 <= x <= 1: continued fraction DLMF 8.17.22. */
export const betaI = (x: number, a: number, b: number): number => {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaI(1 - x, b, a);
  const front = Math.exp(
    a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b) - Math.log(a),
  );
  const term = (n: number): readonly [number, number] => {
    const m = Math.floor(n / 2);
    if (n % 2 === 0) return [(m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m)), 1];
    return [(-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1)), 1];
  };
  return front / continued(1, term, steps(a + b));
};
