/**
 * The whole drill on one axis: count-ins, repetitions and the breath between them, so laid that the metre never
 * breaks. A repetition's upbeat falls into the end of what stands before it.
 */
import { countedBars, type CountedBar, type CountInRule } from '../click/countIn.ts';
import { beatText, type BarGrid } from '../rhythm/beats.ts';
import type { Pace } from '../rhythm/tempo.ts';
import { noMetre, type Metre } from '../score/metre.ts';
import { beats, F, minus, note, plus, problem, seconds, type Beats, type Problem } from '../units/index.ts';
import type { DrillBar } from './model.ts';
import { steady, type PacePiece } from './paces.ts';
import type { Round, RoundBar } from './round.ts';
import type { RoundClick } from './roundClicks.ts';

/** The pace pieces of one round at one tempo step. */
export type RoundPaces = readonly PacePiece[];

export interface LayoutPlan {
  readonly round: Round;
  readonly grids: readonly BarGrid[];
  /** One entry for each tempo step. */
  readonly steps: readonly RoundPaces[];
  /** Repetitions at each step. */
  readonly times: number;
  readonly countIn: CountInRule;
  /** Whole bars of silence between repetitions; null: as usual. */
  readonly gap: number | null;
  readonly firstBeatClicked: boolean;
  /** From where in the round nothing kept sounds any more. */
  readonly silentFrom: Beats;
}

/** One playing of the round on the drill's axis; it may be cut short where the next upbeat takes its place. */
export interface Repetition {
  readonly rep: number;
  readonly at: Beats;
  readonly length: Beats;
}

export interface Layout {
  readonly bars: readonly DrillBar[];
  readonly paces: readonly PacePiece[];
  readonly repetitions: readonly Repetition[];
  /** Count-in clicks, on the drill's axis. */
  readonly counts: readonly (RoundClick & { readonly rep: number })[];
  readonly length: Beats;
  readonly problems: readonly Problem[];
}

const isMetred = ({ bar }: RoundBar): boolean => bar.metre.components.length > 0;

/** The stretch with which the passage's first full bar begins; of a passage that is an upbeat only, its beginning. */
export const firstStretch = ({ bars }: Round): RoundBar | undefined =>
  bars.find((entry) => entry.kind === 'bar' && entry.barCount === 0) ?? bars[0];

/** The bar that sets the count: the first full one that has a metre, or any that has; none in music without metre. */
const leadingBar = (round: Round): RoundBar | undefined => {
  const first = firstStretch(round);
  return first !== undefined && isMetred(first) ? first : round.bars.find(isMetred);
};

/** What the round's last bar lacks to be full. */
const missingAtEnd = ({ bars }: Round, grids: readonly BarGrid[]): Beats => {
  const last = bars.at(-1);
  const grid = last === undefined ? undefined : grids[last.bar.index];
  if (grid === undefined) return note(0);
  return beats(F.max(F.zero, F.sub(grid.full, F.add(grid.shift, grid.length))));
};

/** A silent bar of music without metre lasts a whole note. */
const barWithoutMetre = note(1);

class Axis {
  readonly bars: DrillBar[] = [];
  readonly paces: PacePiece[] = [];
  at: Beats = note(0);

  push(bar: Omit<DrillBar, 'start'>, pieces: readonly PacePiece[]): void {
    if (!F.isPositive(bar.length)) return;
    this.bars.push({ ...bar, start: this.at });
    this.paces.push(...pieces);
    this.at = plus(this.at, bar.length);
  }
}

const outside = { barIndex: null, number: null, written: null, pass: null } as const;

/** The first `length` of some pieces, and the rest; a piece cut inside keeps the pace that it has there. */
const firstOf = (pieces: readonly PacePiece[], length: Beats): { head: PacePiece[]; tail: PacePiece[] } => {
  const head: PacePiece[] = [];
  let rest = length;
  for (const [i, piece] of pieces.entries()) {
    if (!F.isPositive(rest)) return { head, tail: pieces.slice(i) };
    if (F.atMost(piece.length, rest)) {
      head.push(piece);
      rest = minus(rest, piece.length);
      continue;
    }
    const inside = F.add(piece.from, F.mul(F.sub(piece.to, piece.from), F.div(rest, piece.length)));
    head.push({ length: rest, from: piece.from, to: inside });
    const left = { length: minus(piece.length, rest), from: inside, to: piece.to };
    return { head, tail: [left, ...pieces.slice(i + 1)] };
  }
  return { head, tail: [] };
};

const roundBar = (entry: RoundBar, rep: number): Omit<DrillBar, 'start'> => ({
  kind: entry.kind,
  length: entry.length,
  metre: entry.bar.metre,
  rep,
  ...(entry.kind === 'hold'
    ? outside
    : {
        barIndex: entry.bar.index,
        number: entry.bar.number,
        written: plus(entry.bar.start, entry.offset),
        pass: entry.visit.pass,
      }),
});

/** Lays one round, up to `length` of it, and its paces. */
const layOne = (axis: Axis, round: Round, paces: RoundPaces, rep: number, length: Beats): void => {
  let rest = paces;
  for (const entry of round.bars) {
    const left = beats(F.min(entry.length, F.sub(length, entry.start)));
    const { head, tail } = firstOf(rest, beats(F.max(left, F.zero)));
    axis.push({ ...roundBar(entry, rep), length: left }, head);
    rest = tail;
  }
};

const layCountIn = (
  axis: Axis,
  counted: readonly CountedBar[],
  lead: { readonly metre: Metre; readonly grid: BarGrid; readonly pace: Pace; readonly upbeat: Beats },
  rep: number,
): Layout['counts'] => {
  const { grid, metre, pace } = lead;
  const whole = { ...grid, shift: note(0), length: grid.full };
  const start = axis.at;
  const total = F.sub(F.mul(grid.full, F.fraction(counted.length)), lead.upbeat);
  const counts = counted.flatMap(({ counts: row }, i) =>
    row.map(({ offset, word }) => ({ place: F.add(F.mul(grid.full, F.fraction(i)), offset), offset, word })),
  );
  counted.forEach((_, i) => {
    const from = F.mul(grid.full, F.fraction(i));
    const length = beats(F.min(grid.full, F.sub(total, from)));
    axis.push({ kind: 'count-in', length, metre, rep, ...outside }, [steady(length, pace)]);
  });
  return counts
    .filter(({ place }) => F.less(place, total))
    .map(({ place, offset, word }) => ({
      kind: 'count-in',
      at: plus(start, beats(place)),
      bar: null,
      barIndex: null,
      beat: beatText(whole, offset),
      pass: null,
      word,
      first: F.isZero(offset),
      rep,
    }));
};

/** Whether a repetition is counted in: by the rule, and by itself where it does not begin as the one before ended. */
const countedIn = ({ steps, times, countIn }: LayoutPlan, rep: number): boolean => {
  if (countIn.when === 'none') return false;
  if (countIn.when === 'each' || rep === 1) return true;
  const [before, now] = [rep - 2, rep - 1].map((index) => steps[Math.floor(index / times)]);
  const [left, taken] = [before?.at(-1)?.to, now?.[0]?.from];
  const newTempo = left !== undefined && taken !== undefined && !F.equal(left, taken);
  return countIn.when === 'auto' && (newTempo || (rep - 1) % times === 0);
};

/** Lays out a drill. The round holds at least one bar, and there is at least one step. */
export const layDrill = (plan: LayoutPlan): Layout => {
  const { round, grids, steps, times, countIn } = plan;
  const axis = new Axis();
  const repetitions: Repetition[] = [];
  const counts: (RoundClick & { readonly rep: number })[] = [];
  const lead = leadingBar(round);
  const grid = lead === undefined ? undefined : grids[lead.bar.index];
  const full = grid?.full ?? barWithoutMetre;
  const metre = lead?.bar.metre ?? noMetre;
  const missing = missingAtEnd(round, grids);
  const total = steps.length * times;
  let gapAdded = false;

  for (let rep = 1; rep <= total; rep++) {
    const paces = steps[Math.floor((rep - 1) / times)] ?? [];
    const pace = paces[0]?.from ?? F.one;
    if (countedIn(plan, rep) && grid !== undefined) {
      const counted = countedBars(grid, {
        firstBeatClicked: plan.firstBeatClicked,
        bars: countIn.bars,
        upbeat: round.upbeat,
        secondsOf: (length) => seconds(F.mul(length, pace)),
      });
      counts.push(...layCountIn(axis, counted, { metre, grid, pace, upbeat: round.upbeat }, rep));
    }
    const counted = grid !== undefined && rep < total && countedIn(plan, rep + 1);
    const between = rep === total ? null : breath(plan, missing, counted, full);
    gapAdded ||= between?.added === true;
    const length = minus(round.length, between?.cut ?? note(0));
    repetitions.push({ rep, at: axis.at, length });
    layOne(axis, round, paces, rep, length);
    if (between === null) continue;
    // What is not counted in anew is felt in the silence already.
    const coming = steps[Math.floor(rep / times)]?.[0]?.from ?? pace;
    laySilence(
      axis,
      between.space,
      { full, metre, pace: counted ? (paces.at(-1)?.to ?? pace) : coming },
      rep + 1,
    );
  }
  const problems = [
    ...(gapAdded ? [gapProblem] : []),
    ...(countIn.when !== 'none' && counts.length === 0 ? [uncountedProblem] : []),
  ];
  return { bars: axis.bars, paces: axis.paces, repetitions, counts, length: axis.at, problems };
};

const gapProblem = problem(
  'assumption',
  'gap-added',
  'The upbeat falls where the last bar still sounds, so one silent bar stands between repetitions; the metre stays whole.',
);

const uncountedProblem = problem(
  'note',
  'count-in-missing',
  'There is no count-in: the upbeat leaves no count of it, or the music has no metre to count.',
);

/** Silent bars of the length that is given, the last one as long as what is left. */
const laySilence = (
  axis: Axis,
  silence: Beats,
  { full, metre, pace }: { readonly full: Beats; readonly metre: Metre; readonly pace: Pace },
  rep: number,
): void => {
  const bars = Math.max(1, Number(F.floor(F.div(silence, full))));
  for (let i = 0; i < bars; i++) {
    const before = beats(F.mul(full, F.fraction(i)));
    const length = i < bars - 1 ? full : minus(silence, before);
    axis.push({ kind: 'gap', length, metre, rep, ...outside }, [steady(length, pace)]);
  }
};

/**
 * The silence between two repetitions: what the last bar lacks, the bars of breath, less the upbeat that falls into
 * it. Where no bar of breath is wanted, the upbeat takes the place of a last bar's silent end (`cut`); where that end
 * still sounds, one bar is added.
 */
const breath = (
  { round, gap, silentFrom }: LayoutPlan,
  missing: Beats,
  counted: boolean,
  full: Beats,
): { readonly space: Beats; readonly cut: Beats; readonly added: boolean } => {
  const bars = (count: number): Beats => beats(F.mul(full, F.fraction(count)));
  if (counted) return { space: plus(missing, bars(gap ?? 0)), cut: note(0), added: false };
  const space = minus(plus(missing, bars(gap ?? 1)), round.upbeat);
  if (!F.less(space, F.zero)) return { space, cut: note(0), added: false };
  const cut = beats(F.mul(space, F.fraction(-1)));
  const last = round.bars.at(-1);
  const fits =
    last !== undefined && F.less(cut, last.length) && F.atMost(silentFrom, minus(round.length, cut));
  return fits
    ? { space: note(0), cut, added: false }
    : { space: plus(space, full), cut: note(0), added: true };
};
