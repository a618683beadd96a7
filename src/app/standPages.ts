/** How systems are laid on the screens of the stand, and which screen belongs to what is heard. */
import type { LiveMarks, ScreenSystem } from '../desk/index.ts';

/** First system of a screen and the one after its last. */
export interface StandPage {
  readonly from: number;
  readonly to: number;
}

/**
 * As many systems to a screen as have room; each screen but the first begins with the last system of the one before, so
 * that the music being played is never turned away. One system at least, and no overlap where only one has room. `heights` and `room`:
 * of the same unit.
 */
export const standPages = (heights: readonly number[], room: number): readonly StandPage[] => {
  const pages: StandPage[] = [];
  let from = 0;
  while (from < heights.length) {
    let to = from + 1;
    let sum = heights[from] ?? 0;
    while (to < heights.length && sum + (heights[to] ?? 0) <= room) sum += heights[to++] ?? 0;
    pages.push({ from, to });
    if (to >= heights.length) break;
    from = to - from > 1 ? to - 1 : to;
  }
  return pages;
};

/**
 * For each bar of the first time through, in order, the system in which it stands. `systems` name their first and last
 * bars by printed numbers, which need not differ.
 */
export const systemsOfBars = (systems: readonly ScreenSystem[], marks: LiveMarks): readonly number[] => {
  const bars = marks.bars.filter(({ rep }) => rep === 1);
  const found: number[] = [];
  let system = systems.findIndex(({ from }) => from !== '');
  bars.forEach(({ number }, i) => {
    const next = systems[system + 1];
    const last = systems[system]?.to;
    // A system ends with its last bar; where numbers repeat, only where the next system's first bar follows.
    if (i > 0 && next !== undefined && bars[i - 1]?.number === last && number === next.from) system += 1;
    found.push(Math.max(0, system));
  });
  return found;
};

/**
 * Which stretches of a long page are wanted while a screen is seen: those on it and on the next, and one more as long as no
 * further screen is known. `systems`: of each stretch that is engraved from the beginning on, how many; `count`: of all stretches.
 */
export const wantedFor = (
  pages: readonly StandPage[],
  at: number,
  systems: readonly number[],
  count: number,
): readonly number[] => {
  const from = pages[at]?.from ?? 0;
  const to = (pages[at + 1] ?? pages[at])?.to ?? 0;
  let first = 0;
  const seen = systems.flatMap((own, i) => {
    const here = first < to && first + own > from;
    first += own;
    return here ? [i] : [];
  });
  const more = systems.length < count && at >= pages.length - 3;
  return more ? [...seen, systems.length] : seen;
};

/** The system that is heard at a sample of the drill: between repetitions that of the next one's first bar. */
export const systemAt = (marks: LiveMarks, ofBars: readonly number[], heard: number): number => {
  const rep = marks.ends.findIndex((end) => heard < end) + 1;
  const bars = marks.bars.filter((bar) => bar.rep === rep);
  const now = bars.findLastIndex(({ sample }) => sample <= heard);
  return ofBars[Math.max(0, now)] ?? 0;
};

/** The screen to be seen while a system is heard: as soon as it is the last of a screen, the next, which begins with it. */
export const pageFor = (pages: readonly StandPage[], system: number): number =>
  Math.max(
    0,
    pages.findLastIndex(({ from }) => from <= system),
  );
