/** From estimates of src/together to the figures of a reading. */
import type { Estimate } from '../together/interval.ts';
import type { Figure, ReadingClock } from './reading.ts';

export interface FigureOptions {
  /** What the estimate's unit is multiplied by; 1 if nothing is said. */
  readonly times?: number;
  /** Half width of a 95 % interval, in the figure's unit, that comes on top whatever the number of notes. */
  readonly more?: number;
  /** The figure's least value. */
  readonly least?: number;
}

/** An estimate as a figure. */
export const figure = (
  { value, ci95 }: Estimate,
  { times = 1, more = 0, least = -Infinity }: FigureOptions = {},
): Figure => {
  const middle = value * times;
  if (ci95 === null) return { value: middle, low: null, high: null };
  const low = middle - Math.hypot(middle - ci95.low * times, more);
  return {
    value: middle,
    low: Math.max(least, low),
    high: middle + Math.hypot(ci95.high * times - middle, more),
  };
};

export const figureOrNull = (
  estimate: Estimate | null | undefined,
  options: FigureOptions = {},
): Figure | null => (estimate === null || estimate === undefined ? null : figure(estimate, options));

/** Milliseconds in a second. */
export const ms = 1000;

const ofThese = (parts: readonly string[], clocks: readonly ReadingClock[]): readonly ReadingClock[] =>
  clocks.filter(({ part }) => parts.includes(part));

/** Whether these players were heard through one microphone. */
const oneMicrophone = (parts: readonly string[], clocks: readonly ReadingClock[]): boolean => {
  const own = ofThese(parts, clocks);
  return own.length > 1 && own.every(({ lagError }) => lagError !== undefined);
};

/** Whether these players' recordings lie on one clock: by the click, or because they are one recording. */
export const joined = (parts: readonly string[], clocks: readonly ReadingClock[]): boolean =>
  oneMicrophone(parts, clocks) || ofThese(parts, clocks).every(({ by }) => by === 'clicks');

/**
 * Seconds, one standard deviation: how differently two instruments' beginnings may be perceived, after the model has
 * done its part. Not calibrated for a pair of players; our estimate from rendered material.
 */
export const lagError = 0.002;

/** Seconds, one standard deviation: by how much all beginnings of a player may be off together. One recording has one clock: what is not known of it is the same for all in it. */
const ownError = ({ lagError: lag, offsetError }: ReadingClock): number => lag ?? offsetError;

/** Seconds, one standard deviation: what a beginning's own uncertainty leaves out, which holds its recording's clock but not how this player's beginnings are heard. */
export const perceptionError = (part: string, clocks: readonly ReadingClock[]): number =>
  Math.hypot(lagError, ofThese([part], clocks)[0]?.lagError ?? 0);

/** Milliseconds, half of a 95 % interval: what no number of notes makes smaller when these players are held against each other, or one against the click. */
export const systematic = (parts: readonly string[], clocks: readonly ReadingClock[]): number =>
  1.96 * ms * Math.hypot(...ofThese(parts, clocks).map(ownError), lagError);

/** The same of one player held against the middle of all these, that player among them. */
export const systematicFromMiddle = (
  part: string,
  parts: readonly string[],
  clocks: readonly ReadingClock[],
): number => {
  const k = parts.length;
  const shares = ofThese(parts, clocks).map(
    (clock) => (clock.part === part ? 1 - 1 / k : 1 / k) * Math.hypot(ownError(clock), lagError / Math.SQRT2),
  );
  return 1.96 * ms * Math.hypot(...shares);
};

/**
 * Seconds, one standard deviation: by how much the ends heard of one player's notes may all lie too early or too late, for an instrument rings off and a room
 * rings on in its own way, and the end is heard where the level has fallen by 20 dB. Our estimate from rendered material.
 */
const endError = 0.01;

/**
 * Half of a 95 % interval, in shares of the time to the next note: what no number of notes makes smaller of a length, or of two players' lengths held against
 * each other. `step`: seconds to the next note.
 */
export const systematicLength = (step: number, players: 1 | 2): number =>
  step > 0 ? (1.96 * endError * Math.sqrt(players)) / step : 0;
