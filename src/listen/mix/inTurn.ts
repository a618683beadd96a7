/** What is heard around each note of a long take, without holding that of all notes at once: 10 kB each. */
import { hearOthers, type HeardRows } from './features.ts';
import type { MixNote } from './types.ts';

/** Seconds within which others have a bearing on a note (features.ts). */
export const bearing = 0.2;

/** Notes that are looked at together. */
const atOnce = 256;

/**
 * Tells of each note in turn what is heard around it, with what covers it. `notes`: by time. `look`: what is heard around a note by itself; null where nothing can
 * be. It is asked once or twice for each.
 */
export const inTurn = (
  notes: readonly MixNote[],
  look: (k: number) => HeardRows | null,
  each: (k: number, heard: HeardRows | null) => void,
): void => {
  const timeOf = (k: number): number => notes[k]?.time ?? Infinity;
  for (let from = 0; from < notes.length; from += atOnce) {
    const to = Math.min(notes.length, from + atOnce);
    let [low, high] = [from, to];
    while (low > 0 && timeOf(low - 1) >= timeOf(from) - bearing) low -= 1;
    while (high < notes.length && timeOf(high) <= timeOf(to - 1) + bearing) high += 1;
    const some = notes.slice(low, high);
    const heard = some.map((_, i) => look(low + i));
    hearOthers(heard, some);
    for (let k = from; k < to; k += 1) each(k, heard[k - low] ?? null);
  }
};
