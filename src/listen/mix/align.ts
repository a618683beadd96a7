/** Where in one recording of all players each onset of the score lies, roughly: clock, click removed, alignment at the tempo that was played. */
import type { ClickRest } from '../clickRest.ts';
import { coarseView, type Coarse } from '../likeness.ts';
import { clockByClicks, clockByNotes } from '../locate.ts';
import { toRecording, type ClickSound, type Clock, type ExpectedClick } from '../model.ts';
import { bestWay, findPath, type Expectation } from '../path.ts';
import { adapted, placeEvents, type Placed } from '../place.ts';
import { withoutClicks } from '../subtract.ts';
import { groupsOf, type Group, type MixPart } from './groups.ts';

export interface MixTask {
  /** Those who are heard, in the order of the score. */
  readonly parts: readonly MixPart[];
  /** That sound in the drill; empty where none does, or where none sounded in the room. */
  readonly clicks: readonly ExpectedClick[];
  readonly click: ClickSound;
  /** Whether the players hold to the click's clock; false: they may take any time. */
  readonly onClock: boolean;
}

export interface Aligned {
  readonly clock: Clock;
  /** The click taken out. */
  readonly signal: Float32Array;
  /** By how much its stretches became softer, in dB. */
  readonly softer: number;
  /** What of the click may be left; null: nothing was taken out. */
  readonly rest: ClickRest | null;
  readonly coarse: Coarse;
  readonly groups: readonly Group[];
  readonly placed: Placed;
  /** Where the clock alone expects the onsets, and log odds of the best way by that. */
  readonly onClock: Expectation | null;
  readonly worth: number;
  /** Seconds in the recording of the clicks that were taken out. */
  readonly clicks: Float64Array;
}

/** Aligns a recording at the listening rate; the click is taken out of it. */
export const alignMix = (sound: Float32Array, task: MixTask): Aligned => {
  const groups = groupsOf(task.parts);
  const notes = groups.flatMap((group) => group.notes);
  const first = coarseView(sound, notes);
  const byClicks = clockByClicks(sound, { ...task, notes }, first, groups);
  const removed =
    byClicks === null
      ? { signal: sound, softer: 0, rest: null }
      : withoutClicks(sound, task.clicks, task.click, byClicks);
  const { signal } = removed;
  const coarse = removed.softer < 0.05 ? first : coarseView(signal, notes, first);
  const guess = (written: number): number => (byClicks === null ? written : toRecording(byClicks, written));
  const onClock: Expectation | null =
    byClicks !== null && task.onClock
      ? { courses: [Float64Array.from(groups, ({ time }) => guess(time))], spread: 0.1, most: 4 }
      : null;
  const way = bestWay(coarse, groups, onClock, true);
  let placed = placeEvents(groups, way.visits, guess);
  placed = placeEvents(groups, findPath(coarse, groups, adapted(groups, placed), true), guess);
  const clicks =
    byClicks === null ? [] : task.clicks.map(({ time }) => toRecording(byClicks, time)).sort((a, b) => a - b);
  return {
    clock: byClicks ?? clockByNotes(groups, placed),
    signal,
    softer: removed.softer,
    rest: removed.rest,
    coarse,
    groups,
    placed,
    onClock,
    worth: way.worth,
    clicks: Float64Array.from(clicks),
  };
};
