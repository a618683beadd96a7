/** The notes of a reading laid out for the statistics: one line for each player on places that all share. */
import type { DrillBar, NoteEvent } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Onset, Place, Player } from '../together/model.ts';
import { F } from '../units/index.ts';
import type { ReadingClock, ReadingNote } from './reading.ts';

/** A note with where it stands; only those that were surely heard have times and a level. */
export interface Heard {
  readonly event: NoteEvent;
  /** On the drill's axis, in whole notes. */
  readonly at: number;
  readonly length: number;
  /** Seconds, as the drill asks for. */
  readonly expected: number;
  /** Perceived beat in seconds; null unless surely heard. */
  readonly time: number | null;
  readonly end: number | null;
  readonly level: number | null;
  /** Variance of `time` in square seconds, that of the clock among it; 0 where there is no time. */
  readonly variance: number;
  /** The same without the clock: what differs from note to note. */
  readonly noise: number;
}

export interface Lines {
  /** By part, in the order of the players. */
  readonly heard: ReadonlyMap<string, readonly Heard[]>;
  /** The perceived beats on the places. */
  readonly players: readonly Player[];
  /** Places by the seconds that the drill asks for, so that what is written of tempo is no finding. */
  readonly places: readonly Place[];
  /** The same places in quarters. */
  readonly quarters: readonly Place[];
  /** Seconds that the drill asks for at each place. */
  readonly asked: readonly number[];
  /** Repetition of each place. */
  readonly reps: readonly number[];
  /** What `bar` of a place counts in. */
  readonly bars: readonly DrillBar[];
}

/** Whole notes: positions are exact fractions, so that only rounding lies in between. */
export const same = 1e-9;
/** A position as a key. */
export const tick = (at: number): number => Math.round(at / same);

/** One line: of notes struck together the first stands for all. */
const lineOf = (
  events: readonly NoteEvent[],
  byId: ReadonlyMap<string, ReadingNote>,
  clockVariance: number,
): readonly Heard[] => {
  const line: Heard[] = [];
  for (const event of events) {
    const note = byId.get(event.id);
    if (note === undefined) continue;
    const at = F.toNumber(event.at);
    const before = line.at(-1);
    if (before !== undefined && at - before.at < same) continue;
    const sure = note.state === 'heard';
    const variance = sure ? (note.perceivedUncertainty ?? 0) ** 2 : 0;
    line.push({
      event,
      at,
      length: F.toNumber(event.length),
      expected: note.expected,
      time: sure ? note.perceived : null,
      end: sure ? note.offset : null,
      level: sure ? note.level : null,
      variance,
      noise: Math.max(0, variance - clockVariance),
    });
  }
  return line;
};

/** Index of the bar that a position stands in, from that of an earlier one on. */
const barFrom = (bars: readonly { readonly start: number }[], from: number, at: number): number => {
  let index = from;
  while ((bars[index + 1]?.start ?? Infinity) <= at + same) index += 1;
  return index;
};

/** Lays out what was heard. */
export const linesOf = (
  { timeline }: WorkedDrill,
  notes: readonly ReadingNote[],
  clocks: readonly ReadingClock[],
): Lines => {
  const byId = new Map(notes.map((note) => [note.id, note]));
  const heard = new Map(
    clocks.map(({ part, by, offsetError }) => [
      part,
      lineOf(
        timeline.notes.filter((event) => event.part === part),
        byId,
        by === 'clicks' ? offsetError ** 2 : 0,
      ),
    ]),
  );
  const all = new Map<number, Heard>();
  for (const line of heard.values())
    for (const one of line) if (!all.has(tick(one.at))) all.set(tick(one.at), one);
  const order = [...all].sort(([a], [b]) => a - b);
  const index = new Map(order.map(([key], i) => [key, i]));
  const starts = timeline.bars.map(({ start, kind }) => ({ start: F.toNumber(start), kind }));
  let bar = 0;
  const quarters = order.map(([, { at, event }]): Place => {
    bar = barFrom(starts, bar, at);
    const here = starts[bar];
    const onBarLine = here?.kind === 'bar' && Math.abs(here.start - at) < same && event.beat === '1';
    return { beats: 4 * at, bar, barName: event.bar, onBarLine };
  });
  const asked = order.map(([, { expected }]) => expected);
  return {
    heard,
    players: [...heard].map(([name, line]) => {
      const onsets: Onset[] = order.map(() => null);
      for (const { at, time } of line) onsets[index.get(tick(at)) ?? -1] = time;
      return { name, onsets };
    }),
    places: quarters.map((place, i) => ({ ...place, beats: asked[i] ?? null })),
    quarters,
    asked,
    reps: order.map(([, { event }]) => event.rep),
    bars: timeline.bars,
  };
};
