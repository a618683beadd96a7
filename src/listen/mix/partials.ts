/** The partials of a note that stand clear of what the others play, each in the shortest window in which it does. */
import { followPartial } from '../gaussian.ts';
import { nearestPartial } from './around.ts';

/** Seconds: spreads of the Gaussian windows that can be had. */
const spreads = [0.003, 0.006, 0.012, 0.024] as const;
/** A Gaussian window of spread s passes what lies 0.48/s beside it 40 dB softer; half that far, 10 dB. */
const clear = 0.4;
const mostPartials = 8;
const highest = 8000;

export interface ClearPartial {
  readonly h: number;
  readonly spread: number;
  /** Mean square at each frame. */
  readonly energy: Float64Array;
}

/** Which partials, in which windows. */
export const clearWindows = (
  hertz: number,
  others: readonly number[],
): readonly { readonly h: number; readonly spread: number }[] => {
  const found: { h: number; spread: number }[] = [];
  for (let h = 1; h <= mostPartials && h * hertz < highest; h += 1) {
    const away = nearestPartial(h * hertz, others);
    const spread = spreads.find((s) => away >= clear / s && hertz >= (0.7 * clear) / s);
    if (spread !== undefined) found.push({ h, spread });
  }
  return found;
};

/** Their energies over `count` fine frames from sample `first` on. */
export const clearPartials = (
  signal: Float32Array,
  first: number,
  count: number,
  hertz: number,
  others: readonly number[],
): readonly ClearPartial[] =>
  clearWindows(hertz, others).map(({ h, spread }) => ({
    h,
    spread,
    energy: followPartial(signal, first, count, h * hertz).energy(spread),
  }));
