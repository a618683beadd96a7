/** From coarse visits to a time for each event, and from times to a smooth course of tempo. */
import type { Event } from './events.ts';
import type { Expectation, Visit } from './path.ts';
import { frameSeconds } from './spectra.ts';

export interface Placed {
  /** Seconds in the recording at which each event begins, roughly; estimated from its neighbours where it was passed over. */
  readonly times: Float64Array;
  readonly visited: Uint8Array;
  /** Seconds at which the events around it would put each event that was found; NaN where they tell nothing. */
  readonly lines: Float64Array;
  /** 1 where an event was found far from where those around it put it. */
  readonly stray: Uint8Array;
  /** Attempts at the music: what was played without going back. */
  readonly runs: readonly (readonly Heard[])[];
  /** Visits of events that were found again, later and as well: attempts that were broken off. */
  readonly abandoned: readonly Visit[];
}

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

/** Events on each side by which the local tempo is judged. */
const neighbours = 6;
/** A course of tempo below a third of what is written or above three times it is a slip of the alignment. */
const slowest = 1 / 3;

/** An event that was found, and when, in seconds of the recording. */
export interface Heard {
  readonly event: number;
  readonly at: number;
}

interface Local {
  readonly time: number;
  readonly slope: number;
}

/**
 * Where event `i` is likely to begin, from the events around it: a robust line (repeated reweighting, Tukey's biweight)
 * of time heard over time written. `use` says which events count.
 */
const localTime = (
  i: number,
  events: readonly Event[],
  heard: readonly Heard[],
  middle: number,
  use: (event: number) => boolean = () => true,
): Local | null => {
  const here = events[i]?.time ?? 0;
  const near = heard
    .slice(Math.max(0, middle - neighbours), middle + neighbours + 1)
    .filter(({ event }) => use(event))
    .map(({ event, at }) => ({ x: (events[event]?.time ?? 0) - here, y: at }));
  if (near.length < 2) {
    const [only] = near;
    return only === undefined ? null : { time: only.y - only.x, slope: 1 };
  }
  let slope = 1;
  let time = median(near.map(({ x, y }) => y - x));
  for (let round = 0; round < 6; round += 1) {
    const residuals = near.map(({ x, y }) => y - time - slope * x);
    const limit = 4.685 * Math.max(0.02, 1.4826 * median(residuals.map(Math.abs)));
    let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
    near.forEach(({ x, y }, n) => {
      const u = (residuals[n] ?? 0) / limit;
      if (Math.abs(u) >= 1) return;
      const w = (1 - u * u) ** 2;
      [sw, sx, sy, sxx, sxy] = [sw + w, sx + w * x, sy + w * y, sxx + w * x * x, sxy + w * x * y];
    });
    if (sw === 0) break;
    // A weak pull towards the written tempo (as one note half a second away), so that two notes do not bend it.
    const wide = sxx - (sx * sx) / sw + 0.25;
    slope = Math.max(slowest, Math.min(1 / slowest, (sxy - (sx * sy) / sw + 0.25) / wide));
    time = sy / sw - slope * (sx / sw);
  }
  return { time, slope };
};

/** Seconds: an event further than this from where those before it, those after it, or both put it, is a stray. Our choice: a long fermata is less for one of them. */
const astray = 0.3;

/** Whether the event at a place of a run lies where its neighbours put it: those before, those after, or all of them. */
const follows = (run: readonly Heard[], k: number, events: readonly Event[]): boolean => {
  const own = run[k];
  if (own === undefined) return false;
  const sides = [(event: number) => event < own.event, (event: number) => event > own.event];
  const tests = [...sides, (event: number) => event !== own.event];
  const lines = tests.flatMap((use) => localTime(own.event, events, run, k, use) ?? []);
  return lines.length === 0 || lines.some(({ time }) => Math.abs(time - own.at) <= astray);
};

/** Visits without going back, in turn. */
const runsOf = (visits: readonly Visit[]): readonly (readonly Visit[])[] => {
  const runs: Visit[][] = [];
  for (const visit of visits) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (run !== undefined && last !== undefined && visit.event > last.event) run.push(visit);
    else runs.push([visit]);
  }
  return runs;
};

/**
 * Gives every event a time: of an event that was found several times the last that lies where its neighbours put it. `guess`: the
 * time in the recording of a written time, where nothing was heard.
 */
export const placeEvents = (
  events: readonly Event[],
  visits: readonly Visit[],
  guess: (written: number) => number,
): Placed => {
  const attempts = runsOf(visits);
  const runs = attempts.map((run) => run.map(({ event, from }) => ({ event, at: from * frameSeconds })));
  const chosen = new Map<number, { readonly visit: Visit; readonly good: boolean }>();
  attempts.forEach((run, r) => {
    run.forEach((visit, k) => {
      const good = follows(runs[r] ?? [], k, events);
      if (good || chosen.get(visit.event)?.good !== true) chosen.set(visit.event, { visit, good });
    });
  });
  const heard = [...chosen]
    .sort(([a], [b]) => a - b)
    .map(([event, { visit }]) => ({ event, at: visit.from * frameSeconds }));
  const times = new Float64Array(events.length);
  const [visited, stray] = [new Uint8Array(events.length), new Uint8Array(events.length)];
  for (const { event, at } of heard) {
    times[event] = at;
    visited[event] = 1;
    stray[event] = chosen.get(event)?.good === true ? 0 : 1;
  }
  const lines = new Float64Array(events.length).fill(NaN);
  let middle = 0;
  events.forEach((event, i) => {
    while (middle + 1 < heard.length && (heard[middle + 1]?.event ?? 0) <= i) middle += 1;
    const line = localTime(i, events, heard, middle, (other) => other !== i)?.time;
    if (visited[i] === 1) lines[i] = line ?? NaN;
    else times[i] = line ?? guess(event.time);
  });
  const abandoned = visits.filter((visit) => chosen.get(visit.event)?.visit !== visit);
  return { times, visited, lines, stray, runs, abandoned };
};

/** Events before and after an attempt for which it still foretells times: it may have begun earlier or gone on. */
const around = 4;
/** Attempts that are followed: those of the most notes. */
const mostCourses = 12;

/** What a second pass expects: in each attempt every event where the events around it, and it itself, put it. */
export const adapted = (events: readonly Event[], { times, runs }: Placed): Expectation => {
  const longest = [...runs].sort((a, b) => b.length - a.length).slice(0, mostCourses);
  const courses = longest.map((run) => {
    const course = new Float64Array(events.length).fill(NaN);
    const [first, last] = [run[0]?.event ?? 0, run.at(-1)?.event ?? -1];
    let middle = 0;
    for (let i = Math.max(0, first - around); i <= Math.min(events.length - 1, last + around); i += 1) {
      while (middle + 1 < run.length && (run[middle + 1]?.event ?? 0) <= i) middle += 1;
      course[i] = localTime(i, events, run, middle)?.time ?? NaN;
    }
    return course;
  });
  const told = Float64Array.from(events, (_, i) =>
    courses.some((course) => !Number.isNaN(course[i] ?? NaN)) ? NaN : (times[i] ?? NaN),
  );
  return { courses: [...courses, told], spread: 0.06, most: 4 };
};
