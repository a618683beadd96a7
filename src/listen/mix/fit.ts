/** Whether one recording of all players is of this music. */
import { aboveOtherOrders, clearlyThis } from '../otherOrders.ts';
import { frameSeconds } from '../spectra.ts';
import type { Aligned } from './align.ts';

/** Likeness, 0 to 1, from which on what sounds is like what is written. */
const alike = 0.5;

/** Share of the onsets of all players that are found where something sounds like what is written. */
export const fitOf = ({ groups, placed, coarse }: Aligned, seconds: number): number => {
  const width = coarse.pitches.length;
  let [inside, good] = [0, 0];
  groups.forEach((group, i) => {
    const at = placed.times[i] ?? 0;
    if (at < 0 || at >= seconds) return;
    inside += 1;
    if (placed.visited[i] !== 1) return;
    const until = Math.min(placed.times[i + 1] ?? Infinity, at + Math.max(0.08, 0.6 * group.duration));
    const [from, to] = [Math.ceil((at + 0.02) / frameSeconds), Math.floor((until - 0.02) / frameSeconds)];
    let [sum, count] = [0, 0];
    for (let t = from; t <= Math.max(from, to) && t < coarse.frames; t += 1) {
      let square = 0;
      for (const midi of group.sounding)
        square += (coarse.likeness[t * width + coarse.pitches.indexOf(midi)] ?? 0) ** 2;
      [sum, count] = [sum + Math.min(1, Math.sqrt(square)), count + 1];
    }
    if (sum / Math.max(1, count) >= alike) good += 1;
  });
  return good / Math.max(1, inside);
};

/** How far the way lies above those through other orders (otherOrders.ts), in a recording of so many seconds; null: not looked at, or not to be told. */
export const aboveOf = (
  { coarse, groups, placed, onClock, worth }: Aligned,
  fit: number,
  seconds: number,
): number | null =>
  fit >= clearlyThis
    ? null
    : aboveOtherOrders({
        coarse,
        events: groups,
        expected: onClock,
        flowing: true,
        worth,
        inside: (i) => (placed.times[i] ?? -1) >= 0 && (placed.times[i] ?? 0) < seconds,
      });
