/**
 * Numbers of bars. A bar line carries the number of the bar that it begins; notes before the first bar line are an upbeat
 * (Humdrum User's Guide, chapter 2). What stands between is worked out here.
 */
import { F, type Fraction } from '../../../units/index.ts';
import { metreLength, type Metre } from '../../metre.ts';
import type { Log } from '../drafts/log.ts';

export interface RawBar {
  /** From its bar line; empty without one. */
  readonly number: string;
  /** Whether a bar line stands at its beginning. */
  readonly barred: boolean;
  readonly length: Fraction;
  readonly metre: Metre | null;
}

interface Numbered {
  readonly number: string;
  readonly implicit: boolean;
}

const whole = (number: string): number | null => (/^\d{1,9}$/.test(number) ? Number(number) : null);

const isShort = (bar: RawBar | undefined): boolean => {
  const metre = bar?.metre ?? null;
  const full = metre === null ? null : metreLength(metre);
  return bar !== undefined && full !== null && F.less(bar.length, full);
};

/** In a file that numbers nothing: from 1, or from 0 where it begins with a short bar that no bar line begins. */
const counted = (bars: readonly RawBar[], log: Log): readonly Numbered[] => {
  const [first] = bars;
  const upbeat = first !== undefined && !first.barred && isShort(first);
  if (bars.length > 0)
    log.say(
      'assumption',
      'bars-counted',
      `The file does not number its bars; they are counted from ${upbeat ? '0, the upbeat' : '1'}.`,
    );
  let next = upbeat ? 0 : 1;
  let rest = false;
  return bars.map((bar, index): Numbered => {
    // The second half of a split bar has no number of its own.
    const before = bars[index - 1];
    const completes =
      index > 1 - Number(!upbeat) &&
      !rest &&
      isShort(bar) &&
      isShort(before) &&
      before !== undefined &&
      bar.metre !== null &&
      F.equal(F.add(before.length, bar.length), metreLength(bar.metre) ?? F.zero);
    rest = completes;
    if (completes) return { number: '', implicit: true };
    next += 1;
    return { number: String(next - 1), implicit: index === 0 && upbeat };
  });
};

/** The number of each bar, and whether it is one that is not counted. */
export const numbersOf = (bars: readonly RawBar[], log: Log): readonly Numbered[] => {
  if (bars.every(({ number }) => number === '')) return counted(bars, log);
  const result: Numbered[] = [];
  let index = 0;
  while (index < bars.length) {
    const bar = bars[index];
    if (bar === undefined) break;
    if (bar.number !== '') {
      result.push({ number: bar.number, implicit: bar.number === '0' });
      index += 1;
      continue;
    }
    let to = index;
    while (to < bars.length && bars[to]?.number === '') to += 1;
    const before = whole(result.at(-1)?.number ?? '');
    const after = whole(bars[to]?.number ?? '');
    const begins = !bar.barred;
    if (begins && to - index === 1 && after !== null && after > 0) {
      result.push({ number: String(after - 1), implicit: after === 1 });
    } else if (before !== null && after !== null && after - before - 1 === to - index) {
      for (let n = index; n < to; n += 1)
        result.push({ number: String(before + 1 + n - index), implicit: false });
    } else {
      let last = before;
      for (let n = index; n < to; n += 1) {
        // The rest of a split bar has no number of its own; a full bar counts on, where nothing contradicts it.
        const own = last !== null && after === null && !isShort(bars[n - 1]) ? last + 1 : null;
        if (own !== null) last = own;
        result.push({ number: own === null ? '' : String(own), implicit: own === null });
      }
    }
    index = to;
  }
  return result;
};
