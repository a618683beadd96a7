/**
 * The likeliest way of a player through the score: a hidden Markov model over the events of the part, by Viterbi's
 * algorithm. Each event has two states, sounding and "after it" (silence, or something that is not in the score). Notes may
 * be left out; from anywhere the player may start again somewhere else, likeliest at the beginning of a bar.
 */
import type { Event } from './events.ts';
import { flowOf, longCost, nextPace, shortCost, type Flow } from './flow.ts';
import type { Coarse } from './likeness.ts';
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

/**
 * The path through a take: visits in time order. An event that was played again is visited again. `flowing`: steps are held against the tempo of
 * the way so far; where several play, pitches alone do not tell one onset from the next.
 */
export const findPath = (
  coarse: Coarse,
  events: readonly Event[],
  expected: Expectation | null,
  flowing = false,
): readonly Visit[] => {
  const m = events.length;
  const { frames, pitches, likeness, level, flux } = coarse;
  if (m === 0 || frames === 0) return [];
  const width = m * frames <= mostCells ? m : Math.min(m, 2 * reach);
  const places = (midis: readonly number[]): readonly number[] => midis.map((midi) => pitches.indexOf(midi));
  const columns = events.map(({ midis, sounding }) => places(sounding ?? midis));
  const begun = events.map(({ midis, sounding }, i) =>
    sounding === undefined ? (columns[i] ?? []) : places(midis),
  );
  const like = (t: number, i: number, of = columns): number => {
    const own = of[i] ?? [];
    if (own.length === 0) return 0.45;
    const frame = Math.min(frames - 1, Math.max(0, t)) * pitches.length;
    if (own.length === 1) return likeness[frame + (own[0] ?? 0)] ?? 0;
    let sum = 0;
    for (const p of own) sum += (likeness[frame + p] ?? 0) ** 2;
    return Math.min(1, Math.sqrt(sum));
  };
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
  const wait = (state: number, t: number): number => {
    const i = state >> 1;
    if (!flowing || i + 1 >= m) return 0;
    const [since, steps] = [flow.since[state] ?? 0, flow.steps[state] ?? 0];
    const due = between(i, i + 1) * Math.exp(flow.pace[state] ?? 0);
    const seconds = (t - since) * frameSeconds;
    return longCost(seconds, due, steps) - longCost(seconds - frameSeconds, due, steps);
  };
  const step = (from: number, to: number, t: number): number => {
    if (!flowing) return 0;
    const due = between(from >> 1, to) * Math.exp(flow.pace[from] ?? 0);
    return shortCost((t - (flow.since[from] ?? 0)) * frameSeconds, due, flow.steps[from] ?? 0);
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
    for (let i = start; i < start + width; i += 1) {
      const event = events[i];
      if (event === undefined) continue;
      let entry = event.slurred ? 0.5 * sudden - 0.2 : 1.5 * Math.min(1.2, sudden) - 0.7;
      const now = like(t, i);
      if (!event.repeated) entry += 2 * Math.max(0, like(t + 1, i, begun) - like(t - 2, i, begun));
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
      const consider = (value: number, how: number, state = -1): void => {
        if (value === -Infinity) return;
        const worth = value + entry - (state < 0 ? 0 : step(state, i, t));
        if (worth > score) [score, way, from] = [worth, how, state];
      };
      if (i > 0) {
        consider((note[i - 1] ?? -Infinity) - cost.leave, ways.next, 2 * i - 2);
        consider((after[i - 1] ?? -Infinity) - cost.afterGap, ways.afterGap, 2 * i - 1);
      }
      if (i > 1) {
        consider((note[i - 2] ?? -Infinity) - cost.skip[0], ways.skip1, 2 * i - 4);
        consider((after[i - 2] ?? -Infinity) - cost.skip[0], ways.skip1Gap, 2 * i - 3);
      }
      if (i > 2) {
        consider((note[i - 3] ?? -Infinity) - cost.skip[1], ways.skip2, 2 * i - 6);
        consider((after[i - 3] ?? -Infinity) - cost.skip[1], ways.skip2Gap, 2 * i - 5);
      }
      if (i === 0) consider(oldBefore, ways.begin);
      else if (event.entry) consider(oldBefore - jump / 2, ways.begin);
      if (source >= 0) consider(most - jump - (event.entry ? 0 : cost.elsewhere), ways.jump);
      score += 4 * (now - 0.4) * (1 - quiet) - 1.2 * quiet;
      nextNote[i] = score;
      const held = (after[i] ?? -Infinity) - wait(2 * i + 1, t);
      const fresh = (note[i] ?? -Infinity) - cost.gap;
      nextAfter[i] = Math.max(held, fresh) + afterWeight;
      row[i - start] = way | (fresh > held ? gapFromNote : 0);
      if (flowing) {
        goOn(
          flow,
          nextFlow,
          { from: way === ways.stay ? from : way >= ways.jump ? -1 : from, to: 2 * i, t },
          way,
          between,
        );
        goOn(
          flow,
          nextFlow,
          { from: fresh > held ? 2 * i : 2 * i + 1, to: 2 * i + 1, t },
          ways.stay,
          between,
        );
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
  return traced(state, back.codes(state), jumpFrom);
};

/** How the way to a state in frame `t` stands, from how it stood before; `from` -1: it begins there. */
const goOn = (
  flow: Flow,
  next: Flow,
  { from, to, t }: { readonly from: number; readonly to: number; readonly t: number },
  way: number,
  between: (from: number, to: number) => number,
): void => {
  const [pace, steps, since] = [flow.pace[from] ?? 0, flow.steps[from] ?? 0, flow.since[from] ?? t];
  const stays = way === ways.stay;
  next.since[to] = stays ? since : t;
  next.steps[to] = from < 0 ? 0 : stays ? steps : steps + 1;
  next.pace[to] =
    stays || from < 0 ? pace : nextPace(pace, steps, (t - since) * frameSeconds, between(from >> 1, to >> 1));
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
