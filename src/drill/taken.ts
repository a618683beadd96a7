/** The bars of an extract: which stretch of which written bar stands where in it. */
import type { Bar } from '../score/model.ts';
import { beats, F, note, plus, type Beats } from '../units/index.ts';
import type { Round, Stretch } from './round.ts';

/** One bar of the extract: where it stands there and which stretch of which written bar it is. */
export interface Taken {
  readonly index: number;
  readonly start: Beats;
  readonly length: Beats;
  readonly source: Bar;
  /** From the written bar's start. */
  readonly offset: Beats;
  /** Which time through it is played. */
  readonly pass: number;
  /** Whether the bar before this one in the extract leads on into it in the writing too. */
  readonly follows: boolean;
}

/** Stretches of one bar that a fermata's recount parted are one bar again. */
export const takenBars = (round: Round): readonly Taken[] => {
  const row: Taken[] = [];
  let before: Stretch | undefined;
  let start = note(0);
  for (const stretch of round.bars) {
    if (stretch.kind !== 'bar') continue;
    const last = row.at(-1);
    if (last !== undefined && before !== undefined && before.visit.index === stretch.visit.index) {
      row[row.length - 1] = { ...last, length: plus(last.length, stretch.length) };
    } else {
      const written = F.add(stretch.bar.start, stretch.offset);
      const end = last === undefined ? null : F.add(F.add(last.source.start, last.offset), last.length);
      row.push({
        index: row.length,
        start,
        length: stretch.length,
        source: stretch.bar,
        offset: stretch.offset,
        pass: stretch.visit.pass,
        follows: end !== null && F.equal(written, end),
      });
    }
    start = plus(start, stretch.length);
    before = stretch;
  }
  return row;
};

/** Where a written place of a taken bar stands in the extract; null where it lies outside. */
export const placeIn = ({ start, length, source, offset }: Taken, at: Beats): Beats | null => {
  const gone = F.sub(F.sub(at, source.start), offset);
  return F.less(gone, F.zero) || !F.less(gone, length) ? null : plus(start, beats(gone));
};
