/** From coarse visits to a time for each event, and from times to a smooth course of tempo. */
import type { Event } from './events.ts';
import type { Expectation, Visit } from './path.ts';
import { frameSeconds } from './spectra.ts';

export interface Placed {
  /** Seconds in the recording at which each event begins, roughly; estimated from its neighbours where it was passed over. */
  readonly times: Float64Array;
  readonly visited: Uint8Array;
  /** Visits that were followed by another visit of the same event: attempts that were broken off. */
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

interface Local {
  readonly time: number;
  readonly slope: number;
}

/**
 * Where event `i` is likely to begin, from the events around it: a robust line (repeated reweighting, Tukey's biweight)
 * of time heard over time written, the event itself left out where `without` says so.
 */
const localTime = (
  i: number,
  events: readonly Event[],
  heard: readonly { readonly event: number; readonly at: number }[],
  middle: number,
  without: boolean,
): Local | null => {
  const here = events[i]?.time ?? 0;
  const near = heard
    .slice(Math.max(0, middle - neighbours), middle + neighbours + 1)
    .filter(({ event }) => !(without && event === i))
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

/** The last visit of each event, in order; earlier ones are abandoned. */
const lastVisits = (visits: readonly Visit[]): { kept: readonly Visit[]; abandoned: readonly Visit[] } => {
  const last = new Map<number, Visit>();
  for (const visit of visits) last.set(visit.event, visit);
  const kept: Visit[] = [];
  const abandoned: Visit[] = [];
  for (const visit of visits) (last.get(visit.event) === visit ? kept : abandoned).push(visit);
  return { kept, abandoned };
};

/** Gives every event a time. `guess`: the time in the recording of a written time, where nothing was heard. */
export const placeEvents = (
  events: readonly Event[],
  visits: readonly Visit[],
  guess: (written: number) => number,
): Placed => {
  const { kept, abandoned } = lastVisits(visits);
  const heard = kept.map(({ event, from }) => ({ event, at: from * frameSeconds }));
  const times = new Float64Array(events.length);
  const visited = new Uint8Array(events.length);
  for (const { event, at } of heard) {
    times[event] = at;
    visited[event] = 1;
  }
  let middle = 0;
  events.forEach((event, i) => {
    while (middle + 1 < heard.length && (heard[middle + 1]?.event ?? 0) <= i) middle += 1;
    if (visited[i] === 1) return;
    times[i] = localTime(i, events, heard, middle, true)?.time ?? guess(event.time);
  });
  return { times, visited, abandoned };
};

/** What a second pass expects: each event where the events around it, and it itself, put it. */
export const adapted = (events: readonly Event[], { times, visited }: Placed): Expectation => {
  const heard = events.flatMap((_, event) =>
    visited[event] === 1 ? [{ event, at: times[event] ?? 0 }] : [],
  );
  let middle = 0;
  const smooth = Float64Array.from(events, (_, i) => {
    while (middle + 1 < heard.length && (heard[middle + 1]?.event ?? 0) <= i) middle += 1;
    return localTime(i, events, heard, middle, false)?.time ?? times[i] ?? 0;
  });
  return { times: smooth, spread: 0.06, most: 4 };
};
