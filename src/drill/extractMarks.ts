/** What stands over an extract: the tempo as it is played the first time, the score's tempo words and letters. */
import type { BarGrid } from '../rhythm/beats.ts';
import { gradualSpans, type GradualSpan } from '../rhythm/gradual.ts';
import { paceAt, perMinute, type Pace } from '../rhythm/tempo.ts';
import type { Mark } from '../score/model.ts';
import { beats, F, note, plus, type Beats } from '../units/index.ts';
import type { DrillBar } from './model.ts';
import { placeIn, type Taken } from './taken.ts';
import type { WorkedDrill } from './workOut.ts';

type TempoMark = Extract<Mark, { kind: 'tempo' }>;

/** The score's own tempo mark at a written place: its unit and whether it is printed are kept. */
const ownMark = (worked: WorkedDrill, written: Beats): TempoMark | undefined =>
  worked.score.marks.find((mark): mark is TempoMark => mark.kind === 'tempo' && F.equal(mark.at, written));

/** Whether a figure can be written out in full: its decimals come to an end. */
const isDecimal = ({ d }: F.Fraction): boolean => 10n ** BigInt(d.toString(2).length) % d === 0n;

/** The first of the units in which a pace is a figure that can be written out; where there is none, the first. */
const unitFor = (pace: Pace, units: readonly (Beats | undefined)[]): Beats => {
  const all = [...units, note(1, 4)].filter((unit) => unit !== undefined);
  return all.find((unit) => isDecimal(perMinute(pace, unit))) ?? all[0] ?? note(1, 4);
};

const firstFull = (taken: readonly Taken[]): Taken | undefined =>
  taken.find(({ source }) => !source.pickup) ?? taken[0];

/** The places of a played stretch at which the tempo may change: its beginning, and each section of the map in it. */
const places = (worked: WorkedDrill, bar: DrillBar): readonly Beats[] => {
  const end = plus(bar.start, bar.length);
  const inside = worked.timeline.tempo.sections
    .map(({ start }) => start)
    .filter((start) => F.less(bar.start, start) && F.less(start, end));
  return [bar.start, ...inside];
};

/** The gradual change that a written place lies inside, and whether its beginning and its goal are in the extract too. */
const changeAround = (
  spans: readonly GradualSpan[],
  taken: readonly Taken[],
  written: Beats,
): { readonly whole: boolean } | null => {
  const span = spans.find(({ from, to }) => F.less(from, written) && F.less(written, to));
  const here = (at: Beats): boolean => taken.some((bar) => placeIn(bar, at) !== null);
  return span === undefined ? null : { whole: here(span.from) && here(span.to) };
};

/** A tempo mark wherever the pace of the first repetition differs from the last one marked. */
const tempi = (
  worked: WorkedDrill,
  taken: readonly Taken[],
  grids: readonly BarGrid[],
): readonly TempoMark[] => {
  const marks: TempoMark[] = [];
  const lead = firstFull(taken);
  const spans = gradualSpans(worked.score);
  let marked: Pace | null = null;
  let at = note(0);
  for (const bar of worked.timeline.bars) {
    if (bar.kind !== 'bar' || bar.rep !== 1 || bar.written === null || bar.barIndex === null) continue;
    for (const place of places(worked, bar)) {
      const pace = paceAt(worked.timeline.tempo, place);
      if (marked !== null && F.equal(marked, pace)) continue;
      const gone = beats(F.sub(place, bar.start));
      const written = plus(bar.written, gone);
      const own = ownMark(worked, written);
      const opening = marked === null;
      // Between its word and its goal a change goes on by itself; where one of them is cut off, it goes in hidden steps.
      const change = own === undefined ? changeAround(spans, taken, written) : null;
      if (change?.whole === true) continue;
      const grid = grids[opening ? (lead?.source.index ?? bar.barIndex) : bar.barIndex];
      const beat = grid?.tempoUnit;
      const unit = unitFor(pace, opening ? [beat, own?.unit] : [own?.unit, beat]);
      const where = plus(at, gone);
      const index = taken.findLast(({ start }) => F.atMost(start, where))?.index ?? 0;
      const printed = opening || (own?.printed ?? change === null);
      marks.push({ kind: 'tempo', at: where, bar: index, unit, perMinute: perMinute(pace, unit), printed });
      marked = pace;
    }
    at = plus(at, bar.length);
  }
  return marks;
};

/**
 * The marks of an extract, by position. Its tempo is that of the drill's first step, share included, also where a
 * repeat goes back to an earlier tempo.
 */
export const extractMarks = (worked: WorkedDrill, taken: readonly Taken[]): readonly Mark[] => {
  const words = taken.flatMap((bar) =>
    worked.score.marks.flatMap((mark): readonly Mark[] => {
      if (mark.kind !== 'rehearsal' && mark.kind !== 'tempoWords') return [];
      const at = mark.bar === bar.source.index ? placeIn(bar, mark.at) : null;
      return at === null ? [] : [{ ...mark, at, bar: bar.index }];
    }),
  );
  // Words and letters stand before the figure, as on the page; sorting keeps that order where places are equal.
  return [...words, ...tempi(worked, taken, worked.grids)].sort((a, b) => F.compare(a.at, b.at));
};
