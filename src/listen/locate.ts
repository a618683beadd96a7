/** From a recording to one candidate for each event of the player: clock, click removed, alignment, fine search. */
import { bestChain, type Choice } from './chain.ts';
import { choiceOf, noChoice } from './choice.ts';
import { clickLikeness } from './clickPeaks.ts';
import { clickScores, followClicks, type OffsetScores } from './clock.ts';
import { eventsOf, type Event } from './events.ts';
import { deviationsFor, judgeAll, type Deviations, type Judged } from './judge.ts';
import { coarseView, type Coarse } from './likeness.ts';
import {
  listeningRate,
  toRecording,
  type ClickSound,
  type Clock,
  type ExpectedClick,
  type ExpectedNote,
} from './model.ts';
import { noteScores } from './noteScores.ts';
import { bestWay, findPath, type Expectation } from './path.ts';
import { adapted, placeEvents, type Placed } from './place.ts';
import { coarseHop } from './spectra.ts';
import { withoutClicks } from './subtract.ts';

export interface Task {
  /** Of one player, kept by the line filter. */
  readonly notes: readonly ExpectedNote[];
  /** That sound in the drill; empty where none does. */
  readonly clicks: readonly ExpectedClick[];
  readonly click: ClickSound;
  /** Whether the players hold to the click's clock; false: they may take any time. */
  readonly onClock: boolean;
}

export interface Located {
  readonly event: Event;
  /** Seconds in the recording. */
  readonly coarse: number;
  readonly visited: boolean;
  /** Lies where the notes around it do not put it: nothing should rest on it. */
  readonly stray: boolean;
  readonly choice: Choice;
  readonly judged: readonly Judged[];
  readonly chosen: Judged | null;
  /** Of what was chosen; null where nothing was. */
  readonly deviations: Deviations | null;
  /** Mean likeness of what sounds there to the pitch, 0 to 1; null for unpitched percussion. */
  readonly likeness: number | null;
  /** The same of the better half of the whole note. */
  readonly sounding: number | null;
}

export interface Take {
  readonly clock: Clock;
  /** The click taken out. */
  readonly signal: Float32Array;
  /** By how much its stretches became softer, in dB. */
  readonly softer: number;
  readonly coarse: Coarse;
  readonly located: readonly Located[];
  readonly placed: Placed;
  /** Where the clock alone expects the events, and log odds of the best way by that. */
  readonly onClock: Expectation | null;
  readonly worth: number;
}

const mean = (values: readonly number[]): number =>
  values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);

/** Highest places of a curve, at least 60 ms apart. */
const peaks = (scores: Float32Array, most: number): readonly number[] => {
  const order: number[] = [];
  for (let o = 0; o < scores.length; o += 1)
    if ((scores[o] ?? 0) >= (scores[o - 1] ?? -Infinity) && (scores[o] ?? 0) > (scores[o + 1] ?? -Infinity))
      order.push(o);
  order.sort((a, b) => (scores[b] ?? 0) - (scores[a] ?? 0));
  const chosen: number[] = [];
  for (const o of order) {
    if (chosen.length >= most) break;
    if (chosen.every((other) => Math.abs(other - o) >= 30)) chosen.push(o);
  }
  return chosen;
};

/** Spread of a curve around its middle, so that curves can be added. */
const standard = ({ scores }: OffsetScores): { readonly middle: number; readonly spread: number } => {
  const sample: number[] = [];
  const step = Math.max(1, Math.floor(scores.length / 4000));
  for (let o = 0; o < scores.length; o += step) sample.push(scores[o] ?? 0);
  const middle = mean(sample);
  return { middle, spread: Math.max(1e-6, Math.sqrt(mean(sample.map((x) => (x - middle) ** 2)))) };
};

/** How much the notes weigh against the clicks when the beginning is sought. */
const noteWeight = 0.7;
/** Standard deviations by which clicks have to stand out. */
const leastClear = 4.5;

/** The clock from the clicks that are heard; null where they do not stand out. */
export const clockByClicks = (
  signal: Float32Array,
  task: Task,
  coarse: Coarse,
  events: readonly Event[],
): Clock | null => {
  if (task.clicks.length < 2) return null;
  const likeness = clickLikeness(signal, task.click);
  const byClicks = clickScores(likeness, task.clicks);
  const [own, notes] = [standard(byClicks), noteScores(coarse, events, byClicks.least)];
  const other = standard(notes);
  const step = 44 / listeningRate;
  const total = byClicks.scores.map((score, o) => {
    const n = notes.scores[Math.round((o * 44) / coarseHop)] ?? 0;
    const weight = task.onClock ? noteWeight : 0.3;
    return (score - own.middle) / own.spread + (weight * (n - other.middle)) / other.spread;
  });
  let best: { clock: Clock; worth: number } | null = null;
  for (const o of peaks(total, 6)) {
    const clear = ((byClicks.scores[o] ?? 0) - own.middle) / own.spread;
    if (clear < leastClear) continue;
    const clock = followClicks(likeness, task.clicks, byClicks.least + o * step);
    if (clock === null) continue;
    const worth = (total[o] ?? 0) + (10 * clock.clicksHeard) / clock.clicksExpected;
    if (best === null || worth > best.worth) best = { clock, worth };
  }
  return best?.clock ?? null;
};

/** Seconds: how far apart the clock by notes may be. Players begin when they like. */
const notesError = 0.03;

/** The drill laid on the recording by the middle of its notes. */
export const clockByNotes = (events: readonly Event[], placed: Placed): Clock => {
  const shifts = events.flatMap((event, i) =>
    placed.visited[i] === 1 ? [(placed.times[i] ?? 0) - event.time] : [],
  );
  shifts.sort((a, b) => a - b);
  return {
    offset: shifts[shifts.length >> 1] ?? 0,
    ppm: 0,
    offsetError: notesError,
    ppmError: 50,
    by: 'notes',
    clicksHeard: 0,
    clicksExpected: 0,
  };
};

/** Likeness to an event's pitches of what sounds from one time to another, frame by frame; null for unpitched percussion. */
const likenessAt = (coarse: Coarse, event: Event, from: number, to: number): readonly number[] | null => {
  const own = event.midis.map((midi) => coarse.pitches.indexOf(midi));
  if (own.length === 0) return null;
  const first = Math.ceil(((from + 0.02) * listeningRate) / coarseHop);
  const last = Math.max(first, Math.floor(((to - 0.02) * listeningRate) / coarseHop));
  const all: number[] = [];
  for (let t = first; t <= last && t < coarse.frames; t += 1) {
    let sum = 0;
    for (const p of own) sum += (coarse.likeness[t * coarse.pitches.length + p] ?? 0) ** 2;
    all.push(Math.min(1, Math.sqrt(sum)));
  }
  return all;
};

/** Of the better half of a note: the pitch of some begins to be clear only after a tenth of a second or two. */
const bestHalf = (values: readonly number[]): number =>
  mean([...values].sort((a, b) => b - a).slice(0, Math.max(1, Math.ceil(values.length / 2))));

/** Hears out one player's recording at the listening rate. */
export const locate = (sound: Float32Array, task: Task): Take => {
  const events = eventsOf(task.notes);
  const first = coarseView(sound, task.notes);
  const byClicks = clockByClicks(sound, task, first, events);
  const removed =
    byClicks === null
      ? { signal: sound, softer: 0, rest: null }
      : withoutClicks(sound, task.clicks, task.click, byClicks);
  const { signal } = removed;
  const coarse = removed.softer < 0.05 ? first : coarseView(signal, task.notes, first);
  const guess = (written: number): number => (byClicks === null ? written : toRecording(byClicks, written));
  const onClock: Expectation | null =
    byClicks !== null && task.onClock
      ? { courses: [Float64Array.from(events, ({ time }) => guess(time))], spread: 0.1, most: 4 }
      : null;
  const way = bestWay(coarse, events, onClock);
  let placed = placeEvents(events, way.visits, guess);
  placed = placeEvents(events, findPath(coarse, events, adapted(events, placed)), guess);
  const clock = byClicks ?? clockByNotes(events, placed);
  const choices = events.map((_, i) => choiceOf(signal, events, placed, i, coarse.tuning, removed.rest));
  const clicks =
    byClicks === null ? [] : task.clicks.map(({ time }) => toRecording(byClicks, time)).sort((a, b) => a - b);
  const judged = judgeAll(events, choices, coarse, {
    softer: removed.softer,
    clicks: Float64Array.from(clicks),
  });
  const chain = bestChain(
    choices.map(({ coarse: expected, line }, i) => ({
      coarse: expected,
      line,
      links: (judged[i] ?? []).map(({ candidate: { at }, odds }) => ({ at, odds })),
    })),
  );
  const located = events.map((event, i): Located => {
    const choice = choices[i] ?? noChoice;
    const index = chain[i] ?? null;
    const chosen = index === null ? null : (judged[i]?.[index] ?? null);
    const from = chosen?.perceived ?? choice.coarse;
    const next = placed.times[i + 1] ?? Infinity;
    const until = Math.max(from + 0.06, next);
    const to = Math.min(from + Math.max(0.08, 0.6 * event.duration), until);
    const beginning = likenessAt(coarse, event, from, to);
    const whole = likenessAt(coarse, event, from, Math.min(from + Math.max(0.08, event.duration), until));
    return {
      event,
      coarse: choice.coarse,
      visited: placed.visited[i] === 1,
      stray: placed.stray[i] === 1,
      choice,
      judged: judged[i] ?? [],
      chosen,
      deviations: index === null ? null : deviationsFor(choice, judged[i] ?? [], index),
      likeness: beginning === null ? null : mean(beginning),
      sounding: whole === null ? null : bestHalf(whole),
    };
  });
  return { clock, signal, softer: removed.softer, coarse, located, placed, onClock, worth: way.worth };
};
