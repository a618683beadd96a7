/** The count-in: enough to give tempo and metre to someone who may not hear the first beat (design section 7). */
import type { BarGrid } from '../rhythm/beats.ts';
import { beats, F, fail, note, ok, type Beats, type Result, type Seconds } from '../units/index.ts';
import { countNames, countWordIn, fastCount } from './words.ts';

/** When to count in, and how many bars; null bars: as many as the rule says. */
export interface CountInRule {
  readonly when: 'auto' | 'none' | 'first' | 'each';
  readonly bars: number | null;
}

/** Reads "auto", "none", "first", "each", "2" and "first:2", "each:1". */
export const parseCountIn = (text: string): Result<CountInRule> => {
  const match = /^(?:(auto|none|first|each)(?::(\d{1,2}))?|(\d{1,2}))$/.exec(text.trim());
  const bars = match?.[2] ?? match?.[3];
  const when = match?.[1] ?? 'auto';
  const known = when === 'auto' || when === 'none' || when === 'first' || when === 'each';
  const tooMany = bars !== undefined && Number(bars) > 8;
  const contradicts = match?.[2] !== undefined && (when === 'none' || Number(bars) === 0);
  if (match === null || !known || tooMany || contradicts) {
    return fail(
      'count-in-unknown',
      `"${text}" is no count-in. Say auto, none, first, each, or a number of bars up to 8: 2, first:2, each:1.`,
    );
  }
  if (bars === '0') return ok({ when: 'none', bars: null });
  return ok({ when, bars: bars === undefined ? null : Number(bars) });
};

/** One counted bar: what is counted, from the start of the full bar. */
export interface CountedBar {
  readonly counts: readonly { readonly offset: Beats; readonly word: string }[];
}

/** The English word for the n-th count, from 1. `fast`: one syllable. Beyond twelve, figures. */
export const countWord = (n: number, fast: boolean): string =>
  n <= 12 ? countWordIn('en', countNames[n - 1] ?? '', fast) : String(n);

const counted = (offsets: readonly Beats[], secondsOf: (length: Beats) => Seconds): CountedBar => {
  const [first = note(0), second] = offsets;
  const step = second === undefined ? null : F.toNumber(secondsOf(beats(F.sub(second, first))));
  return {
    counts: offsets.map((offset, i) => ({
      offset,
      word: countWord(i + 1, step !== null && step < fastCount),
    })),
  };
};

/** The larger unit: halves where there are four beats or six counts, else the whole bar; groups as they are. */
const larger = ({ beats: all, compound, full }: BarGrid): readonly Beats[] => {
  const row = all.filter(({ offset }) => F.less(offset, full));
  const [first] = row;
  const even = row.every(({ length }) => first !== undefined && F.equal(length, first.length));
  if (!even || (compound && row.length === 2)) return row.map(({ offset }) => offset);
  const middle = row[row.length / 2];
  return row.length >= 4 && middle !== undefined && F.equal(F.mul(middle.offset, F.fraction(2)), full)
    ? [note(0), middle.offset]
    : [note(0)];
};

/**
 * The bars counted before a passage that begins in `grid`'s metre. `firstBeatClicked`: whether the placement clicks
 * the passage's first beat. `bars`: how many, 0 to 8; null: as the rule says. `upbeat`: length of the music before
 * that beat, which the last counted bar runs into; where the rule decides, bars are added until the upbeat leaves at
 * least half a bar of counting (common practice, no source). Counts that the upbeat covers are left out by the caller,
 * who knows where it begins.
 */
export const countedBars = (
  grid: BarGrid,
  options: {
    readonly firstBeatClicked: boolean;
    readonly bars: number | null;
    readonly upbeat: Beats;
    readonly secondsOf: (length: Beats) => Seconds;
  },
): readonly CountedBar[] => {
  const row = grid.beats.filter(({ offset }) => F.less(offset, grid.full)).map(({ offset }) => offset);
  const smaller = counted(row, options.secondsOf);
  const barSeconds = F.toNumber(options.secondsOf(grid.full));
  const usual = options.firstBeatClicked
    ? Array.from({ length: barSeconds < shortBar ? 2 : 1 }, () => smaller)
    : [counted(larger(grid), options.secondsOf), smaller];
  const chosen = options.bars === null ? usual : Array.from({ length: options.bars }, () => smaller);
  const needed = F.add(options.upbeat, F.div(grid.full, F.fraction(2)));
  const missing = -Number(F.floor(F.sub(F.fraction(chosen.length), F.div(needed, grid.full))));
  const added = options.bars === null ? Math.max(0, missing) : 0;
  return [...chosen, ...Array.from({ length: added }, () => smaller)];
};

/** A bar that lasts under 1.5 s is counted twice (design section 7). */
const shortBar = 1.5;
