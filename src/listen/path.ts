/**
 * The likeliest way of a player through the score: a hidden Markov model over the events of the part, by Viterbi's
 * algorithm. Each event has two states, sounding and "after it" (silence, or something that is not in the score). Notes may
 * be left out; from anywhere the player may start again at the beginning of a bar, earlier or later.
 */
import type { Event } from './events.ts';
import type { Coarse } from './likeness.ts';
import { frameSeconds } from './spectra.ts';

/** When each event is likely to begin in the recording: seconds, one for each event; and how surely. */
export interface Expectation {
  readonly times: Float64Array;
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
const cost = { leave: 1, gap: 0.7, afterGap: 0.3, skip: [4, 7], jump: 14, jumpOnClock: 20 } as const;

/** States on each side of the likeliest one that are followed in a very long take. */
const reach = 700;
/** Cells of the table of ways back that are kept at most: one byte each. */
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

const silence = (level: number): number => 1 / (1 + Math.exp((level + 33) / 3));

/** The path through a take: visits in time order. An event that was played again is visited again. */
export const findPath = (
  coarse: Coarse,
  events: readonly Event[],
  expected: Expectation | null,
): readonly Visit[] => {
  const m = events.length;
  const { frames, pitches, likeness, level, flux } = coarse;
  if (m === 0 || frames === 0) return [];
  const width = m * frames <= mostCells ? m : Math.min(m, 2 * reach);
  const columns = events.map(({ midis }) => midis.map((midi) => pitches.indexOf(midi)));
  const like = (t: number, i: number): number => {
    const own = columns[i] ?? [];
    if (own.length === 0) return 0.45;
    const frame = Math.min(frames - 1, Math.max(0, t)) * pitches.length;
    if (own.length === 1) return likeness[frame + (own[0] ?? 0)] ?? 0;
    let sum = 0;
    for (const p of own) sum += (likeness[frame + p] ?? 0) ** 2;
    return Math.min(1, Math.sqrt(sum));
  };
  const jump = expected === null ? cost.jump : cost.jumpOnClock;
  const back = new Uint8Array(frames * width);
  const starts = new Int32Array(frames);
  /** From which state (event, and whether after it) a jump at this frame would come. */
  const jumpFrom = new Int32Array(frames);
  let note = new Float64Array(m).fill(-Infinity);
  let after = new Float64Array(m).fill(-Infinity);
  // Two rows in turn, for a new one in each frame costs as much as the music is long.
  let [nextNote, nextAfter] = [note.slice(), after.slice()];
  /** Where the spare rows were written; elsewhere nothing is. */
  let written = 0;
  /** Before anything was played. */
  let before = 0;
  let bestEvent = 0;
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
    let bestScore = -Infinity;
    const oldBefore = before;
    before += afterWeight;
    for (let i = start; i < start + width; i += 1) {
      const event = events[i];
      if (event === undefined) continue;
      let entry = event.slurred ? 0.5 * sudden - 0.2 : 1.5 * Math.min(1.2, sudden) - 0.7;
      const now = like(t, i);
      if (!event.repeated) entry += 2 * Math.max(0, like(t + 1, i) - like(t - 2, i));
      if (expected !== null) {
        const off = Math.abs(t * frameSeconds - (expected.times[i] ?? 0)) / expected.spread;
        entry -= Math.min(off, expected.most);
      }
      let way: number = ways.stay;
      let score = note[i] ?? -Infinity;
      const consider = (value: number, how: number): void => {
        if (value + entry > score) [score, way] = [value + entry, how];
      };
      if (i > 0) {
        consider((note[i - 1] ?? -Infinity) - cost.leave, ways.next);
        consider((after[i - 1] ?? -Infinity) - cost.afterGap, ways.afterGap);
      }
      if (i > 1) {
        consider((note[i - 2] ?? -Infinity) - cost.skip[0], ways.skip1);
        consider((after[i - 2] ?? -Infinity) - cost.skip[0], ways.skip1Gap);
      }
      if (i > 2) {
        consider((note[i - 3] ?? -Infinity) - cost.skip[1], ways.skip2);
        consider((after[i - 3] ?? -Infinity) - cost.skip[1], ways.skip2Gap);
      }
      if (i === 0) consider(oldBefore, ways.begin);
      else if (event.entry) consider(oldBefore - jump / 2, ways.begin);
      if (event.entry && source >= 0) consider(most - jump, ways.jump);
      score += 4 * (now - 0.4) * (1 - quiet) - 1.2 * quiet;
      nextNote[i] = score;
      const [held, fresh] = [after[i] ?? -Infinity, (note[i] ?? -Infinity) - cost.gap];
      nextAfter[i] = Math.max(held, fresh) + afterWeight;
      back[t * width + i - start] = way | (fresh > held ? gapFromNote : 0);
      const better = Math.max(score, nextAfter[i] ?? -Infinity);
      if (better > bestScore) {
        bestScore = better;
        bestEvent = i;
      }
    }
    [note, nextNote, after, nextAfter] = [nextNote, note, nextAfter, after];
    // The row just read becomes the spare one; it was written in the frame before.
    written = starts[t - 1] ?? 0;
  }
  return traced({ back, starts, jumpFrom, width, frames, note, after, before });
};

interface Table {
  readonly back: Uint8Array;
  readonly starts: Int32Array;
  readonly jumpFrom: Int32Array;
  readonly width: number;
  readonly frames: number;
  readonly note: Float64Array;
  readonly after: Float64Array;
  readonly before: number;
}

const traced = (table: Table): readonly Visit[] => {
  const { back, starts, jumpFrom, width, frames, note, after, before } = table;
  let state = -1;
  let most = before;
  note.forEach((score, i) => {
    if (score > most) [state, most] = [2 * i, score];
    if ((after[i] ?? -Infinity) > most) [state, most] = [2 * i + 1, after[i] ?? -Infinity];
  });
  const visits: Visit[] = [];
  let to = frames;
  for (let t = frames - 1; t >= 0 && state >= 0; t -= 1) {
    const i = state >> 1;
    const code = back[t * width + i - (starts[t] ?? 0)] ?? 0;
    if (state % 2 === 1) {
      if ((code & gapFromNote) !== 0) {
        state = 2 * i;
        to = t;
      }
      continue;
    }
    const way = code & 127;
    if (way === ways.stay) continue;
    visits.push({ event: i, from: t, to });
    to = t;
    if (way === ways.begin) state = -1;
    else if (way === ways.jump) state = jumpFrom[t] ?? -1;
    else {
      const steps = way <= ways.afterGap ? 1 : way <= ways.skip1Gap ? 2 : 3;
      const gap = way === ways.afterGap || way === ways.skip1Gap || way === ways.skip2Gap;
      state = 2 * (i - steps) + (gap ? 1 : 0);
    }
  }
  return visits.reverse();
};
