/**
 * How long each bar is and which bars are upbeats.
 *
 * Length: as far as the longest content of any part reaches; a bar without content lasts its metre. A whole-bar rest
 * never makes a bar longer than its metre ("a complete measure rest" takes the bar as it is).
 *
 * Upbeat (`pickup`), always a bar shorter than its metre:
 * 1. the first bar, unless the second is marked implicit and completes it (then the first bar is split in two);
 * 2. a bar that together with the short bars directly before it, upbeats left out, fills the metre: the rest of a
 *    split bar, or the upbeat of a section whose bar before it was shortened for it;
 * 3. a bar marked implicit ("pickup measures and the last half of mid-measure repeats": MusicXML 4.0, measure) that
 *    follows a full bar and is not itself completed by the next bar;
 * 4. a bar right after a repeat sign or a closing bar line that is not itself completed by the next bar: the upbeat of a
 *    section or of the next movement in the same file.
 */
import { beats, F, lengthText, type Beats, type Fraction } from '../../../units/index.ts';
import { metreLength, metreText, sameMetre, type Metre } from '../../metre.ts';
import type { Log } from './log.ts';
import type { Row } from './metres.ts';
import { refuseTooFine } from './values.ts';

export interface BarFrame {
  readonly number: string;
  readonly implicit: boolean;
  readonly metre: Metre;
  readonly length: Beats;
  readonly start: Beats;
  readonly pickup: boolean;
}

type Unplaced = Omit<BarFrame, 'start' | 'pickup'>;

const lengthOf = (row: Row, full: Fraction | null, implicit: boolean): Fraction | null => {
  let extent = F.zero;
  let rest = F.zero;
  for (const draft of row) {
    if (draft === null) continue;
    extent = F.max(extent, draft.extent);
    rest = F.max(rest, draft.restExtent);
  }
  if (!F.isPositive(extent) && !F.isPositive(rest)) return null;
  if (F.atMost(rest, extent)) return extent;
  if (full === null) return rest;
  if (implicit && F.isPositive(extent)) return extent;
  return F.max(extent, F.min(rest, full));
};

const unplacedOf = (rows: readonly Row[], metres: readonly Metre[], log: Log): readonly Unplaced[] => {
  let before: Fraction = F.one;
  return rows.map((row, index): Unplaced => {
    const draft = row.find((one) => one !== null);
    const number = draft?.number ?? '';
    const implicit = draft?.implicit ?? false;
    const metre = metres[index] ?? { components: [], symbol: 'numbers' };
    const full = metreLength(metre);
    const content = lengthOf(row, full, implicit);
    const length = content ?? full ?? before;
    if (content === null)
      log.say(
        'assumption',
        'bar-empty',
        `This bar has no notes and no rests; it lasts ${full === null ? 'as long as the bar before' : `a bar of ${metreText(metre)}`}.`,
        { bar: number },
      );
    before = length;
    return { number, implicit, metre, length: beats(length) };
  });
};

const isShort = ({ length, metre }: Unplaced): boolean => {
  const full = metreLength(metre);
  return full !== null && F.less(length, full);
};

const fills = (sum: Fraction, { metre }: Unplaced): boolean => {
  const full = metreLength(metre);
  return full !== null && F.equal(sum, full);
};

interface Roles {
  readonly pickups: readonly boolean[];
  /** Short bars that a later bar completes, so that nothing is amiss with them. */
  readonly completed: ReadonlySet<number>;
}

const rolesOf = (bars: readonly Unplaced[], endsSection: (bar: number) => boolean): Roles => {
  const pickups: boolean[] = [];
  const completed = new Set<number>();
  let run: { from: number; sum: Fraction; metre: Metre } | null = null;
  bars.forEach((bar, index) => {
    const next = bars[index + 1];
    const before = bars[index - 1];
    let pickup = false;
    if (isShort(bar)) {
      const completesNext =
        next !== undefined &&
        isShort(next) &&
        sameMetre(next.metre, bar.metre) &&
        fills(F.add(bar.length, next.length), bar);
      if (index === 0) pickup = !(completesNext && next.implicit && !bar.implicit);
      else if (run !== null && sameMetre(run.metre, bar.metre)) {
        const whole: boolean = fills(F.add(run.sum, bar.length), bar);
        const justBefore = before !== undefined && fills(F.add(before.length, bar.length), bar);
        pickup = whole || justBefore;
        if (pickup) for (let n = whole ? run.from : index - 1; n < index; n += 1) completed.add(n);
      }
      const begins = index > 0 && ((bar.implicit && run === null) || endsSection(index - 1));
      if (begins && !completesNext) pickup = true;
      if (pickup) run = null;
      else if (run === null || !sameMetre(run.metre, bar.metre))
        run = { from: index, sum: bar.length, metre: bar.metre };
      else run = { ...run, sum: F.add(run.sum, bar.length) };
    } else run = null;
    pickups.push(pickup);
  });
  return { pickups, completed };
};

/**
 * Bars laid end to end from 0. `endsSection` tells whether a repeat or a closing bar line stands at a bar's end. Throws
 * Refusal `divisions-absurd`.
 */
export const framesOf = (
  rows: readonly Row[],
  metres: readonly Metre[],
  endsSection: (bar: number) => boolean,
  log: Log,
): readonly BarFrame[] => {
  const bars = unplacedOf(rows, metres, log);
  const { pickups, completed } = rolesOf(bars, endsSection);
  const upbeats = bars.filter((_, index) => pickups[index] === true).map(({ length }) => length);
  let start: Fraction = F.zero;
  return bars.map((bar, index): BarFrame => {
    const full = metreLength(bar.metre);
    const pickup = pickups[index] ?? false;
    const ends = index === bars.length - 1 || endsSection(index);
    if (full !== null && F.less(full, bar.length))
      log.say(
        'repair',
        'bar-overfull',
        `This bar holds ${lengthText(bar.length)}, more than its metre ${metreText(bar.metre)}; it is kept as long as its content.`,
        { bar: bar.number },
      );
    else if (full !== null && isShort(bar) && !pickup && !completed.has(index)) {
      // The last bar of a section gives its upbeat's time back: that is as it should be.
      const givesBack = ends && upbeats.some((upbeat) => F.equal(F.add(upbeat, bar.length), full));
      if (!givesBack)
        log.say(
          'note',
          'bar-short',
          `This bar holds ${lengthText(bar.length)}, less than its metre ${metreText(bar.metre)}; it is kept as it is.`,
          { bar: bar.number },
        );
    }
    const frame: BarFrame = { ...bar, start: beats(start), pickup };
    start = F.add(start, bar.length);
    refuseTooFine(start, { bar: bar.number });
    return frame;
  });
};
