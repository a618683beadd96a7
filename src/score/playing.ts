/**
 * The order in which the bars are played: repeats, endings, da capo, dal segno, coda and fine unfolded. Rules and
 * their sources: docs/formats/playing-order.md.
 */
import { note, plus, problem, remembered, type Beats, type Problem } from '../units/index.ts';
import type { Bar, Score } from './model.ts';
import { barName } from './playing/brackets.ts';
import { movements } from './playing/movements.ts';
import { walk } from './playing/walk.ts';

/** One playing of one bar. */
export interface Visit {
  /** In played order, from 0. */
  readonly index: number;
  readonly barIndex: number;
  /** The how-manieth time this bar is played, from 1. */
  readonly pass: number;
  /** Played position of its beginning: a fraction of a whole note from the start of the performance. */
  readonly start: Beats;
  /** Written position of its beginning. */
  readonly written: Beats;
  readonly length: Beats;
}

export interface PlayingOrder {
  /** Laid end to end from 0; never empty for a score with bars. */
  readonly visits: readonly Visit[];
  /** Played length of the whole. */
  readonly length: Beats;
  /** Written position at which the score ends, played or not. */
  readonly writtenEnd: Beats;
}

export interface PlayingOptions {
  /**
   * Whether repeats that were already played are played again after a da capo or dal segno. Absent: as the repeat
   * sign says (MusicXML `after-jump`), else not (common practice, no source). True: all. False: none.
   */
  readonly repeatsAfterJump?: boolean;
}

/** No score is played for longer than this many bars; contradictory signs could ask for it. */
export const mostVisits = 100_000;

interface FoundOrder {
  readonly order: PlayingOrder;
  readonly problems: readonly Problem[];
}

const orderOf = (score: Score, options: PlayingOptions): FoundOrder => {
  const { bars } = score;
  const problems: Problem[] = [];
  const played: number[] = [];
  for (const stretch of movements(bars)) {
    const result = walk(bars, stretch, options.repeatsAfterJump, mostVisits - played.length);
    problems.push(...result.problems);
    if (result.played !== null) {
      for (const i of result.played) played.push(i);
      continue;
    }
    const first = bars[stretch.from];
    problems.push(
      problem(
        'repair',
        'playing-order-too-long',
        `With all its repeats this piece would have more than ${mostVisits} bars, so some repeat signs must be wrong; from ${first === undefined ? 'there' : barName(first)} on the bars are played once each.`,
        { bar: first?.number ?? '' },
      ),
    );
    for (let i = stretch.from; i <= stretch.to; i += 1) played.push(i);
  }
  problems.push(...neverPlayed(bars, new Set(played)));
  return { order: laidOut(bars, played), problems };
};

const usualOrder = remembered((score: Score) => orderOf(score, {}));

/**
 * The playing order of a score and what had to be repaired or assumed to find it. Always ends: where more than
 * `mostVisits` bars would be played, the bars are taken once each as written and that is said. Without options it is
 * found once for each score.
 */
export const playingOrder = (score: Score, options?: PlayingOptions): FoundOrder =>
  options === undefined ? usualOrder(score) : orderOf(score, options);

/** The order that plays the given bar indices one after another. Indices without a bar are left out. */
const laidOut = (bars: readonly Bar[], played: readonly number[]): PlayingOrder => {
  const visits: Visit[] = [];
  const passes = new Map<number, number>();
  let start = note(0);
  for (const barIndex of played) {
    const bar = bars[barIndex];
    if (bar === undefined) continue;
    const pass = (passes.get(barIndex) ?? 0) + 1;
    passes.set(barIndex, pass);
    visits.push({ index: visits.length, barIndex, pass, start, written: bar.start, length: bar.length });
    start = plus(start, bar.length);
  }
  const last = bars.at(-1);
  return { visits, length: start, writtenEnd: last === undefined ? note(0) : plus(last.start, last.length) };
};

/** One problem for each run of bars that the playing order leaves out. */
const neverPlayed = (bars: readonly Bar[], played: ReadonlySet<number>): Problem[] => {
  const result: Problem[] = [];
  for (let i = 0; i < bars.length; i += 1) {
    const first = bars[i];
    if (first === undefined || played.has(i)) continue;
    while (i + 1 < bars.length && !played.has(i + 1)) i += 1;
    const last = bars[i] ?? first;
    const message =
      last === first
        ? `The repeat signs and jumps lead around ${barName(first)}, so it is never played.`
        : `The repeat signs and jumps lead around ${barName(first)} to ${barName(last)}, so they are never played.`;
    result.push(problem('note', 'bar-never-played', message, { bar: first.number }));
  }
  return result;
};
