/**
 * How far off a chosen beginning may be, as one standard deviation whose normal intervals hold what they promise: from the scale
 * that the model of note beginnings gives it, from how sure it is and how far away its rivals lie, and from the take.
 * The weights are fitted to errors on sounds that the model had not been fitted to (training/onsets/fit.py).
 */
import { priorSpread } from './chain.ts';
import { spreadModel } from './spreadModel.ts';

/** A candidate as far as it matters here. */
export interface Rival {
  /** Seconds in the recording: where it is steepest, and the perceived beat that it would mean. */
  readonly at: number;
  readonly perceived: number;
  readonly odds: number;
}

export interface Known {
  readonly coarse: number;
  readonly rivals: readonly Rival[];
  readonly chosen: number;
  readonly repeated: boolean;
  readonly slurred: boolean;
  /** What surrounds the chosen one: other sound, floor, nearness of a click, its rise and what sounds besides it (features.ts). */
  readonly take: readonly number[];
  /** Natural logarithms of the model's scales in units of 10 ms. */
  readonly physicalLog: number;
  readonly perceivedLog: number;
}

/** What the weights are laid on; the same as `told` in fit.py. */
const toldOf = (
  { coarse, rivals, chosen, repeated, slurred, take }: Known,
  log: number,
): readonly number[] => {
  const own = rivals[chosen];
  if (own === undefined) return [1];
  const worth = rivals.map(({ at, odds }) => odds - 0.5 * ((at - coarse) / priorSpread) ** 2);
  const most = Math.max(...worth);
  let [total, square] = [0, 0];
  rivals.forEach(({ perceived }, c) => {
    const share = Math.exp((worth[c] ?? -Infinity) - most);
    total += share;
    square += share * (perceived - own.perceived) ** 2;
  });
  const apart = 1000 * Math.sqrt(square / total);
  return [
    1,
    log,
    Math.log1p(Math.exp(-own.odds)),
    Math.log1p(apart / 3),
    Math.min(2, Math.abs(own.at - coarse) / priorSpread),
    repeated ? 1 : 0,
    slurred ? 1 : 0,
    ...take,
  ];
};

const seconds = (weights: readonly number[], told: readonly number[]): number =>
  0.01 *
  Math.exp(
    Math.max(
      -5,
      Math.min(
        3,
        told.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0),
      ),
    ),
  );

/** Standard deviations in seconds of the physical start and of the perceived beat. */
export const deviationsOf = (known: Known): { readonly physical: number; readonly perceived: number } => ({
  physical: seconds(spreadModel.physical, toldOf(known, known.physicalLog)),
  perceived: seconds(spreadModel.perceived, toldOf(known, known.perceivedLog)),
});
