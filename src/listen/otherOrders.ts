/**
 * Whether a take is of this music at all: how much better the way through the score explains it than the best ways through the same onsets with their
 * pitches in other orders do. What a take of something else finds by chance, in its key and at its pace, these find too.
 */
import { seeded } from '../units/index.ts';
import type { Event } from './events.ts';
import type { Coarse } from './likeness.ts';
import { bestWay, type Expectation } from './path.ts';

/** How a take was laid on the score. */
export interface Laid {
  readonly coarse: Coarse;
  readonly events: readonly Event[];
  readonly expected: Expectation | null;
  readonly flowing: boolean;
  /** Log odds of its best way. */
  readonly worth: number;
  /** Whether an event lies within the recording. */
  readonly inside: (event: number) => boolean;
}

/** Share of onsets found from which on nobody need ask whether it is this music: takes of something else had .71 at most (tuning half of the bench). */
export const clearlyThis = 0.85;
/** With fewer onsets than this that another order changes nothing can be told (music of one pitch, the same forwards and backwards, very short). Our choice. */
const fewest = 10;

/** Backwards, and shuffled (Fisher and Yates; Knuth, The Art of Computer Programming 2, 3.4.2). */
const ordersOf = (count: number): readonly (readonly number[])[] => {
  const shuffled = Array.from({ length: count }, (_, i) => i);
  const random = seeded(1);
  for (let i = count - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    const [a, b] = [shuffled[i] ?? i, shuffled[j] ?? j];
    [shuffled[i], shuffled[j]] = [b, a];
  }
  return [Array.from({ length: count }, (_, i) => count - 1 - i), shuffled];
};

const pitchesOf = ({ midis, sounding }: Event): string =>
  (sounding ?? midis).toSorted((a, b) => a - b).join();

/**
 * Log odds for each onset that has other pitches in another order, against the better of the orders; around 0 or below: no better than chance. Null: too few
 * onsets change.
 */
export const aboveOtherOrders = ({
  coarse,
  events,
  expected,
  flowing,
  worth,
  inside,
}: Laid): number | null => {
  let least = Infinity;
  for (const order of ordersOf(events.length)) {
    const others = events.map((event, i): Event => {
      const { midis, sounding = midis, repeated } = events[order[i] ?? i] ?? event;
      return { ...event, midis, repeated, ...(event.sounding === undefined ? {} : { sounding }) };
    });
    const changed = events.filter((event, i) => {
      const other = others[i];
      return other !== undefined && inside(i) && pitchesOf(other) !== pitchesOf(event);
    }).length;
    if (changed < fewest) return null;
    least = Math.min(least, (worth - bestWay(coarse, others, expected, flowing).worth) / changed);
  }
  return least;
};
