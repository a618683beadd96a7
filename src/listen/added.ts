/** Notes that are heard and not in the score. */
import type { Take } from './locate.ts';
import { listeningRate, type AddedNote } from './model.ts';
import { coarseHop, frameSeconds } from './spectra.ts';

/** dB below the loud parts of the take within which something counts as played. */
const loud = -20;
/** Suddenness from which on something new begins, and seconds that it has to last. */
const sudden = 1.2;
const shortest = 0.06;
/** Seconds on each side of an expected note in which a beginning belongs to that note. */
const own = 0.09;

/** Likeness above which a pitch is named. */
const clear = 0.6;

/** The key among the part's own pitches that a stretch resembles most; null where none is clear. */
const keyOf = ({ coarse }: Take, from: number, to: number): number | null => {
  const { pitches, likeness } = coarse;
  let [best, most] = [null as number | null, clear];
  pitches.forEach((midi, p) => {
    let sum = 0;
    for (let t = from; t < to; t += 1) sum += likeness[t * pitches.length + p] ?? 0;
    if (sum / Math.max(1, to - from) > most) [best, most] = [midi, sum / (to - from)];
  });
  return best;
};

/** Seconds in the recording. Only clear beginnings after a fall of the level and far from every expected note are told: noise, vibrato and echoes are none. What is slurred in is not found. */
export const addedNotes = (take: Take): readonly AddedNote[] => {
  const { coarse, located, placed, signal } = take;
  const starts = located.map(({ chosen, coarse: at }) => chosen?.perceived ?? at).sort((a, b) => a - b);
  const found: AddedNote[] = [];
  // Broken-off attempts are told by their number, not as added notes.
  const attempts = placed.abandoned.map(({ from, to }) => [from - 3, to + 3] as const);
  const first = (starts[0] ?? 0) - 0.2;
  const last = (starts.at(-1) ?? 0) + (located.at(-1)?.event.duration ?? 0);
  let next = 0;
  for (let t = 2; t + 3 < coarse.frames; t += 1) {
    const time = (t * coarseHop) / listeningRate;
    if (time < first || time > last || time > signal.length / listeningRate) continue;
    const flux = coarse.flux[t] ?? 0;
    const peak = flux >= sudden && flux >= (coarse.flux[t - 1] ?? 0) && flux > (coarse.flux[t + 1] ?? 0);
    if (!peak) continue;
    while (next < starts.length && (starts[next] ?? 0) < time - own) next += 1;
    if (Math.abs((starts[next] ?? Infinity) - time) <= own) continue;
    if (attempts.some(([from, to]) => t >= from && t < to)) continue;
    let end = t + 1;
    while (
      end < coarse.frames &&
      (coarse.level[end] ?? -99) > loud &&
      (starts[next] ?? Infinity) > end * frameSeconds
    )
      end += 1;
    const rise =
      Math.max(coarse.level[t + 1] ?? -99, coarse.level[t + 2] ?? -99) - (coarse.level[t - 2] ?? -99);
    if ((end - t) * frameSeconds < shortest || rise < 6) continue;
    found.push({ time, duration: (end - t) * frameSeconds, midi: keyOf(take, t + 1, end) });
    t = Math.min(end, t + 4);
  }
  return found;
};
