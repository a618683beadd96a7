/**
 * Where one movement ends and the next begins within a score. MusicXML 4.0, sound: "Dacapo indicates to go back to
 * the beginning of the movement"; a repeat without a beginning does not reach back over a movement's end either.
 */
import type { Bar, Jump } from '../model.ts';

export interface Stretch {
  /** Bar indices, both included. */
  readonly from: number;
  readonly to: number;
}

const has = (bar: Bar, ...kinds: readonly Jump['kind'][]): boolean =>
  bar.jumps.some(({ kind }) => kinds.includes(kind));

/**
 * A movement begins (common practice, no source)
 *   - where the printed bar numbers begin again at 0 or 1, with the unnumbered upbeat before it;
 *   - after a final bar line, unless that carries a fine, or a repeat sign without a da capo or dal segno, or a coda
 *     or a further ending follows, or a dal segno or to-coda reaches over it.
 * A stretch with a fine but no jump belongs together with the next one whose da capo has no fine of its own.
 */
export const movements = (bars: readonly Bar[]): readonly Stretch[] => {
  const heads = restarts(bars);
  const result: Stretch[] = [];
  const last = bars.length - 1;
  let from = 0;
  bars.forEach((bar, i) => {
    if (i < last && !heads.has(i + 1) && !endsMovement(bars, bar, i)) return;
    const stretch = { from, to: i };
    from = i + 1;
    const before = result.at(-1);
    if (before === undefined || !waitsForDaCapo(bars, before) || !lacksFine(bars, stretch))
      result.push(stretch);
    else result[result.length - 1] = { from: before.from, to: i };
  });
  return result;
};

/** Bars with which the printed numbers begin again. */
const restarts = (bars: readonly Bar[]): ReadonlySet<number> => {
  const result = new Set<number>();
  let previous = 0;
  bars.forEach((bar, i) => {
    if (!/^\d{1,6}$/.test(bar.number)) return;
    const number = Number(bar.number);
    if (number <= 1 && previous >= 2) {
      const unnumbered = !/^\d/.test(bars[i - 1]?.number ?? '1');
      result.add(unnumbered && bars[i - 2]?.barline === 'final' ? i - 1 : i);
    }
    previous = number;
  });
  return result;
};

const endsMovement = (bars: readonly Bar[], bar: Bar, i: number): boolean => {
  if (bar.barline !== 'final' || has(bar, 'fine')) return false;
  if (bar.repeatEnd > 0 && !has(bar, 'daCapo', 'dalSegno')) return false;
  const next = bars[i + 1];
  if (next === undefined || has(next, 'coda')) return false;
  if (next.ending !== null && !next.ending.numbers.includes(1)) return false;
  const before = bars.slice(0, i + 1);
  const after = bars.slice(i + 1);
  const backwards = after.findIndex((b) => has(b, 'dalSegno'));
  const ownSegno = after.findIndex((b) => has(b, 'segno'));
  const reachesBack =
    backwards >= 0 && (ownSegno < 0 || ownSegno > backwards) && before.some((b) => has(b, 'segno'));
  const lastTo = before.findLastIndex((b) => has(b, 'toCoda'));
  const lastCoda = before.findLastIndex((b) => has(b, 'coda'));
  const reachesOn = lastTo >= 0 && lastCoda <= lastTo && after.some((b) => has(b, 'coda'));
  return !reachesBack && !reachesOn;
};

const barsOf = (bars: readonly Bar[], { from, to }: Stretch): readonly Bar[] => bars.slice(from, to + 1);

const waitsForDaCapo = (bars: readonly Bar[], stretch: Stretch): boolean => {
  const own = barsOf(bars, stretch);
  return own.some((bar) => has(bar, 'fine')) && !own.some((bar) => has(bar, 'daCapo', 'dalSegno'));
};

const lacksFine = (bars: readonly Bar[], stretch: Stretch): boolean => {
  const own = barsOf(bars, stretch);
  return own.some((bar) => has(bar, 'daCapo')) && !own.some((bar) => has(bar, 'fine', 'toCoda'));
};
