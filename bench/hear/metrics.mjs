/**
 * Figures of merit. Event matching as in the onset evaluation of mir_eval (Raffel et al. 2014, ISMIR): an estimate
 * matches a reference when they lie at most `window` apart (the edge counts), each takes part in one match at most, and
 * the number of matches is the greatest possible. F = 2PR / (P + R).
 */

/**
 * Pairs [reference, estimate] (indices) of a greatest matching. Both lists ascending. Taking, from the left, the first
 * estimate that lies in reach is greatest here, because every window is equally wide (Glover 1967, convex bipartite graphs; from memory);
 * the tests hold it against augmenting paths.
 */
export const matching = (references, estimates, window) => {
  const pairs = [];
  let e = 0;
  for (let r = 0; r < references.length; r += 1) {
    while (e < estimates.length && references[r] - estimates[e] > window + 1e-12) e += 1;
    if (e < estimates.length && estimates[e] - references[r] <= window + 1e-12) {
      pairs.push([r, e]);
      e += 1;
    }
  }
  return pairs;
};

/**
 * Pairs in order with the least total distance, where leaving a reference out costs `reach` and an estimate nothing:
 * who is meant by which onset. (A greatest matching says how many can be paired, not which belong together.)
 */
export const pairing = (references, estimates, reach) => {
  const [n, m] = [references.length, estimates.length];
  const cost = Array.from({ length: n + 1 }, () => new Float64Array(m + 1));
  for (let r = 1; r <= n; r += 1) {
    cost[r][0] = r * reach;
    for (let e = 1; e <= m; e += 1) {
      const away = Math.abs(references[r - 1] - estimates[e - 1]);
      const both = away <= reach ? cost[r - 1][e - 1] + away : Infinity;
      cost[r][e] = Math.min(both, cost[r - 1][e] + reach, cost[r][e - 1]);
    }
  }
  const pairs = [];
  for (let [r, e] = [n, m]; r > 0 && e > 0;) {
    if (cost[r][e] === cost[r][e - 1]) e -= 1;
    else if (cost[r][e] === cost[r - 1][e] + reach) r -= 1;
    else pairs.unshift([(r -= 1), (e -= 1)]);
  }
  return pairs;
};

/** F from counts; 0 where nothing was there to be right about, as mir_eval has it. */
export const fMeasure = ({ hits, references, estimates }) => {
  if (references === 0 || estimates === 0 || hits === 0) return 0;
  const precision = hits / estimates;
  const recall = hits / references;
  return (2 * precision * recall) / (precision + recall);
};

export const mean = (values) =>
  values.length === 0 ? NaN : values.reduce((sum, value) => sum + value, 0) / values.length;

/** Sample SD (n - 1). */
export const sd = (values) => {
  if (values.length < 2) return NaN;
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
};

/** Linear interpolation between order statistics (type 7 of Hyndman and Fan 1996). */
export const quantile = (values, q) => {
  if (values.length === 0) return NaN;
  const sorted = values.toSorted((a, b) => a - b);
  const at = q * (sorted.length - 1);
  const low = Math.floor(at);
  return sorted[low] + (at - low) * ((sorted[low + 1] ?? sorted[low]) - sorted[low]);
};
export const median = (values) => quantile(values, 0.5);

/** Slope of y on x through groups, each taken about its own means. */
export const slopeWithin = (groups) => {
  let xy = 0;
  let xx = 0;
  for (const { x, y } of groups) {
    const mx = mean(x);
    const my = mean(y);
    for (let k = 0; k < x.length; k += 1) {
      xy += (x[k] - mx) * (y[k] - my);
      xx += (x[k] - mx) ** 2;
    }
  }
  return xx === 0 ? NaN : xy / xx;
};

/**
 * Drift of tempo in percent a minute: a parabola t = a + b w + c w^2 through played against written seconds; the tempo
 * 1 / (b + 2 c w) changes by -2 c / b a second at first order.
 */
export const driftPercent = (writtenTimes, playedTimes) => {
  const shift = mean(writtenTimes);
  const w = writtenTimes.map((value) => value - shift);
  const moment = (p) => w.reduce((sum, value) => sum + value ** p, 0);
  const with_ = (p) => w.reduce((sum, value, k) => sum + value ** p * playedTimes[k], 0);
  const [s0, s1, s2, s3, s4] = [0, 1, 2, 3, 4].map(moment);
  const [m0, m1, m2] = [0, 1, 2].map(with_);
  const det = (a, b, c, d, e, f, g, h, i) => a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const all = det(s0, s1, s2, s1, s2, s3, s2, s3, s4);
  if (Math.abs(all) < 1e-12) return NaN;
  const b = det(s0, m0, s2, s1, m1, s3, s2, m2, s4) / all;
  const c = det(s0, s1, m0, s1, s2, m1, s2, s3, m2) / all;
  return ((-2 * c) / b) * 60 * 100;
};
