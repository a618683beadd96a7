/** A drill worked out on its score: the passage found, its clicks and notes laid on one time axis. */
import { parseClick, type ClickRule } from '../click/placement.ts';
import { parseCountIn } from '../click/countIn.ts';
import { asWritten, barGrids, type BarGrid, type Counting } from '../rhythm/beats.ts';
import { gradualSpans } from '../rhythm/gradual.ts';
import { irregularCount, parseGroups } from '../rhythm/groups.ts';
import { findBars, findPassage } from '../rhythm/passage.ts';
import { scoreTempo } from '../rhythm/scoreTempo.ts';
import { parseValue } from '../rhythm/value.ts';
import type { Part, Score } from '../score/model.ts';
import { withOctaves } from '../score/octaves.ts';
import { playingOrder, type PlayingOrder } from '../score/playing.ts';
import {
  beats,
  checkSampleRate,
  F,
  note,
  ok,
  problem,
  refusable,
  Refusal,
  type Beats,
  type Problem,
  type Result,
} from '../units/index.ts';
import { chooseKept, keptProblems } from './chooseKept.ts';
import { placementsApart } from './apartBars.ts';
import { hemiolaProblems, hemiolaStrikes, type BarSpan } from './hemiolaBars.ts';
import { firstStretch, layDrill, type RoundPaces } from './layout.ts';
import type { Drill, Timeline } from './model.ts';
import { roundPaces } from './roundPaces.ts';
import { fermatas, layRound, type Round } from './round.ts';
import { roundClicks } from './roundClicks.ts';
import { roundNotes } from './roundNotes.ts';
import { generalPauses, type Silences } from './silences.ts';
import { timelineOf } from './timeline.ts';
import { findUpbeat } from './upbeat.ts';

export interface WorkedDrill {
  readonly drill: Drill;
  /** As read, with the octaves that the drill adds. */
  readonly score: Score;
  readonly order: PlayingOrder;
  readonly grids: readonly BarGrid[];
  readonly parts: readonly Part[];
  /** Ids of the sounding notes that the line filter keeps. */
  readonly kept: ReadonlySet<string>;
  readonly round: Round;
  readonly timeline: Timeline;
}

/** No drill is longer than this, in seconds. */
const longest = 12 * 3600;

/** A Result's value; its error leaves `workOut` as its failed Result, its problems are collected. */
type Take = <T>(result: Result<T>) => T;

const choosePart = (score: Score, name: string): Part => {
  const wanted = name.trim().toLowerCase();
  const found =
    score.parts.find(({ id }) => id.toLowerCase() === wanted) ??
    score.parts.find((part) => part.name.toLowerCase() === wanted);
  if (found !== undefined) return found;
  const known = score.parts.map((part) => `${part.id} (${part.name})`).join(', ');
  const message =
    score.parts.length === 0
      ? `There is no part "${name}": this score has bars only.`
      : `There is no part "${name}". The parts are ${known}.`;
  throw new Refusal('part-unknown', message);
};

const chooseParts = (score: Score, names: readonly string[] | null): readonly Part[] => {
  if (names === null) return score.parts;
  const chosen = new Set(names.map((name) => choosePart(score, name)));
  return score.parts.filter((part) => chosen.has(part));
};

/** The smallest value that may be counted. */
const leastCount = F.fraction(1, 64);

const countingOf = (drill: Drill): Counting => {
  const unit = drill.count === null ? asWritten.unit : parseValue(drill.count);
  if (drill.count !== null && (unit === null || F.less(unit, leastCount))) {
    const message = `"${drill.count}" cannot be counted in: write a note value down to 1/64, such as 1/8 or 1/4.`;
    throw new Refusal('count-unknown', message);
  }
  const groups = drill.groups === null ? asWritten.groups : parseGroups(drill.groups);
  if (drill.groups !== null && groups === null) {
    throw new Refusal('groups-unknown', `"${drill.groups}" is no grouping: write it as 2+2+3.`);
  }
  return { unit, groups };
};

const checkWhole = (value: number | null, what: string, least: number, most: number): void => {
  if (value !== null && (!Number.isInteger(value) || value < least || value > most)) {
    throw new Refusal(
      'number-out-of-range',
      `${what} is ${value}; it must be a whole number from ${least} to ${most}.`,
    );
  }
};

const checkNumbers = (drill: Drill, sampleRate: number): void => {
  checkWhole(drill.times, 'The number of repetitions', 1, 1000);
  checkWhole(drill.gap, 'The gap between repetitions', 0, 16);
  checkWhole(drill.pass, 'The time through', 1, 1000);
  checkWhole(drill.tacet?.with ?? null, 'The number of bars with the click', 1, 1000);
  checkWhole(drill.tacet?.without ?? null, 'The number of bars without the click', 1, 1000);
  const wrong = checkSampleRate(sampleRate);
  if (wrong !== null) throw new Refusal(wrong.code, wrong.message);
};

const silencesOf = (score: Score, drill: Drill, parts: readonly Part[]): Silences => ({
  tacet: drill.tacet,
  fermatas: drill.holds === 'count' ? fermatas(parts) : [],
  gradual: gradualSpans(score),
  pauses: generalPauses(score),
});

const clicksAtAll = ({ placement, apart }: ClickRule): boolean =>
  [placement, ...apart.map((one) => one.placement)].some(({ kind }) => kind !== 'none');

const hemiolaBars = (score: Score, { hemiola }: ClickRule): Result<BarSpan | null> => {
  if (hemiola === null) return ok(null);
  const { from, to } = hemiola;
  return findBars(score, from === to ? from : `${from}-${to}`);
};

/** Groups that fit no bar of the passage are a slip worth telling. */
const groupsProblems = (groups: readonly number[] | null, round: Round): readonly Problem[] => {
  const count = groups?.reduce((a, b) => a + b, 0);
  const fits = round.bars.some(({ bar }) => irregularCount(bar)?.count === count);
  if (groups === null || fits) return [];
  const text = groups.join('+');
  return [
    problem(
      'note',
      'groups-unused',
      `No bar of the passage can be grouped as ${text}: it is counted as usual.`,
    ),
  ];
};

/** A counted value that does not fill the bar leaves a short beat at its end. */
const countProblems = ({ unit }: Counting, round: Round, grids: readonly BarGrid[]): readonly Problem[] => {
  if (unit === null) return [];
  const metres = new Set(
    round.bars.flatMap(({ bar }) => {
      const grid = grids[bar.index];
      const short = grid !== undefined && F.less(unit, grid.full) && !F.isZero(F.modulo(grid.full, unit));
      return short ? [grid.metre] : [];
    }),
  );
  return [...metres].map((metre) =>
    problem(
      'assumption',
      'count-uneven',
      `A bar of ${metre} cannot be counted in ${F.format(unit)} throughout: its last beat is shorter.`,
    ),
  );
};

const endOfNotes = (
  found: readonly { readonly at: Beats; readonly length: Beats; readonly kept: boolean }[],
): Beats =>
  found.reduce(
    (latest, { at, length, kept }) => (kept ? beats(F.max(latest, F.add(at, length))) : latest),
    note(0),
  );

/**
 * Works out a drill on its score at a sample rate in Hz. Every fault of the drill is a failed Result: bars, parts,
 * placements, tempi and values that are not there or make no sense here. Same drill and score, same result.
 */
export const workOut = (score: Score, drill: Drill, sampleRate: number): Result<WorkedDrill> =>
  refusable(() => {
    const problems: Problem[] = [];
    const take: Take = (result) => {
      if (!result.ok) throw new Refusal(result.error.code, result.error.message, result.error);
      problems.push(...result.problems);
      return result.value;
    };
    checkNumbers(drill, sampleRate);
    const sounding = take(withOctaves(score, drill.octaves));
    const parts = chooseParts(sounding, drill.parts);
    const counting = countingOf(drill);
    const grids = barGrids(sounding, counting);
    const { order } = playingOrder(sounding);
    const visits = take(findPassage(sounding, order, drill));
    const before = take(findUpbeat(sounding, order, grids, parts, visits, drill.upbeat));
    const rule = take(parseClick(drill.click));
    const countIn = take(parseCountIn(drill.countIn));
    const silences = silencesOf(sounding, drill, parts);
    const hemiola = take(hemiolaBars(sounding, rule));
    const apart = take(placementsApart(sounding, rule.apart));

    const recount = drill.holds === 'count' && countIn.when !== 'none' && clicksAtAll(rule);
    const round = layRound(
      sounding.bars,
      grids,
      { visits, before },
      { fermatas: silences.fermatas, recount },
    );
    problems.push(
      ...hemiolaProblems(round, hemiola),
      ...groupsProblems(counting.groups, round),
      ...countProblems(counting, round, grids),
    );
    // A hemiola is one of the metre, however the players count.
    const strikes = take(hemiolaStrikes(barGrids(sounding, asWritten), hemiola));
    const clicks = take(
      roundClicks(round, grids, { placement: rule.placement, hemiola: strikes, apart }, silences),
    );
    const kept = take(chooseKept(parts, drill.keep));
    const notes = roundNotes(round, parts, grids, ({ id }) => kept.ids.has(id));
    problems.push(...keptProblems(kept, drill.keep, parts, notes));

    const tempo = scoreTempo(sounding, order);
    const steps = take(roundPaces(round, grids, tempo, drill.tempo));
    checkLength(steps, drill.times);
    const firstBeat = firstStretch(round)?.start ?? note(0);
    const layout = layDrill({
      round,
      grids,
      steps,
      times: drill.times,
      countIn,
      gap: drill.gap,
      firstBeatClicked: clicks.some(({ kind, at }) => kind === 'click' && F.equal(at, firstBeat)),
      silentFrom: parts.length === 0 ? round.length : endOfNotes(notes),
    });
    problems.push(...layout.problems);
    const timeline = timelineOf(layout, { clicks, notes }, sampleRate);
    return ok({ drill, score: sounding, order, grids, parts, kept: kept.ids, round, timeline }, problems);
  });

/** Refuses what would fill memory and disk before it is laid out. Count-ins and silences are not reckoned in. */
const checkLength = (steps: readonly RoundPaces[], times: number): void => {
  const once = steps.flat().map(({ length, from, to }) => F.toNumber(F.mul(length, F.add(from, to))) / 2);
  const total = times * once.reduce((a, b) => a + b, 0);
  if (total > longest) {
    const hours = Math.round(total / 360) / 10;
    throw new Refusal(
      'drill-too-long',
      `This drill would last ${hours} hours; the longest is ${longest / 3600}. Ask for fewer repetitions.`,
    );
  }
};
