/**
 * A stretch of a drill's page: some of its bars, with the drill's own clicks on them. A page of hundreds of bars is engraved a
 * stretch at a time, so that its beginning is there as soon as that of a short one.
 */
import { paceAt } from '../rhythm/tempo.ts';
import { metreText } from '../score/metre.ts';
import { F } from '../units/index.ts';
import type { DrillBar } from './model.ts';
import type { RoundBar } from './round.ts';
import { takenBars } from './taken.ts';
import type { WorkedDrill } from './workOut.ts';

/** Bars as they are played the first time through, both included, from 0; the upbeat's bar is one. */
export interface PageStretch {
  readonly first: number;
  readonly last: number;
}

export interface DrillStretch {
  /** The drill with these bars alone; its clicks are those of the whole drill, so that each keeps its number. */
  readonly worked: WorkedDrill;
  /** Whether it is the page's beginning: the count-in stands in front. */
  readonly opens: boolean;
  /** Bars counted again after a fermata that stand before it. */
  readonly firstRecount: number;
  /** Whether another tempo begins with it. */
  readonly newTempo: boolean;
  /** Whether it goes on in the metre before it. */
  readonly sameMetre: boolean;
}

interface Row {
  readonly entry: RoundBar;
  readonly laid: DrillBar;
  /** The taken bar to which it belongs. */
  readonly bar: number;
}

/** What the first time through is made of, and the count-in before it. */
const rows = ({
  round,
  timeline,
}: WorkedDrill): { readonly counts: readonly DrillBar[]; readonly rows: Row[] } => {
  const counted = timeline.bars.findIndex(({ kind }) => kind !== 'count-in');
  const counts = timeline.bars.slice(0, Math.max(0, counted));
  const found: Row[] = [];
  let bar = -1;
  let visit: unknown = null;
  round.bars.forEach((entry, i) => {
    const laid = timeline.bars[counts.length + i];
    if (entry.kind === 'bar' && (bar < 0 || visit !== entry.visit.index)) {
      bar += 1;
      visit = entry.visit.index;
    }
    // What is counted again before anything is played stands with the first bar.
    if (laid !== undefined) found.push({ entry, laid, bar: Math.max(0, bar) });
  });
  return { counts, rows: found };
};

/** Whether the score prints a tempo where a stretch begins, or the stretch goes on elsewhere at another pace. */
const tempoChanges = (
  { score, timeline }: WorkedDrill,
  before: Row | undefined,
  first: Row | undefined,
): boolean => {
  const written = first?.laid.written;
  if (before === undefined || first === undefined || written === undefined || written === null) return false;
  const own = score.marks.some((mark) => mark.kind === 'tempo' && mark.printed && F.equal(mark.at, written));
  const leads =
    before.laid.written !== null && F.equal(F.add(before.laid.written, before.laid.length), written);
  const pace = ({ laid }: Row): F.Fraction => paceAt(timeline.tempo, laid.start);
  return own || (!leads && !F.equal(pace(before), pace(first)));
};

/** Cuts a stretch out of a worked drill. */
export const drillStretch = (worked: WorkedDrill, { first, last }: PageStretch): DrillStretch => {
  const { counts, rows: all } = rows(worked);
  const from = all.findIndex(({ bar }) => bar >= first);
  const own = all.filter(({ bar }) => bar >= first && bar <= last);
  const [before, begin] = [all[from - 1], own[0]];
  const opens = first <= 0;
  return {
    worked: {
      ...worked,
      round: { ...worked.round, bars: own.map(({ entry }) => entry) },
      timeline: {
        ...worked.timeline,
        bars: [...(opens ? counts : []), ...own.map(({ laid }) => laid)],
      },
    },
    opens,
    firstRecount: all.filter(({ entry, bar }) => entry.kind === 'hold' && bar < first).length,
    newTempo: tempoChanges(worked, before, begin),
    sameMetre:
      before !== undefined &&
      begin !== undefined &&
      metreText(before.entry.bar.metre) === metreText(begin.entry.bar.metre),
  };
};

/** The drill's bars on its page, for each its index in the score and its printed number. */
export const pageBars = ({
  round,
}: WorkedDrill): readonly { readonly barIndex: number; readonly number: string }[] =>
  takenBars(round).map(({ source }) => ({ barIndex: source.index, number: source.number }));
