/** The ending brackets of a stretch of bars: where each begins and ends, and for which times through. */
import { problem, type Problem } from '../../units/index.ts';
import type { Bar } from '../model.ts';

export interface Bracket {
  /** Bar indices, both included. */
  readonly first: number;
  readonly last: number;
  /** Times through, from 1, ascending. Empty where the score gives none. */
  readonly numbers: readonly number[];
}

/**
 * Nobody plays a passage more often than this; larger numbers are taken for a slip of the pen. Readers keep the number
 * as it is written, so that the same slip is told and mended alike in every format.
 */
export const mostPasses = 1000;

/** "bar 12", for messages. */
export const barName = (bar: Bar): string => (bar.number === '' ? 'an unnumbered bar' : `bar ${bar.number}`);

/** The brackets that begin within bars `from` to `to` (indices, both included). */
export const findBrackets = (
  bars: readonly Bar[],
  from: number,
  to: number,
): { brackets: readonly Bracket[]; problems: readonly Problem[] } => {
  const brackets: Bracket[] = [];
  const problems: Problem[] = [];
  let i = from;
  while (i <= to) {
    const bar = bars[i];
    if (bar === undefined) break;
    if (bar.ending === null) {
      i += 1;
      continue;
    }
    const { last, closed } = extent(bars, i, to);
    if (!bar.ending.begins) {
      problems.push(
        problem(
          'repair',
          'ending-without-start',
          `An ending bracket stops in ${barName(bars[last] ?? bar)} but never began; it is ignored.`,
          { bar: bar.number },
        ),
      );
      i = last + 1;
      continue;
    }
    let end = last;
    if (!closed) {
      end = firstRepeatEnd(bars, i, to) ?? last;
      problems.push(
        problem(
          'repair',
          'ending-unclosed',
          `The ending bracket "${bar.ending.text}" of ${barName(bar)} is not closed; it is taken to end with ${barName(bars[end] ?? bar)}.`,
          { bar: bar.number },
        ),
      );
    }
    const cut = strayRepeatEnd(bars, i, end);
    if (cut !== null) {
      problems.push(
        problem(
          'repair',
          'ending-too-long',
          `The ending bracket of ${barName(bar)} runs on past the repeat sign in ${barName(bars[cut] ?? bar)}; it is taken to end there.`,
          { bar: bar.number },
        ),
      );
      end = cut;
    }
    brackets.push({ first: i, last: end, numbers: cleaned(bar, problems) });
    i = Math.max(last, end) + 1;
  }
  return { brackets, problems };
};

/** The run of bars under one bracket, and whether it is closed. */
const extent = (bars: readonly Bar[], first: number, to: number): { last: number; closed: boolean } => {
  let last = first;
  for (;;) {
    const ends = bars[last]?.ending?.ends ?? null;
    if (ends !== null) return { last, closed: true };
    const next = last < to ? (bars[last + 1]?.ending ?? null) : null;
    if (next === null || next.begins) return { last, closed: false };
    last += 1;
  }
};

/** The first repeat end from `first` on, unless another bracket begins before it. */
const firstRepeatEnd = (bars: readonly Bar[], first: number, to: number): number | null => {
  for (let i = first; i <= to; i += 1) {
    const bar = bars[i];
    if (bar === undefined || (i > first && bar.ending?.begins === true)) return null;
    if (bar.repeatEnd > 0) return i;
  }
  return null;
};

/** A repeat end inside the bracket, before its last bar, whose repeat did not begin inside the bracket. */
const strayRepeatEnd = (bars: readonly Bar[], first: number, last: number): number | null => {
  let open = 0;
  for (let i = first; i < last; i += 1) {
    if (bars[i]?.repeatStart === true) open += 1;
    if ((bars[i]?.repeatEnd ?? 0) > 0) {
      if (open === 0) return i;
      open -= 1;
    }
  }
  return null;
};

const cleaned = (bar: Bar, problems: Problem[]): readonly number[] => {
  const given = bar.ending?.numbers ?? [];
  const fits = (n: number): boolean => Number.isInteger(n) && n >= 1 && n <= mostPasses;
  const good = [...new Set(given.filter(fits))];
  const bad = given.filter((n) => !fits(n));
  if (good.length === 0)
    problems.push(
      problem(
        'repair',
        'ending-number-missing',
        `The ending bracket of ${barName(bar)} does not say for which time it is; it is taken for the next one in turn.`,
        { bar: bar.number },
      ),
    );
  else if (bad.length > 0)
    problems.push(
      problem(
        'repair',
        'ending-number-absurd',
        `The ending bracket of ${barName(bar)} names times through that nobody plays (${bad.slice(0, 5).join(', ')}${bad.length > 5 ? ' ...' : ''}): left out.`,
        { bar: bar.number },
      ),
    );
  return good.sort((a, b) => a - b);
};
