/** Quantiles, moments, lines: against tables and certified figures. */
import { describe, expect, it } from 'vitest';
import { leastSquares, line } from '../../src/together/leastSquares.ts';
import {
  autocorrelation,
  correlation,
  mean,
  median,
  sampleQuantile,
  standardDeviation,
  variance,
} from '../../src/together/moments.ts';
import { chiSquareQuantile, normalQuantile, studentQuantile } from '../../src/together/quantiles.ts';
import { logGamma } from '../../src/together/specialFunctions.ts';
import { lew, mavro, norris, numAcc } from './nist.ts';
import { normals, times } from './simulate.ts';

/** How many digits agree: the "log relative error" of NIST. */
const digits = (seen: number | null | undefined, truth: number): number =>
  seen === null || seen === undefined
    ? 0
    : seen === truth
      ? 17
      : -Math.log10(Math.abs(seen - truth) / Math.abs(truth));

describe('quantiles', () => {
  // NIST/SEMATECH e-Handbook 1.3.6.7.2 and 1.3.6.7.4, three decimals (from memory).
  it.each([
    [0.9, 1, 3.078],
    [0.95, 2, 2.92],
    [0.975, 1, 12.706],
    [0.975, 2, 4.303],
    [0.975, 5, 2.571],
    [0.975, 10, 2.228],
    [0.975, 30, 2.042],
    [0.975, 100, 1.984],
    [0.995, 5, 4.032],
    [0.995, 30, 2.75],
  ])('t %d with %d degrees is %d in the table', (p, df, table) => {
    expect(studentQuantile(p, df)).toBeCloseTo(table, 3);
    expect(studentQuantile(1 - p, df)).toBeCloseTo(-table, 3);
  });

  it.each([
    [0.95, 1, 3.841],
    [0.975, 1, 5.024],
    [0.99, 5, 15.086],
    [0.975, 10, 20.483],
    [0.025, 10, 3.247],
    [0.95, 30, 43.773],
    [0.975, 100, 129.561],
    [0.025, 100, 74.222],
  ])('chi-square %d with %d degrees is %d in the table', (p, df, table) => {
    expect(chiSquareQuantile(p, df)).toBeCloseTo(table, 3);
  });

  it('agrees with another program in eleven digits, for degrees that are not whole and large ones too', () => {
    // SciPy 1.17.1: scipy.stats.t.ppf and chi2.ppf.
    const t = [
      [1, 12.706204736174694],
      [10, 2.228138851986274],
      [852, 1.9627522328330027],
      [0.7, 36.611415031588656],
    ] as const;
    for (const [df, truth] of t) expect(digits(studentQuantile(0.975, df), truth)).toBeGreaterThan(11);
    const chi = [
      [0.025, 1, 0.0009820691171752555],
      [0.975, 10, 20.483177350807388],
      [0.025, 100, 74.22192747492373],
      [0.975, 852.3, 935.0979781171537],
      [0.025, 1e6, 997230.0871432901],
      [0.025, 0.5, 5.27320259125999e-7],
    ] as const;
    for (const [p, df, truth] of chi) expect(digits(chiSquareQuantile(p, df), truth)).toBeGreaterThan(9.5);
    expect(digits(normalQuantile(0.975), 1.959963984540054)).toBeGreaterThan(12);
    expect(normalQuantile(0.5)).toBe(0);
  });

  it('has the factorials in its gamma function', () => {
    let factorial = 1;
    for (let n = 1; n < 20; n++) {
      factorial *= n;
      expect(Math.exp(logGamma(n + 1)) / factorial).toBeCloseTo(1, 12);
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
  });

  it('gives nothing where there is nothing to give', () => {
    for (const [p, df] of [
      [0, 5],
      [1, 5],
      [NaN, 5],
      [0.5, 0],
      [0.9, -1],
      [0.9, Infinity],
      [0.9, NaN],
    ] as const) {
      expect(studentQuantile(p, df)).toBeNull();
      expect(chiSquareQuantile(p, df)).toBeNull();
    }
    expect(normalQuantile(0)).toBeNull();
  });
});

describe('moments', () => {
  // NIST StRD, univariate: certified figures.
  it.each([
    ['Lew', lew, -177.435, 277.332168044316, -0.307304800605679, 13],
    ['Mavro', mavro, 2.001856, 0.000429123454003053, 0.937989183438248, 11],
    ['NumAcc1', [10000001, 10000003, 10000002], 10000002, 1, -0.5, 15],
    ['NumAcc2', numAcc('1.2', '1.1', '1.3'), 1.2, 0.1, -0.999, 13],
    ['NumAcc3', numAcc('1000000.2', '1000000.1', '1000000.3'), 1000000.2, 0.1, -0.999, 8],
    ['NumAcc4', numAcc('10000000.2', '10000000.1', '10000000.3'), 10000000.2, 0.1, -0.999, 7],
  ])('%s', (_, values, certifiedMean, certifiedSd, certifiedR, wanted) => {
    expect(digits(mean(values), certifiedMean)).toBeGreaterThan(14);
    expect(digits(standardDeviation(values), certifiedSd)).toBeGreaterThan(wanted);
    expect(digits(autocorrelation(values, 1), certifiedR)).toBeGreaterThan(wanted);
  });

  it('says "too few" instead of NaN', () => {
    expect([mean([]), median([]), variance([1]), standardDeviation([]), autocorrelation([1, 2], 1)]).toEqual([
      null,
      null,
      null,
      null,
      null,
    ]);
    expect(autocorrelation([3, 3, 3, 3], 1)).toBeNull();
    expect(correlation([1, 2, 3], [2, 2, 2])).toBeNull();
    expect(correlation([1, 2, 3], [2, 4, 6])).toBe(1);
  });

  it('takes quantiles straight between neighbours', () => {
    // Hyndman & Fan 1996, definition 7: worked by hand.
    expect(sampleQuantile([4, 1, 3, 2], 0.25)).toBe(1.75);
    expect(median([4, 1, 3, 2])).toBe(2.5);
  });
});

describe('lines', () => {
  it('agrees with the certified regression of Norris', () => {
    const fit = line(norris.x, norris.y);
    expect(digits(fit?.slope.value, 1.00211681802045)).toBeGreaterThan(13);
    expect(digits(fit?.slopeError, 0.429796848199937e-3)).toBeGreaterThan(12);
    expect(digits(fit?.intercept.value, -0.262323073774029)).toBeGreaterThan(11);
    expect(digits(fit?.interceptError, 0.232818234301152)).toBeGreaterThan(12);
    expect(digits(fit?.residualSd, 0.884796396144373)).toBeGreaterThan(12);
    expect(fit?.df).toBe(34);
    // slope ± t(0.975, 34) s with t = 2.032 (table).
    expect((fit?.slope.ci95?.high ?? 0) - (fit?.slope.value ?? 0)).toBeCloseTo(2.0322 * 0.4298e-3, 6);
  });

  it('predicts with an interval that covers', () => {
    const normal = normals(11);
    const x = times(12, (i) => i);
    let held = 0;
    for (let i = 0; i < 2000; i++) {
      const seen = line(
        x,
        x.map((at) => 3 + 2 * at + normal()),
      )?.predict(14);
      const next = 3 + 28 + normal();
      const { low = 0, high = 0 } = seen?.ci95 ?? {};
      if (low <= next && next <= high) held += 1;
    }
    expect(held / 2000).toBeGreaterThan(0.935);
    expect(held / 2000).toBeLessThan(0.965);
  });

  it('has no line through one place, nor columns that depend on one another', () => {
    expect(line([1, 1, 1], [1, 2, 3])).toBeNull();
    expect(line([1], [1])).toBeNull();
    expect(
      leastSquares(
        [
          [1, 1, 1],
          [2, 2, 2],
        ],
        [1, 2, 3],
      ),
    ).toBeNull();
    const two = line([0, 1], [0, 2])?.slope;
    expect(two?.value).toBeCloseTo(2, 12);
    expect(two?.ci95).toBeNull();
  });
});
