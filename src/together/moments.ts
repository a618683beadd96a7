/** Means, spreads and how values hang together with the next ones. No function here gives NaN: null says "too few". */

/** A sum with the rounding errors carried along (A. Neumaier 1974, ZAMM 54:39): exact to the last digits. */
export const total = (values: readonly number[]): number => {
  let sum = 0;
  let rest = 0;
  for (const value of values) {
    const next = sum + value;
    rest += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + rest;
};

/** Arithmetic mean; null of nothing. A second pass takes away what rounding left. */
export const mean = (values: readonly number[]): number | null => {
  if (values.length === 0) return null;
  const first = total(values) / values.length;
  return first + total(values.map((value) => value - first)) / values.length;
};

/** What is left of each value once the mean is taken away. */
export const centred = (values: readonly number[]): readonly number[] => {
  const middle = mean(values) ?? 0;
  return values.map((value) => value - middle);
};

const squares = (values: readonly number[]): number => total(values.map((value) => value * value));

/** Sample variance, divided by n - 1. Null for fewer than two values. */
export const variance = (values: readonly number[]): number | null =>
  values.length < 2 ? null : squares(centred(values)) / (values.length - 1);

/** Sample standard deviation. Null for fewer than two values. */
export const standardDeviation = (values: readonly number[]): number | null => {
  const spread = variance(values);
  return spread === null ? null : Math.sqrt(spread);
};

/**
 * Autocorrelation at a lag, the sum of products divided by the sum of squares (Box & Jenkins; NIST/SEMATECH e-Handbook
 * 1.3.5.12). Null where fewer values than lag + 2 are there or all are alike.
 */
export const autocorrelation = (values: readonly number[], lag: number): number | null => {
  if (values.length < lag + 2) return null;
  const rest = centred(values);
  const below = squares(rest);
  if (!(below > 0)) return null;
  const products = rest.slice(lag).map((value, i) => value * (rest[i] ?? 0));
  return total(products) / below;
};

/** Pearson's correlation of two columns of the same length. Null for fewer than three rows or where one never changes. */
export const correlation = (a: readonly number[], b: readonly number[]): number | null => {
  if (a.length !== b.length || a.length < 3) return null;
  const [x, y] = [centred(a), centred(b)];
  const below = Math.sqrt(squares(x) * squares(y));
  if (!(below > 0)) return null;
  return Math.max(-1, Math.min(1, total(x.map((value, i) => value * (y[i] ?? 0))) / below));
};

/**
 * The value below which the share p of the values lies, 0 <= p <= 1, straight between neighbours (Hyndman & Fan 1996,
 * Am Stat 50:361, definition 7). Null of nothing.
 */
export const sampleQuantile = (values: readonly number[], p: number): number | null => {
  const sorted = [...values].sort((a, b) => a - b);
  const place = Math.max(0, Math.min(1, p)) * (sorted.length - 1);
  const low = sorted[Math.floor(place)];
  const high = sorted[Math.ceil(place)];
  if (low === undefined || high === undefined) return null;
  return low + (high - low) * (place - Math.floor(place));
};

/** The middle value. Null of nothing. */
export const median = (values: readonly number[]): number | null => sampleQuantile(values, 0.5);
