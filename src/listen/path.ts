/**
 * The likeliest way of a player through the score: a hidden Markov model over the events of the part, by Viterbi's
 * algorithm. Each event has two states, sounding and "after it" (silence, or something that is not in the score). Notes may
 * be left out; from anywhere the player may start again somewhere else, likeliest at the beginning of a bar.
 */
import type { Event } from './events.ts';
import { flowOf, longCost, nextPace, shortCost, spreadAt, type Flow } from './flow.ts';
import type { Coarse } from './likeness.ts';
import { likenesses } from './pathLikeness.ts';
import { frameSeconds } from './spectra.ts';
import { waysBack } from './waysBack.ts';

/** When each event is likely to begin in the recording, and how surely. */
export interface Expectation {
  /** One course for each attempt at the music: seconds, one for each event, NaN where the attempt tells nothing. The nearest counts. */
  readonly courses: readonly Float64Array[];
  /** Seconds of deviation that cost one unit. */
  readonly spread: number;
  /** Deviations cost no more than this. */
  readonly most: number;
}

export interface Visit {
  readonly event: number;
  /** Frames, from and up to and without. */
  readonly from: number;
  readonly to: number;
}

/** Costs in natural logarithms of odds; set on tuning material (docs/hearing-reading.md). */
const cost = {
  leave: 1,
  gap: 0.7,
  afterGap: 0.3,
  skip: [4, 7],
  jump: 14,
  jumpOnClock: 20,
  jumpFlowing: 28,
  elsewhere: 4,
} as const;
/** Of coming from one, two or three events before, out of its sounding and from after it, in turn. */
const comingFrom = Float64Array.of(
  cost.leave,
  cost.afterGap,
  cost.skip[0],
  cost.skip[0],
  cost.skip[1],
  cost.skip[1],
);

/** States on each side of the likeliest one that are followed in a very long take. */
const reach = 700;
/** Takes in which events times frames are more than this are very long. */
const mostCells = 150e6;

const ways = {
  stay: 0,
  next: 1,
  afterGap: 2,
  skip1: 3,
  skip1Gap: 4,
  skip2: 5,
  skip2Gap: 6,
  jump: 7,
  begin: 8,
};
const gapFromNote = 128;

/** Lead over not having begun from which on beginning late loses to a jump for good: beyond what jumps and gaps cost. */
const surely = 60;

const silence = (level: number): number => 1 / (1 + Math.exp((level + 33) / 3));

/** A path through a take, and its log odds against nothing having been played. */
export interface Way {
  readonly visits: readonly Visit[];
  readonly worth: number;
}

/**
 * The path through a take: visits in time order. An event that was played again is visited again. `flowing`: steps are held against the tempo of
 * the way so far; where several play, pitches alone do not tell one onset from the next.
 */
export const bestWay = (
  coarse: Coarse,
  events: readonly Event[],
  expected: Expectation | null,
  flowing = false,
): Way => {
  const m = events.length;
  const { frames, pitches, level, flux } = coarse;
  if (m === 0 || frames === 0) return { visits: [], worth: 0 };
  const width = m * frames <= mostCells ? m : Math.min(m, 2 * reach);
  const places = (midis: readonly number[]): readonly number[] => midis.map((midi) => pitches.indexOf(midi));
  // First what sounds at each event, then what begins.
  const like = likenesses(coarse, [
    ...events.map(({ midis, sounding }) => places(sounding ?? midis)),
    ...events.map(({ midis }) => places(midis)),
  ]);
  const jump = flowing ? cost.jumpFlowing : expected === null ? cost.jump : cost.jumpOnClock;
  const starts = new Int32Array(frames);
  /** From which state (event, and whether after it) a jump at this frame would come. */
  const jumpFrom = new Int32Array(frames);
  const back = waysBack(
    frames,
    width,
    (state, t) => (state >> 1) - (starts[t] ?? 0),
    (state, code, t) => cameFrom(state, code, jumpFrom[t] ?? -1),
  );
  let note = new Float64Array(m).fill(-Infinity);
  let after = new Float64Array(m).fill(-Infinity);
  // Two rows in turn, for a new one in each frame costs as much as the music is long.
  let [nextNote, nextAfter] = [note.slice(), after.slice()];
  let [flow, nextFlow] = [flowOf(flowing ? 2 * m : 0), flowOf(flowing ? 2 * m : 0)];
  /** Seconds of the score from one event to another, at the pace of a way. */
  const between = (from: number, to: number): number =>
    Math.max(0.01, (events[to]?.time ?? 0) - (events[from]?.time ?? 0));
  /** To the next event. */
  const gaps = Float64Array.from(events, (_, i) => between(i, i + 1));
  const freshSpreads = gaps.map((gap) => spreadAt(gap, 0));
  const wait = (state: number, t: number): number => {
    if (!flowing || (state >> 1) + 1 >= m) return 0;
    const seconds = (t - (flow.since[state] ?? 0)) * frameSeconds;
    const [due, spread] = [flow.due[state] ?? 0, flow.spread[state] ?? 0];
    return longCost(seconds, due, spread) - longCost(seconds - frameSeconds, due, spread);
  };
  const step = (from: number, to: number, t: number): number => {
    if (!flowing) return 0;
    const seconds = (t - (flow.since[from] ?? 0)) * frameSeconds;
    if (to === (from >> 1) + 1) return shortCost(seconds, flow.due[from] ?? 0, flow.spread[from] ?? 0);
    const due = between(from >> 1, to) * (flow.stretch[from] ?? 0);
    return due <= seconds ? 0 : shortCost(seconds, due, spreadAt(due, flow.steps[from] ?? 0));
  };
  /** How the way to a state stands, from how it stood before; `from` -1: it begins there. */
  const goOn = (from: number, to: number, t: number, stays: boolean): void => {
    if (stays) {
      keepOn(flow, nextFlow, from, to);
      return;
    }
    const i = to >> 1;
    nextFlow.since[to] = t;
    if (from < 0) {
      nextFlow.steps[to] = 0;
      nextFlow.pace[to] = 0;
      nextFlow.stretch[to] = 1;
      nextFlow.due[to] = gaps[i] ?? 0;
      nextFlow.spread[to] = freshSpreads[i] ?? 0;
      return;
    }
    const steps = flow.steps[from] ?? 0;
    const seconds = (t - (flow.since[from] ?? t)) * frameSeconds;
    const pace = nextPace(flow.pace[from] ?? 0, steps, seconds, between(from >> 1, i));
    const stretch = Math.exp(pace);
    const due = (gaps[i] ?? 0) * stretch;
    nextFlow.steps[to] = steps + 1;
    nextFlow.pace[to] = pace;
    nextFlow.stretch[to] = stretch;
    nextFlow.due[to] = due;
    nextFlow.spread[to] = spreadAt(due, steps + 1);
  };
  /** Where the spare rows were written; elsewhere nothing is. */
  let written = 0;
  /** Before anything was played. */
  let before = 0;
  let [bestEvent, bestScore] = [0, -Infinity];
  /** States that anything can still come of. Not having begun is one until a jump is surely the better way in. */
  const live = function* (): Generator<number> {
    if (events[0]?.entry !== true || bestScore - before < surely) yield -1;
    for (let i = 0; i < m; i += 1) {
      if (note[i] !== -Infinity) yield 2 * i;
      if (after[i] !== -Infinity) yield 2 * i + 1;
    }
  };
  for (let t = 0; t < frames; t += 1) {
    const quiet = silence(level[t] ?? -99);
    const afterWeight = 0.9 * quiet - 0.3 * (1 - quiet);
    const start = Math.min(Math.max(0, bestEvent - (width >> 1)), m - width);
    starts[t] = start;
    nextNote.fill(-Infinity, written, written + width);
    nextAfter.fill(-Infinity, written, written + width);
    let [source, most] = [-1, before];
    for (let i = start; i < start + width; i += 1) {
      if ((note[i] ?? -Infinity) > most) [source, most] = [2 * i, note[i] ?? -Infinity];
      if ((after[i] ?? -Infinity) > most) [source, most] = [2 * i + 1, after[i] ?? -Infinity];
    }
    jumpFrom[t] = source;
    const sudden = Math.max(flux[t] ?? 0, flux[t + 1] ?? 0);
    bestScore = -Infinity;
    const row = back.row();
    const oldBefore = before;
    before += afterWeight;
    const suddenEntry = 1.5 * Math.min(1.2, sudden) - 0.7;
    const slurredEntry = 0.5 * sudden - 0.2;
    for (let i = start; i < start + width; i += 1) {
      const event = events[i];
      if (event === undefined) continue;
      let entry = event.slurred ? slurredEntry : suddenEntry;
      const now = like.at(t, like.kinds[i] ?? 0);
      const kind = like.kinds[m + i] ?? 0;
      if (!event.repeated) entry += 2 * Math.max(0, like.at(t + 1, kind) - like.at(t - 2, kind));
      if (expected !== null) {
        let off = expected.most;
        for (const course of expected.courses) {
          const away = Math.abs(t * frameSeconds - (course[i] ?? NaN)) / expected.spread;
          if (away < off) off = away;
        }
        entry -= off;
      }
      let way: number = ways.stay;
      let score = (note[i] ?? -Infinity) - wait(2 * i, t);
      let from = 2 * i;
      const ended = Math.min(6, 2 * i);
      for (let k = 0; k < ended; k += 1) {
        const before = i - 1 - (k >> 1);
        const value = ((k % 2 === 0 ? note[before] : after[before]) ?? -Infinity) - (comingFrom[k] ?? 0);
        // A step costs nothing at best: what is not better without it needs no looking at.
        if (value + entry <= score) continue;
        const state = 2 * before + (k % 2);
        const worth = value + entry - step(state, i, t);
        if (worth > score) [score, way, from] = [worth, ways.next + k, state];
      }
      if (i === 0 || event.entry) {
        const worth = (i === 0 ? oldBefore : oldBefore - jump / 2) + entry;
        if (worth > score) [score, way, from] = [worth, ways.begin, -1];
      }
      if (source >= 0) {
        const worth = most - jump - (event.entry ? 0 : cost.elsewhere) + entry;
        if (worth > score) [score, way, from] = [worth, ways.jump, -1];
      }
      score += 4 * (now - 0.4) * (1 - quiet) - 1.2 * quiet;
      nextNote[i] = score;
      const held = (after[i] ?? -Infinity) - wait(2 * i + 1, t);
      const fresh = (note[i] ?? -Infinity) - cost.gap;
      nextAfter[i] = Math.max(held, fresh) + afterWeight;
      row[i - start] = way | (fresh > held ? gapFromNote : 0);
      if (flowing) {
        goOn(from, 2 * i, t, way === ways.stay);
        goOn(fresh > held ? 2 * i : 2 * i + 1, 2 * i + 1, t, true);
      }
      const better = Math.max(score, nextAfter[i] ?? -Infinity);
      if (better > bestScore) {
        bestScore = better;
        bestEvent = i;
      }
    }
    [note, nextNote, after, nextAfter] = [nextNote, note, nextAfter, after];
    [flow, nextFlow] = [nextFlow, flow];
    // The row just read becomes the spare one; it was written in the frame before.
    written = starts[t - 1] ?? 0;
    back.settle(live);
  }
  let state = -1;
  let most = before;
  note.forEach((score, i) => {
    if (score > most) [state, most] = [2 * i, score];
    if ((after[i] ?? -Infinity) > most) [state, most] = [2 * i + 1, after[i] ?? -Infinity];
  });
  return { visits: traced(state, back.codes(state), jumpFrom), worth: most };
};

/** The visits alone. */
export const findPath = (...given: Parameters<typeof bestWay>): readonly Visit[] => bestWay(...given).visits;

/** The way to a state goes on as it was in another. */
const keepOn = (flow: Flow, next: Flow, from: number, to: number): void => {
  next.since[to] = flow.since[from] ?? 0;
  next.steps[to] = flow.steps[from] ?? 0;
  next.pace[to] = flow.pace[from] ?? 0;
  next.stretch[to] = flow.stretch[from] ?? 0;
  next.due[to] = flow.due[from] ?? 0;
  next.spread[to] = flow.spread[from] ?? 0;
};

/** The state in the frame before that a state with this code came from; a jump came from `source`. */
const cameFrom = (state: number, code: number, source: number): number => {
  const i = state >> 1;
  if (state % 2 === 1) return (code & gapFromNote) !== 0 ? 2 * i : state;
  const way = code & 127;
  if (way === ways.stay) return state;
  if (way === ways.begin) return -1;
  if (way === ways.jump) return source;
  const steps = way <= ways.afterGap ? 1 : way <= ways.skip1Gap ? 2 : 3;
  const gap = way === ways.afterGap || way === ways.skip1Gap || way === ways.skip2Gap;
  return 2 * (i - steps) + (gap ? 1 : 0);
};

const traced = (last: number, codes: Uint8Array, jumpFrom: Int32Array): readonly Visit[] => {
  const visits: Visit[] = [];
  let state = last;
  let to = codes.length;
  for (let t = codes.length - 1; t >= 0 && state >= 0; t -= 1) {
    const code = codes[t] ?? 0;
    if (state % 2 === 0 && (code & 127) !== ways.stay) {
      visits.push({ event: state >> 1, from: t, to });
      to = t;
    } else if (state % 2 === 1 && (code & gapFromNote) !== 0) to = t;
    state = cameFrom(state, code, jumpFrom[t] ?? -1);
  }
  return visits.reverse();
};
