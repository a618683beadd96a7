/** What is heard around each note of a long take, without holding that of all notes at once: 10 kB each. */
import { hearOthers, type HeardRows } from './features.ts';
import type { MixNote } from './types.ts';

/** Seconds within which others have a bearing on a note (features.ts). */
const bearing = 0.2;

/** Notes that are looked at together. */
const atOnce = 256;

/** Marks those that have a bearing on note `k`, as `hearOthers` goes through them. Notes that the alignment put far off lie out of order. */
const markBearing = (notes: readonly MixNote[], k: number, wanted: Set<number>): void => {
  const time = notes[k]?.time ?? 0;
  const mark = (j: number, later: number): void => {
    if (later > -bearing) wanted.add(j);
  };
  wanted.add(k);
  for (let j = k - 1; j >= 0; j -= 1) {
    const earlier = time - (notes[j]?.time ?? -Infinity);
    if (earlier >= bearing) break;
    mark(j, earlier);
  }
  for (let j = k + 1; j < notes.length; j += 1) {
    const later = (notes[j]?.time ?? Infinity) - time;
    if (later >= bearing) break;
    mark(j, later);
  }
};

/**
 * Tells of each note in turn what is heard around it, with what covers it. `notes`: by time. `look`: what is heard around a note by itself; null where nothing can
 * be. It is asked once for each, and once more for those at the edge of what is looked at together.
 */
export const inTurn = (
  notes: readonly MixNote[],
  look: (k: number) => HeardRows | null,
  each: (k: number, heard: HeardRows | null) => void,
): void => {
  for (let from = 0; from < notes.length; from += atOnce) {
    const to = Math.min(notes.length, from + atOnce);
    const wanted = new Set<number>();
    for (let k = from; k < to; k += 1) markBearing(notes, k, wanted);
    const heard = notes.map((_, k) => (wanted.has(k) ? look(k) : null));
    hearOthers(heard, notes);
    for (let k = from; k < to; k += 1) each(k, heard[k] ?? null);
  }
};

/** Whether one of these times, which ascend, has a bearing on this one. */
export const isNear = (times: readonly number[], time: number): boolean => {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) < time - bearing) low = middle + 1;
    else high = middle;
  }
  return (times[low] ?? Infinity) <= time + bearing;
};
