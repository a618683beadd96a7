/**
 * Who follows whom in tempo: whether a player's long and short intervals come one note after the other's. In a pair that
 * leads and follows the correlation is high at one side only; where both adapt it is high at both (Repp & Keller 2008,
 * Psychol Res 72:79; Konvalinka et al. 2010, QJEP 63:2220).
 */
import { confidence, mapped, type Estimate } from './interval.ts';
import { around } from './interval.ts';
import { evenSteps, stepsOf, type Onset, type Place } from './model.ts';
import { correlation } from './moments.ts';
import { normalQuantile } from './quantiles.ts';

export interface Following {
  /** Correlation of intervals at the same place. */
  readonly together: Estimate | null;
  /** Correlation of the first's intervals with those of the second one note before: the first follows. */
  readonly firstFollows: Estimate | null;
  /** The other way round: the second follows. */
  readonly secondFollows: Estimate | null;
}

/** Pairs of intervals below which no correlation is told. */
const fewestForFollowing = 10;

/** Pearson's correlation with Fisher's interval (R. A. Fisher 1921): atanh r is normal with variance 1 / (n - 3). */
export const correlationEstimate = (a: readonly number[], b: readonly number[]): Estimate | null => {
  const value = correlation(a, b);
  if (value === null) return null;
  const z = normalQuantile((1 + confidence) / 2);
  const free = a.length - 3;
  if (z === null || free < 1 || Math.abs(value) === 1) return { value, ci95: null };
  return { value, ci95: mapped(around(Math.atanh(value), z / Math.sqrt(free)), Math.tanh) };
};

/** Correlations of evenly spaced intervals of two players at lags -1, 0 and 1; each null for fewer than ten pairs. */
export const following = (
  first: readonly Onset[],
  second: readonly Onset[],
  places: readonly Place[],
): Following => {
  const both = [first, second].map((onsets) => evenSteps(stepsOf(onsets, places)));
  const [a, b] = both;
  const none = { together: null, firstFollows: null, secondFollows: null };
  if (a === null || b === null || a === undefined || b === undefined) return none;
  if (Math.abs(a.beats - b.beats) > 1e-3) return none;
  const tick = a.beats;
  const keyed = (steps: typeof a.steps): ReadonlyMap<number, number> =>
    new Map(steps.map(({ middle, seconds }) => [Math.round((middle / tick) * 100), seconds]));
  const [mine, theirs] = [keyed(a.steps), keyed(b.steps)];
  const at = (lag: number): Estimate | null => {
    const pairs = [...mine].flatMap(([key, seconds]) => {
      const other = theirs.get(key - 100 * lag);
      return other === undefined ? [] : [[seconds, other] as const];
    });
    if (pairs.length < fewestForFollowing) return null;
    return correlationEstimate(
      pairs.map(([x]) => x),
      pairs.map(([, y]) => y),
    );
  };
  return { together: at(0), firstFollows: at(1), secondFollows: at(-1) };
};
