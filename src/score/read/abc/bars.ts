/**
 * The bars of a tune, over all voices: metre, length, printed number, and the repeats that a file leaves to be understood.
 */
import { F, lengthText, type Fraction } from '../../../units/index.ts';
import { metreLength, noMetre, sameMetre, type Metre } from '../../metre.ts';
import type { Log } from '../drafts/log.ts';
import type { VoiceBar } from './events.ts';
import { contentOf } from './place.ts';
import type { Voice } from './voice.ts';

export interface TuneBar {
  readonly number: string;
  readonly implicit: boolean;
  /** What a rest for the whole bar lasts. */
  readonly wholeBar: Fraction;
}

/** Metre and content of each bar, over all voices. */
interface Measured {
  readonly metre: Metre;
  readonly full: Fraction | null;
  readonly length: Fraction | null;
  readonly set: number | null;
  readonly endsSection: boolean;
}

const endsSection = (bar: VoiceBar | undefined, next: VoiceBar | undefined): boolean =>
  bar !== undefined &&
  (bar.repeats.some(({ direction }) => direction === 'backward') ||
    bar.styles.some(
      ({ edge, style }) => edge === 'right' && style !== 'regular' && style !== 'dotted' && style !== 'none',
    ) ||
    next?.repeats.some(({ direction }) => direction === 'forward') === true);

const measured = (voices: readonly Voice[], count: number): readonly Measured[] => {
  const metres = new Map<number, Metre>();
  // The first voice that states a metre decides.
  for (const voice of [...voices].reverse())
    for (const { bar, metre } of voice.metres) metres.set(bar, metre);
  let metre = noMetre;
  return Array.from({ length: count }, (_, index): Measured => {
    metre = metres.get(index) ?? metre;
    let length: Fraction | null = null;
    let set: number | null = null;
    let ends = false;
    for (const { bars } of voices) {
      const bar = bars[index];
      if (bar === undefined) continue;
      const content = contentOf(bar);
      if (content !== null) length = F.max(length ?? F.zero, content);
      set ??= bar.number;
      ends ||= endsSection(bar, bars[index + 1]);
    }
    return { metre, full: metreLength(metre), length, set, endsSection: ends };
  });
};

const isShort = ({ full, length }: Measured): boolean =>
  full !== null && length !== null && F.less(length, full);

/**
 * Numbers as they are counted on paper, since ABC prints none by default: full bars from 1, an upbeat at the beginning
 * 0, the rest of a split bar and the upbeat of a later section "X1", "X2", ... Common practice, no source.
 */
export const barsOf = (voices: readonly Voice[], first: number | null): readonly TuneBar[] => {
  const count = voices.reduce((most, { bars }) => Math.max(most, bars.length), 0);
  const all = measured(voices, count);
  let next = first ?? 1;
  let unnumbered = 0;
  let before: Measured | undefined;
  /** The bar before is short and is not itself the rest of another. */
  let open = false;
  let longest: Fraction = F.one;
  return all.map((bar, index): TuneBar => {
    const { full, length, set } = bar;
    const short = isShort(bar);
    const after = all[index + 1];
    const fills = (a: Measured | undefined, b: Measured): boolean =>
      a !== undefined &&
      a.length !== null &&
      b.length !== null &&
      b.full !== null &&
      sameMetre(a.metre, b.metre) &&
      F.equal(F.add(a.length, b.length), b.full);
    const completes = short && open && fills(before, bar);
    const begins =
      short && before?.endsSection === true && !(after !== undefined && isShort(after) && fills(bar, after));
    const upbeat = short && index === 0;
    const implicit = set === null && (completes || begins || upbeat);
    open = short && !completes;
    before = bar;
    if (set !== null) next = set;
    let number: string;
    if (!implicit) {
      number = String(next);
      next += 1;
    } else if (index === 0) number = String(next - 1);
    else {
      unnumbered += 1;
      number = `X${unnumbered}`;
    }
    longest = length ?? full ?? longest;
    return {
      number,
      implicit,
      wholeBar: length ?? full ?? longest,
    };
  });
};

/** Tells where voices hold different lengths of music in one bar. */
export const tellDifferences = (voices: readonly Voice[], bars: readonly TuneBar[], log: Log): void => {
  bars.forEach(({ number }, index) => {
    let longest: { id: string; length: Fraction } | null = null;
    let shortest: { id: string; length: Fraction } | null = null;
    for (const { id, bars: own } of voices) {
      const bar = own[index];
      const length = bar === undefined ? null : contentOf(bar);
      if (length === null) continue;
      if (longest === null || F.less(longest.length, length)) longest = { id, length };
      if (shortest === null || F.less(length, shortest.length)) shortest = { id, length };
    }
    if (longest === null || shortest === null || F.equal(longest.length, shortest.length)) return;
    log.say(
      'repair',
      'bar-lengths-differ',
      `In this bar voice "${longest.id}" holds ${lengthText(longest.length)}, voice "${shortest.id}" ${lengthText(shortest.length)}; the bar is as long as the longest.`,
      { bar: number, line: voices.find(({ id }) => id === shortest.id)?.bars[index]?.line ?? 1 },
    );
  });
};

/**
 * A repeat that has no beginning goes back to the latest double bar line, or to the beginning of its tune (section 4.8): the
 * sign that is missing is put there. One that goes back to the end of another repeat needs none.
 */
export const completeRepeats = (bars: readonly VoiceBar[], firstTune: boolean): void => {
  let from: number | null = firstTune ? null : 0;
  let open = false;
  bars.forEach((bar, index) => {
    if (bar.repeats.some(({ direction }) => direction === 'forward')) open = true;
    if (bar.repeats.some(({ direction }) => direction === 'backward')) {
      if (!open && from !== null)
        bars[from]?.repeats.push({ edge: 'left', direction: 'forward', times: 0, afterJump: false });
      open = false;
      from = null;
    } else if (
      !open &&
      bar.styles.some(
        ({ style }) => style === 'light-light' || style === 'light-heavy' || style === 'heavy-light',
      )
    )
      from = index + 1;
  });
};
