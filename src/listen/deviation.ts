/**
 * How far off a chosen beginning may be, as one standard deviation whose normal intervals hold what they promise: from the scale
 * that the model of note beginnings gives it, from how sure it is and how far away its rivals lie, and from the take.
 * The weights are fitted to errors on sounds that the model had not been fitted to (training/onsets/fit.py).
 */
import { priorSpread, shiftOf } from './chain.ts';
import type { Measured } from './measured.ts';
import { spreadModel } from './spreadModel.ts';

/** A candidate as far as it matters here. */
export interface Rival {
  /** Seconds in the recording: where it is steepest, and the perceived beat that it would mean. */
  readonly at: number;
  readonly perceived: number;
  readonly odds: number;
}

export interface Known {
  /** Where it was expected (chain.ts). */
  readonly coarse: number;
  readonly line: number;
  readonly rivals: readonly Rival[];
  readonly chosen: number;
  readonly repeated: boolean;
  readonly slurred: boolean;
  /** What surrounds the chosen one: other sound, floor, nearness of a click, its rise and what sounds besides it (features.ts). */
  readonly take: readonly number[];
  /** Natural logarithms of the model's scales in units of 10 ms. */
  readonly physicalLog: number;
  readonly perceivedLog: number;
  /** Where they were measured and not estimated. */
  readonly physicalMeasured: Measured | null;
  readonly perceivedMeasured: Measured | null;
}

/** What the weights are laid on; the same as `told` in fit.py. */
const toldOf = (
  { coarse, line, rivals, chosen, repeated, slurred, take }: Known,
  log: number,
): readonly number[] => {
  const shift = (at: number): number => Math.abs(shiftOf({ coarse, line }, at));
  const own = rivals[chosen];
  if (own === undefined) return [1];
  const worth = rivals.map(({ at, odds }) => odds - 0.5 * (shift(at) / priorSpread) ** 2);
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
    Math.min(2, shift(own.at) / priorSpread),
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

/** The same of a measured moment; as `rows` in training/onsets/measured.py. */
const toldOfMeasured = (
  { margin, away }: Measured,
  log: number,
  take: readonly number[],
): readonly number[] => [1, log, Math.min(2, margin / 20), 100 * away, ...take];

/** Standard deviations in seconds of the physical start and of the perceived beat. */
export const deviationsOf = (known: Known): { readonly physical: number; readonly perceived: number } => {
  const { physicalLog, perceivedLog, physicalMeasured, perceivedMeasured, take } = known;
  return {
    physical:
      physicalMeasured === null
        ? seconds(spreadModel.physical, toldOf(known, physicalLog))
        : seconds(spreadModel.physicalMeasured, toldOfMeasured(physicalMeasured, physicalLog, take)),
    perceived:
      perceivedMeasured === null
        ? seconds(spreadModel.perceived, toldOf(known, perceivedLog))
        : seconds(spreadModel.perceivedMeasured, toldOfMeasured(perceivedMeasured, perceivedLog, take)),
  };
};
