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

const has = (bar: Bar, kind: Jump['kind']): boolean => bar.jumps.some((jump) => jump.kind === kind);

/**
 * A movement ends at a final bar line, unless that bar line carries a repeat sign or a fine, or a coda or a further
 * ending follows, or a dal segno or to-coda reaches over it (common practice, no source).
 */
export const movements = (bars: readonly Bar[]): readonly Stretch[] => {
  const result: Stretch[] = [];
  const last = bars.length - 1;
  let from = 0;
  bars.forEach((bar, i) => {
    if (i < last && !endsMovement(bars, bar, i)) return;
    result.push({ from, to: i });
    from = i + 1;
  });
  return result;
};

const endsMovement = (bars: readonly Bar[], bar: Bar, i: number): boolean => {
  if (bar.barline !== 'final' || bar.repeatEnd > 0 || has(bar, 'fine')) return false;
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
