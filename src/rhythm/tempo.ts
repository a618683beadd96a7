/**
 * The tempo map: an exact map from a musical position to seconds, and back. Positions are fractions of a whole note
 * on whatever axis the map is made for (played order, or a drill's own axis).
 */
import {
  F,
  beats,
  bpm,
  plus,
  problem,
  seconds,
  figureText,
  type Beats,
  type Bpm,
  type Fraction,
  type Problem,
  type Seconds,
} from '../units/index.ts';
import { squareRoot } from './root.ts';

/** Seconds that a whole note lasts: 60 / (beats per minute x length of the beat). */
export type Pace = Fraction;

export interface TempoSection {
  readonly start: Beats;
  /** Null: without end. */
  readonly end: Beats | null;
  readonly time: Seconds;
  /** Pace at the start and at the end: equal while the tempo is steady. In between the pace changes linearly with the position. */
  readonly from: Pace;
  readonly to: Pace;
}

export interface TempoMap {
  /** Laid end to end, the first from 0, the last without end. */
  readonly sections: readonly TempoSection[];
}

/** The pace of `perMinute` beats of length `unit`. Both above zero: see `checkTempo` for what users give. */
export const pace = (unit: Beats, perMinute: Bpm): Pace => F.div(F.fraction(60), F.mul(perMinute, unit));

/** The inverse of `pace`: how many beats of length `unit` a minute holds. */
export const perMinute = (value: Pace, unit: Beats): Bpm => bpm(F.div(F.fraction(60), F.mul(value, unit)));

/** Bounds of a tempo that can be meant, in quarters per minute. Common practice, no source. */
const slowest = F.fraction(5);
const fastest = F.fraction(1000);

/**
 * What is wrong with a tempo that a user or a file gives, or null: `tempo-zero` for zero and below, `tempo-absurd`
 * outside `slowest` to `fastest` quarters per minute (both allowed).
 */
export const checkTempo = (unit: Beats, rate: Fraction): Problem | null => {
  if (!F.isPositive(rate) || !F.isPositive(unit))
    return problem(
      'error',
      'tempo-zero',
      `A tempo of ${figureText(rate)} a minute never gets on; it must be above zero.`,
    );
  const quarters = F.mul(F.mul(rate, unit), F.fraction(4));
  if (F.less(quarters, slowest) || F.less(fastest, quarters))
    return problem(
      'error',
      'tempo-absurd',
      `A tempo of ${F.format(unit)} = ${figureText(rate)} is ${figureText(quarters)} quarters a minute; from ${F.format(slowest)} to ${F.format(fastest)} can be played to.`,
    );
  return null;
};

/** A stretch of a map in the making. The pace changes linearly with the position from `from` to `to`. */
export interface TempoPiece {
  /** Not below zero; null: without end. */
  readonly length: Beats | null;
  readonly from: Pace;
  readonly to: Pace;
}

export const steady = (value: Pace, length: Beats | null = null): TempoPiece => ({
  length,
  from: value,
  to: value,
});
export const gradual = (from: Pace, to: Pace, length: Beats): TempoPiece => ({ length, from, to });

/**
 * Lays pieces end to end from position 0 at time 0. Pieces of no length vanish, equal steady neighbours become one,
 * what follows a piece without end is left out, and after the last piece its final pace goes on for ever. Throws
 * RangeError for no pieces, a negative length or a pace not above zero: callers check what users give.
 */
export const tempoMap = (pieces: readonly TempoPiece[]): TempoMap => {
  const sections: TempoSection[] = [];
  let start = beats(F.zero);
  let time = seconds(F.zero);
  let going: Pace | null = null;
  for (const { length, from, to } of pieces) {
    if (!F.isPositive(from) || !F.isPositive(to)) throw new RangeError('A pace must be above zero.');
    if (length !== null && F.less(length, F.zero)) throw new RangeError('A tempo has no negative length.');
    going = to;
    if (length === null) break;
    if (F.isZero(length)) continue;
    const last = sections.at(-1);
    const end = plus(start, length);
    const same =
      F.equal(from, to) && last !== undefined && F.equal(last.from, from) && F.equal(last.to, from);
    if (same) sections[sections.length - 1] = { ...last, end };
    else sections.push({ start, end, time, from, to });
    // The area under a straight line: length times the mean pace.
    time = plus(time, seconds(F.mul(length, F.div(F.add(from, to), F.fraction(2)))));
    start = end;
  }
  if (going === null) throw new RangeError('A tempo map needs a tempo.');
  const last = sections.at(-1);
  if (last !== undefined && F.equal(last.from, going) && F.equal(last.to, going))
    sections[sections.length - 1] = { ...last, end: null };
  else sections.push({ start, end: null, time, from: going, to: going });
  return { sections };
};

/** One tempo throughout. */
export const constant = (value: Pace): TempoMap => tempoMap([steady(value)]);

/** Tempi that change at once: each from its position on, the first one also before it. By position. */
export const stepped = (steps: readonly { readonly at: Beats; readonly pace: Pace }[]): TempoMap =>
  tempoMap(
    steps.map(({ at, pace: value }, i) => {
      const next = steps[i + 1];
      const from = i === 0 ? F.zero : at;
      return steady(value, next === undefined ? null : beats(F.sub(next.at, from)));
    }),
  );

/** The same map at `factor` times the tempo: 4/5 is 80 % of the tempo and takes 5/4 of the time. Above zero. */
export const scaled = (map: TempoMap, factor: Fraction): TempoMap => ({
  sections: map.sections.map((section) => ({
    ...section,
    time: seconds(F.div(section.time, factor)),
    from: F.div(section.from, factor),
    to: F.div(section.to, factor),
  })),
});

/** The last section that has begun; before the start, the first. */
const sectionFor = (map: TempoMap, begun: (section: TempoSection) => boolean): TempoSection => {
  let low = 0;
  let high = map.sections.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const section = map.sections[middle];
    if (section !== undefined && begun(section)) low = middle;
    else high = middle - 1;
  }
  const section = map.sections[low];
  if (section === undefined) throw new RangeError('A tempo map needs a tempo.');
  return section;
};

/** How much the pace grows for each whole note. */
const slope = ({ start, end, from, to }: TempoSection): Fraction =>
  end === null ? F.zero : F.div(F.sub(to, from), F.sub(end, start));

/** Pace at a position; at a sudden change, the new one. Before the start, the first. */
export const paceAt = (map: TempoMap, at: Beats): Pace => {
  const section = sectionFor(map, ({ start }) => F.atMost(start, at));
  const into = F.max(F.sub(at, section.start), F.zero);
  return F.add(section.from, F.mul(slope(section), into));
};

/** Exact time of a position. Before the start, the first pace goes on backwards. */
export const secondsAtPosition = (map: TempoMap, at: Beats): Seconds => {
  const section = sectionFor(map, ({ start }) => F.atMost(start, at));
  const into = F.sub(at, section.start);
  const bend = F.isPositive(into) ? F.div(slope(section), F.fraction(2)) : F.zero;
  const spent = F.mul(into, F.add(section.from, F.mul(bend, into)));
  return seconds(F.add(section.time, spent));
};

/**
 * Position of a time: the inverse of `secondsAtPosition`. Exact in steady sections, and in gradual ones wherever the
 * position is a fraction at all; elsewhere the nearest fraction at hand, whose own time differs from `t` by less than
 * 2^-94 of the time since the section began (so by less than 1e-12 s for sections of up to 10^16 s).
 */
export const positionAtSeconds = (map: TempoMap, t: Seconds): Beats => {
  const section = sectionFor(map, ({ time }) => F.atMost(time, t));
  const spent = F.sub(t, section.time);
  const bend = F.isPositive(spent) ? slope(section) : F.zero;
  if (F.isZero(bend)) return beats(F.add(section.start, F.div(spent, section.from)));
  // bend/2 u^2 + from u = spent. The root's square is the pace at u squared, so it is above zero; this form of the
  // solution loses no digits when the bend is slight.
  const square = F.add(F.mul(section.from, section.from), F.mul(F.mul(F.fraction(2), bend), spent));
  const root = squareRoot(square);
  const into = F.div(F.mul(F.fraction(2), spent), F.add(section.from, root));
  return beats(F.add(section.start, into));
};
