/** What one player's recording holds, note by note, on the drill's timeline. */
import { addedNotes } from './added.ts';
import { locate, type Located, type Take, type Task } from './locate.ts';
import {
  listeningRate,
  toDrill,
  type AddedNote,
  type Clock,
  type HeardNote,
  type NoteState,
} from './model.ts';
import { aboveOtherOrders, clearlyThis } from './otherOrders.ts';
import { ringOf, type Biquad, type Ring } from './ring.ts';

export interface PlayerHeard {
  readonly clock: Clock;
  /** A in Hz. */
  readonly reference: number;
  readonly notes: readonly HeardNote[];
  readonly added: readonly AddedNote[];
  /** Attempts broken off and begun again: how many notes were played in them. */
  readonly abandoned: number;
  /** By how much the stretches around the clicks became softer when the click was taken out, in dB. */
  readonly clickRemoved: number;
  /** How much the take resembles what was expected, 0 to 1: the share of notes found in order at their pitch. */
  readonly fit: number;
  /** Log odds of an onset against other orders (otherOrders.ts); null: not looked at, as nearly all was found, or not to be told. */
  readonly above: number | null;
  /** Seconds on the drill's timeline at which the recording begins and ends. */
  readonly begins: number;
  readonly ends: number;
}

/** Log odds from which on the network is sure by itself, below which a note is not called heard, and below which it is called missing. */
const sureOdds = 0;
const leastOdds = -1.5;
const missingOdds = -3;
/** Likeness to the pitch, 0 to 1, below which something else sounds. */
const rightPitch = 0.35;
/** Seconds: a beginning known no better than this is no reading: 95 % within 60 ms on each side. One standard deviation. */
const widest = 0.03;
/** Seconds: the network's own scale up to which it is sure by itself. */
const widestScale = 0.0207;
const stateOf = ({ chosen, sounding, visited, stray }: Located, deviation: number): NoteState => {
  if (chosen === null) return visited && (sounding ?? 1) >= rightPitch ? 'unsure' : 'missing';
  const wrong = sounding !== null && sounding < rightPitch;
  if (chosen.odds < missingOdds && (wrong || !visited)) return 'missing';
  if (wrong || stray) return 'unsure';
  // Where the interval is still useful, a wide interval says more than no reading.
  const sure = chosen.odds >= sureOdds && chosen.perceivedScale <= widestScale;
  const useful = chosen.odds >= leastOdds && deviation <= widest;
  return sure || useful ? 'heard' : 'unsure';
};

const noteOf = (
  located: Located,
  next: Located | undefined,
  take: Take,
  weighting: readonly Biquad[],
  seconds: number,
): readonly HeardNote[] => {
  const { event, chosen, deviations } = located;
  const { clock, coarse, signal } = take;
  const withClock = (scale: number): number =>
    Math.hypot(scale, clock.by === 'clicks' ? clock.offsetError : 0);
  const perceivedError = withClock(deviations?.perceived ?? 0);
  const state = stateOf(located, perceivedError);
  if (chosen === null || state === 'missing')
    return event.notes.map(({ id }) => ({
      id,
      onset: null,
      perceived: null,
      offset: null,
      level: null,
      cents: null,
      uncertainty: null,
      perceivedUncertainty: null,
      state,
    }));
  const start = Math.min(chosen.physical, chosen.perceived);
  const nextStart = next?.chosen?.perceived ?? next?.coarse ?? Infinity;
  const until = Math.min(seconds, start + 2 * event.duration + 0.5, Math.max(nextStart, start + 0.03));
  const drill = (time: number): number => toDrill(clock, time);
  return event.notes.map(({ id, midi }) => {
    const ring: Ring = ringOf(
      signal,
      chosen.perceived,
      until,
      midi === null ? [] : [midi],
      coarse.tuning,
      weighting,
    );
    return {
      id,
      onset: drill(start),
      perceived: drill(chosen.perceived),
      offset: drill(ring.end),
      level: ring.level,
      cents: ring.cents,
      uncertainty: withClock(deviations?.physical ?? 0),
      perceivedUncertainty: perceivedError,
      state,
    };
  });
};

/** The share of notes that are found, in order, at their pitch; how surely their beginnings are known is another matter. */
const fitOf = (located: readonly Located[], seconds: number): number => {
  // What lies beyond the recording's end was never played into it.
  const inside = located.filter(({ coarse }) => coarse >= 0 && coarse < seconds);
  const good = inside.filter(({ visited, likeness }) => visited && (likeness ?? 1) >= 0.5);
  return good.length / Math.max(1, inside.length);
};

const aboveOf = ({ coarse, located, onClock, worth }: Take, fit: number, seconds: number): number | null =>
  fit >= clearlyThis
    ? null
    : aboveOtherOrders({
        coarse,
        events: located.map(({ event }) => event),
        expected: onClock,
        flowing: false,
        worth,
        inside: (i) => (located[i]?.coarse ?? -1) >= 0 && (located[i]?.coarse ?? 0) < seconds,
      });

/**
 * Hears one player's recording (at the listening rate, in its own clock). `weighting`: filters for levels, at the
 * listening rate (ITU-R BS.1770 where they are K).
 */
export const hearPlayer = (sound: Float32Array, task: Task, weighting: readonly Biquad[]): PlayerHeard => {
  const take = locate(sound, task);
  const { clock, located, placed, coarse } = take;
  const seconds = sound.length / listeningRate;
  const fit = fitOf(located, seconds);
  const notes = located.flatMap((one, i) => noteOf(one, located[i + 1], take, weighting, seconds));
  return {
    clock,
    reference: 440 * 2 ** (coarse.tuning / 1200),
    notes,
    added: addedNotes(take).map(({ time, duration, midi }) => ({
      time: toDrill(clock, time),
      duration,
      midi,
    })),
    abandoned: placed.abandoned.length,
    clickRemoved: take.softer,
    fit,
    above: aboveOf(take, fit, seconds),
    begins: toDrill(clock, 0),
    ends: toDrill(clock, seconds),
  };
};
