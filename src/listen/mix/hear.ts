/** What one recording of all players holds, player by player, on the drill's timeline. */
import { listeningRate, toDrill, type HeardNote, type NoteState } from '../model.ts';
import type { PlayerHeard } from '../player.ts';
import { alignMix, type Aligned, type MixTask } from './align.ts';
import { endOf, type MixEnd } from './ends.ts';
import { aboveOf, fitOf } from './fit.ts';
import { onsetsOf, type MixOnset } from './judge.ts';
import { lagsOf, type Lag } from './lag.ts';
import { levelsOf } from './levels.ts';
import { mixNotes } from './notes.ts';
import { refineByRises } from './rises.ts';
import type { MixNote, Refine } from './types.ts';

export interface MixOptions {
  /** The fine search; by the rise of partials alone if nothing is said. */
  readonly refine?: Refine;
  /** What the score asks of a note's loudness, by its id, in dB. */
  readonly levels?: ReadonlyMap<string, number>;
  /** Metres from each player to the microphone, in the order of the parts; null: not told. */
  readonly distances?: readonly (number | null)[];
  /** Told how much is done, 0 to 1. */
  readonly progress?: (done: number) => void;
}

/** A player among several. */
export interface MixPlayer {
  readonly heard: PlayerHeard;
  /** One standard deviation in seconds of how late all beginnings of the player may be heard. */
  readonly lagError: number;
  /** Whether that was told from the take. */
  readonly calibrated: boolean;
}

/** Seconds that sound takes for a metre, at 343 m/s. */
export const secondsPerMetre = 1 / 343;
/** Metres, one standard deviation: how differently far players sit where it is not told. Our choice. */
const seats = 0.7;

/** Where a player's next note begins, for each note; Infinity where there is none. Notes of a chord share it. */
const nextOf = (notes: readonly MixNote[], onsets: readonly MixOnset[]): readonly number[] => {
  const out = notes.map(() => Infinity);
  const later = new Map<number, { readonly time: number; readonly at: number; readonly after: number }>();
  for (let i = notes.length - 1; i >= 0; i -= 1) {
    const [note, onset] = [notes[i], onsets[i]];
    if (note === undefined || onset === undefined) continue;
    const known = later.get(note.part);
    const chord = known !== undefined && known.time === note.time;
    const after = known === undefined ? Infinity : chord ? known.after : known.at;
    out[i] = after;
    later.set(note.part, { time: note.time, at: onset.beat, after });
  }
  return out;
};

/** Share of the physical start's distance that is the windows' own blur: on the tuning half half of it. */
const blur = 0.5;

interface Whole {
  readonly aligned: Aligned;
  readonly notes: readonly MixNote[];
  readonly onsets: readonly MixOnset[];
  readonly ends: readonly MixEnd[];
}

/** dB below all that sounds at which a note's own partials may be what the windows let through of the others (partials.ts: 40). */
const deepest = 32;
/** Seconds of the note that are held against each other. */
const compared = 0.3;

/** Whether a note is covered by the others, so that its beginning may be one of theirs. */
const isBuried = (signal: Float32Array, beat: number, { partials }: MixEnd): boolean => {
  if (partials.length === 0) return false;
  const from = Math.max(0, Math.round(beat * listeningRate));
  const to = Math.min(signal.length, Math.round((beat + compared) * listeningRate));
  let sum = 0;
  for (let n = from; n < to; n += 1) sum += (signal[n] ?? 0) ** 2;
  const whole = 10 * Math.log10(sum / Math.max(1, to - from) + 1e-14);
  return Math.max(...partials.map(({ db }) => db)) < whole - deepest;
};

/** What is buried is at best a rough time: its beginning may be another's. */
const stateOf = ({ trust }: MixOnset, buried: boolean): NoteState => {
  if (trust === 'unsure') return 'unsure';
  return trust === 'rough' || buried ? 'rough' : 'heard';
};

const heardNotes = (
  part: number,
  { aligned, notes, onsets, ends }: Whole,
  lag: Lag,
  distance: number,
): readonly HeardNote[] => {
  const { clock } = aligned;
  const own = notes.flatMap((note, i) => (note.part === part ? [i] : []));
  const levels = levelsOf(own.map((i) => ({ midi: notes[i]?.midi ?? 0, partials: ends[i]?.partials ?? [] })));
  const drill = (time: number): number => toDrill(clock, time - distance * secondsPerMetre);
  return own.flatMap((i, n): readonly HeardNote[] => {
    const [note, onset, end] = [notes[i], onsets[i], ends[i]];
    if (note === undefined || onset === undefined) return [];
    const beat = onset.beat - (onset.trust === 'unsure' ? 0 : lag.at(note.midi));
    const buried = end !== undefined && isBuried(aligned.signal, onset.beat, end);
    const state = stateOf(onset, buried);
    const spread = Math.hypot(onset.spread, clock.by === 'clicks' ? clock.offsetError : 0);
    const before = note.slurred ? 0 : blur * onset.lag;
    return [
      {
        id: note.id,
        onset: drill(beat - before),
        perceived: drill(beat),
        offset: end?.end === null || end?.end === undefined ? null : drill(Math.max(end.end, beat + 0.01)),
        level: levels[n] ?? null,
        cents: end?.cents ?? null,
        uncertainty: Math.hypot(spread, 0.3 * onset.lag),
        perceivedUncertainty: spread,
        state,
      },
    ];
  });
};

/** How much is done when the recording is laid on the score, and when all beginnings are found; by the clock, roughly. */
const shares = { placed: 0.45, found: 0.95 } as const;

/** Hears all players of one recording (at the listening rate; the click is taken out of it). One answer for each part. */
export const hearMix = (
  sound: Float32Array,
  task: MixTask,
  { refine = refineByRises, levels = new Map(), distances = [], progress = () => undefined }: MixOptions = {},
): readonly MixPlayer[] => {
  const seconds = sound.length / listeningRate;
  const aligned = alignMix(sound, task);
  const { clock, coarse, placed, signal, clicks } = aligned;
  progress(shares.placed);
  const notes = mixNotes(aligned, levels);
  const onsets = onsetsOf(
    notes,
    refine(signal, notes, {
      cents: coarse.tuning,
      clicks,
      progress: (done) => progress(shares.placed + (shares.found - shares.placed) * done),
    }),
  );
  const beats = onsets.map(({ beat }) => beat);
  const next = nextOf(notes, onsets);
  const ends = notes.map((_, i) => {
    progress(shares.found + ((1 - shares.found) * i) / notes.length);
    return endOf(signal, notes, beats, i, next[i] ?? Infinity);
  });
  const lags = lagsOf(task.parts, aligned, notes, onsets);
  const fit = fitOf(aligned, seconds);
  const above = aboveOf(aligned, fit, seconds);
  const whole = { aligned, notes, onsets, ends };
  return task.parts.map((_, p): MixPlayer => {
    const lag = lags[p] ?? { at: () => 0, error: 0, notes: 0 };
    const distance = distances[p] ?? null;
    const seat = distance === null ? seats * secondsPerMetre : 0;
    return {
      heard: {
        clock,
        reference: 440 * 2 ** (coarse.tuning / 1200),
        notes: heardNotes(p, whole, lag, distance ?? 0),
        added: [],
        abandoned: placed.abandoned.filter(({ event }) =>
          aligned.groups[event]?.members.some(({ part }) => part === p),
        ).length,
        clickRemoved: aligned.softer,
        fit,
        above,
        begins: toDrill(clock, 0),
        ends: toDrill(clock, seconds),
      },
      lagError: Math.hypot(lag.error, seat),
      calibrated: lag.notes > 0 && lag.error < 0.006,
    };
  });
};
