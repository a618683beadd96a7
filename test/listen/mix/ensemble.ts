/** Made ensembles in one microphone: tones of partials whose beats are known to the sample. No recorded sound. */
import type { ExpectedNote } from '../../../src/listen/model.ts';
import { listeningRate } from '../../../src/listen/model.ts';
import type { MixTask } from '../../../src/listen/mix/align.ts';
import { hearMix, type MixOptions, type MixPlayer } from '../../../src/listen/mix/hear.ts';
import { refine } from '../../../src/listen/mix/refine.ts';

export interface Timbre {
  /** Sizes of the partials, from the first on. */
  readonly partials: readonly number[];
  /** Seconds in which a note comes up. */
  readonly attack: number;
  readonly gain: number;
}

export const reed: Timbre = { partials: [1, 0.1, 0.6, 0.1, 0.4, 0.05, 0.2], attack: 0.02, gain: 0.1 };
export const pipe: Timbre = { partials: [1, 0.6, 0.25, 0.12, 0.06], attack: 0.03, gain: 0.1 };
export const bow: Timbre = { partials: [1, 0.7, 0.5, 0.45, 0.35, 0.3, 0.2, 0.15], attack: 0.09, gain: 0.08 };

export interface Played {
  readonly midi: number;
  /** Written, on the drill's timeline. */
  readonly time: number;
  readonly length: number;
  /** Seconds by which it is played later than written (or than `course` says). */
  readonly late?: number;
  readonly slurred?: boolean;
  readonly cents?: number;
  readonly db?: number;
  /** Cents and Hz. */
  readonly vibrato?: readonly [number, number];
  /** Seconds of noise before the tone, as a consonant has. */
  readonly consonant?: number;
  /** Semitones above, in turn with the note itself, twelve times a second. */
  readonly trill?: number;
  /** The part of its length that it sounds. */
  readonly share?: number;
}

export interface Voice {
  readonly timbre: Timbre;
  readonly notes: readonly Played[];
  /** Hz; 440 if nothing is said. */
  readonly a?: number;
}

/** Where the perceived beat of such an attack lies: a raised cosine comes within 15 dB of its highest. */
export const beatIn = (attack: number): number => (attack / Math.PI) * Math.acos(1 - 2 * 10 ** (-15 / 20));

/** Repeatable noise, -1 to 1 (a linear congruential generator; Numerical Recipes' constants, from memory). */
const noiseFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
};

/** Scatter of mean 0 and SD 1 that does not repeat: fractions of multiples of the golden ratio. */
export const scatter = (n: number): number => Math.sqrt(12) * (((n * 0.6180339887498949) % 1) - 0.5);

export interface Made {
  readonly sound: Float32Array;
  readonly task: MixTask;
  /** Perceived beats by note's id, in seconds of the recording. */
  readonly beats: ReadonlyMap<string, number>;
}

/** Where the drill's time 0 lies in the recording. */
export const offset = 1;

/** Makes the sound; `course`: where in time a written time is played. */
export const make = (
  voices: readonly Voice[],
  course: (written: number) => number = (time) => time,
): Made => {
  const beats = new Map<string, number>();
  const last = Math.max(
    ...voices.flatMap(({ notes }) => notes.map(({ time, length }) => course(time + length))),
  );
  const sound = new Float32Array(Math.ceil((last + offset + 1.5) * listeningRate));
  const noise = noiseFrom(7);
  for (let n = 0; n < sound.length; n += 1) sound[n] = 2e-5 * noise();
  const parts = voices.map(({ timbre, notes, a = 440 }, v) => {
    const expected = notes.map((note, k): ExpectedNote => {
      const id = `P${v + 1}-${k}`;
      const slurred = note.slurred === true;
      const attack = slurred ? 0.03 : timbre.attack;
      const beat = offset + course(note.time) + (note.late ?? 0);
      beats.set(id, beat);
      const start = beat - (slurred ? attack / 2 : beatIn(attack));
      const next = notes[k + 1];
      const nextAt =
        next === undefined
          ? Infinity
          : offset + course(next.time) + (next.late ?? 0) - (next.slurred === true ? 0.015 : 0.01);
      const full = beat + (course(note.time + note.length) - course(note.time)) * (note.share ?? 0.92);
      const end = next?.slurred === true ? nextAt + 0.03 : Math.min(full, nextAt);
      const release = next?.slurred === true ? 0.03 : 0.02;
      const gain = timbre.gain * 10 ** ((note.db ?? 0) / 20);
      const hertz = a * 2 ** ((note.midi - 69 + (note.cents ?? 0) / 100) / 12);
      const phases = timbre.partials.map((_, h) => (h * h + v + k) % 7);
      for (let n = Math.round(start * listeningRate); n < end * listeningRate && n < sound.length; n += 1) {
        const t = n / listeningRate - start;
        const [depth, rate] = note.vibrato ?? [0, 5];
        const grown = Math.min(1, t / 0.3);
        const wobble = 2 ** ((depth * grown * Math.sin(2 * Math.PI * rate * t)) / 1200);
        const turn = note.trill !== undefined && Math.floor(t * 12) % 2 === 1 ? 2 ** (note.trill / 12) : 1;
        const up = t < attack ? 0.5 - 0.5 * Math.cos((Math.PI * t) / attack) : 1;
        const left = end - n / listeningRate;
        const down = left < release ? left / release : 1;
        let value = 0;
        timbre.partials.forEach((size, h) => {
          const at = (phases[h] ?? 0) + (2 * Math.PI * (h + 1) * hertz * wobble * turn) / listeningRate;
          phases[h] = at;
          if ((h + 1) * hertz < 9000) value += size * Math.sin(at);
        });
        sound[n] = (sound[n] ?? 0) + gain * up * down * value;
      }
      const consonant = note.consonant ?? 0;
      for (let n = Math.round((start - consonant) * listeningRate); n < start * listeningRate; n += 1)
        sound[n] = (sound[n] ?? 0) + 0.4 * gain * noise();
      return {
        id,
        time: note.time,
        duration: note.length,
        midi: note.midi,
        slurred,
        entry: k % 8 === 0,
      };
    });
    return { id: `P${v + 1}`, notes: expected };
  });
  const silent = new Float32Array(256);
  return {
    sound,
    task: { parts, clicks: [], click: { beat: silent, first: silent }, onClock: false },
    beats,
  };
};

/** Hears it as the app does, by what was learnt, if nothing else is said; the sound is left as it is. */
export const hear = ({ sound, task }: Made, options: MixOptions = {}): readonly MixPlayer[] =>
  hearMix(sound.slice(), task, { refine, ...options });

export interface Read {
  readonly id: string;
  readonly sure: boolean;
  /** Seconds after the true beat, the same constant for all players taken out: without a click the drill's zero is not known. */
  readonly off: number;
}

/** All notes of all players against the truth. `middle` of the sure ones' errors is taken out. */
export const against = ({ beats }: Made, players: readonly MixPlayer[]): readonly (readonly Read[])[] => {
  const all = players.map(({ heard }) =>
    heard.notes.map((note) => ({
      id: note.id,
      sure: note.state === 'heard',
      off: (note.perceived ?? NaN) + heard.clock.offset - (beats.get(note.id) ?? NaN),
    })),
  );
  return all;
};

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? NaN;
};

/** A line in even notes. `keys` go round. */
export const line = (
  keys: readonly number[],
  count: number,
  length: number,
  more: (k: number) => Partial<Played> = () => ({}),
): readonly Played[] =>
  Array.from({ length: count }, (_, k) => ({
    midi: keys[k % keys.length] ?? 60,
    time: k * length,
    length,
    ...more(k),
  }));
