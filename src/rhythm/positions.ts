/**
 * From written to played positions, to seconds, to samples, and back: exact pairs of inverse maps. A position on a bar
 * line belongs to the bar that begins there; only the very end belongs to the last bar.
 */
import type { PlayingOrder, Visit } from '../score/playing.ts';
import {
  F,
  beats,
  plus,
  samplesAt,
  secondsAt,
  type Beats,
  type Samples,
  type Seconds,
} from '../units/index.ts';
import { positionAtSeconds, secondsAtPosition, type TempoMap } from './tempo.ts';

/**
 * Played position of a written one, the `pass`-th time (from 1) that its bar is played. Null where the bar is not
 * played so often, or where no bar is.
 */
export const writtenToPlayed = (order: PlayingOrder, written: Beats, pass: number): Beats | null => {
  const atEnd = F.equal(written, order.writtenEnd);
  for (const visit of order.visits) {
    if (visit.pass !== pass || F.less(written, visit.written)) continue;
    const end = F.add(visit.written, visit.length);
    const inside = F.less(written, end) || (atEnd && F.equal(written, end));
    if (inside) return plus(visit.start, beats(F.sub(written, visit.written)));
  }
  return null;
};

/** Where in the score a played position stands, and in which playing of that bar. Null before the start and after the end. */
export const playedToWritten = (
  order: PlayingOrder,
  played: Beats,
): { visit: Visit; written: Beats } | null => {
  if (F.less(played, F.zero) || F.less(order.length, played)) return null;
  let low = 0;
  let high = order.visits.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const visit = order.visits[middle];
    if (visit !== undefined && F.atMost(visit.start, played)) low = middle;
    else high = middle - 1;
  }
  const visit = order.visits[low];
  if (visit === undefined) return null;
  return { visit, written: plus(visit.written, beats(F.sub(played, visit.start))) };
};

/** Exact time of a played position, from the start of the performance. */
export const playedToSeconds = (map: TempoMap, played: Beats): Seconds => secondsAtPosition(map, played);

/** The inverse of `playedToSeconds`; see `positionAtSeconds` for how exact. */
export const secondsToPlayed = (map: TempoMap, time: Seconds): Beats => positionAtSeconds(map, time);

/** The sample on which a played position falls. Rate in Hz. */
export const playedToSample = (map: TempoMap, played: Beats, rate: number): Samples =>
  samplesAt(secondsAtPosition(map, played), rate);

/** The played position of a sample: `playedToSample` gives the sample back. */
export const sampleToPlayed = (map: TempoMap, sample: Samples, rate: number): Beats =>
  positionAtSeconds(map, secondsAt(sample, rate));
