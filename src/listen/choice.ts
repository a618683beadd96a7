/** Where each note is looked for, and its candidates there. */
import type { Choice } from './chain.ts';
import type { ClickRest } from './clickRest.ts';
import { curvesOf } from './curves.ts';
import type { Event } from './events.ts';
import { hop, listeningRate } from './model.ts';
import { viewNote } from './noteView.ts';
import type { Placed } from './place.ts';
import { candidatesOf } from './rise.ts';

/** How far from the coarse time a beginning is sought, in seconds, and how far it is looked at. */
const widest = 0.12;
const beyond = 0.1;
/** Seconds by which the notes around an event have to put it elsewhere for it to be sought there too, at least and at most; and how near to its neighbours. */
const apart = 0.06;
const furthest = 0.3;
const nearest = 0.03;

/** Where there is no event. */
export const noChoice: Choice = {
  coarse: 0,
  line: 0,
  candidates: [],
  curves: { frames: 0, bytes: new Uint8Array(0) },
  spread: 0,
  covered: false,
  repeated: false,
  slurred: false,
};

/** Looks for an event around the time at which the alignment has put it. `cents`: the take's tuning; `rest`: what of a click may be left. */
export const choiceOf = (
  signal: Float32Array,
  events: readonly Event[],
  { times, lines, stray }: Placed,
  i: number,
  cents: number,
  rest: ClickRest | null = null,
): Choice => {
  const event = events[i];
  const at = times[i] ?? 0;
  if (event === undefined) return noChoice;
  const before = i === 0 ? -Infinity : (times[i - 1] ?? 0);
  const after = i + 1 === events.length ? Infinity : (times[i + 1] ?? 0);
  const told = lines[i] ?? NaN;
  const shift = Math.abs(told - at);
  const elsewhere = stray[i] !== 1 && shift > apart && shift < furthest;
  const line = elsewhere && told > before + nearest && told < after - nearest ? told : at;
  const [early, late] = [Math.min(line, at), Math.max(line, at)];
  const span = (gap: number): number => Math.min(widest, Math.max(0.045, 0.5 * gap));
  const from = early - span(early - before);
  const to = late + span(after - late);
  const others = events[i - 1]?.midis ?? [];
  const view = viewNote(
    signal,
    { from: from - beyond, to: to + beyond, at, next: after > at ? after : Infinity },
    event.midis,
    others,
    cents,
    rest,
  );
  const margin = Math.round((beyond * listeningRate) / hop);
  return {
    coarse: at,
    line,
    candidates: candidatesOf(view, margin, view.frames - margin, event.repeated),
    curves: curvesOf(view),
    spread: view.spread,
    covered: view.covered,
    repeated: event.repeated,
    slurred: event.slurred,
  };
};
