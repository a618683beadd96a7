/** Small timelines of notes, and programs outside the project that read the sound made of them. */
import path from 'node:path';
import type { NoteEvent } from '../../src/drill/model.ts';
import type { PartsTimeline } from '../../src/sound/parts/mix.ts';
import type { PartSound } from '../../src/sound/voices/voiceOf.ts';
import { beats, F, samplesAt, seconds } from '../../src/units/index.ts';
import { inFile, python } from './timelines.ts';

export interface TestNote {
  readonly part: string;
  /** Seconds, as exact text: "3/7". */
  readonly at: string;
  readonly length: string;
  readonly midi: number | null;
  readonly kept?: boolean;
}

export const exactly = (text: string) => seconds(F.parse(text) ?? F.zero);

/** Notes at exact times; their ids are n0, n1, ... */
export const music = (notes: readonly TestNote[], length: string, sampleRate = 48_000): PartsTimeline => ({
  sampleRate,
  duration: exactly(length),
  notes: notes.map(({ part, at, length: long, midi, kept = true }, i): NoteEvent => ({
    id: `n${i}-t1-r1`,
    note: `n${i}`,
    part,
    at: beats(F.zero),
    length: beats(F.one),
    time: exactly(at),
    duration: exactly(long),
    bar: '1',
    barIndex: 0,
    beat: '1',
    pass: 1,
    rep: 1,
    midi,
    kept,
  })),
});

export const sample = (at: string, rate = 48_000): number => samplesAt(exactly(at), rate);

export const partOf = (sound: string, id = 'P1'): PartSound => ({ id, name: '', sound, program: null });

/** A MusicXML sound id for each voice, with a low, a middle and a high key of the instrument. */
export const instruments: readonly {
  readonly voice: string;
  readonly sound: string;
  readonly keys: readonly [number, number, number];
  readonly lasting: boolean;
}[] = [
  { voice: 'flute', sound: 'wind.flutes.flute', keys: [60, 78, 96], lasting: true },
  { voice: 'recorder', sound: 'wind.flutes.recorder.alto', keys: [60, 74, 88], lasting: true },
  { voice: 'oboe', sound: 'wind.reed.oboe', keys: [58, 72, 86], lasting: true },
  { voice: 'clarinet', sound: 'wind.reed.clarinet.bflat', keys: [50, 69, 88], lasting: true },
  { voice: 'saxophone', sound: 'wind.reed.saxophone.alto', keys: [49, 65, 80], lasting: true },
  { voice: 'bassoon', sound: 'wind.reed.bassoon', keys: [34, 52, 69], lasting: true },
  { voice: 'horn', sound: 'brass.french-horn', keys: [41, 59, 77], lasting: true },
  { voice: 'trumpet', sound: 'brass.trumpet', keys: [54, 68, 82], lasting: true },
  { voice: 'trombone', sound: 'brass.trombone', keys: [40, 56, 72], lasting: true },
  { voice: 'tuba', sound: 'brass.tuba', keys: [28, 44, 60], lasting: true },
  { voice: 'violin', sound: 'strings.violin', keys: [55, 74, 93], lasting: true },
  { voice: 'viola', sound: 'strings.viola', keys: [48, 65, 81], lasting: true },
  { voice: 'cello', sound: 'strings.cello', keys: [36, 53, 69], lasting: true },
  { voice: 'double bass', sound: 'strings.contrabass', keys: [28, 42, 55], lasting: true },
  { voice: 'voice', sound: 'voice.soprano', keys: [40, 61, 81], lasting: true },
  { voice: 'organ', sound: 'keyboard.organ', keys: [36, 60, 84], lasting: true },
  { voice: 'piano', sound: 'keyboard.piano', keys: [28, 62, 96], lasting: false },
  { voice: 'harpsichord', sound: 'keyboard.harpsichord', keys: [36, 61, 86], lasting: false },
  { voice: 'guitar', sound: 'pluck.guitar', keys: [40, 58, 76], lasting: false },
  { voice: 'harp', sound: 'pluck.harp', keys: [30, 60, 90], lasting: false },
  { voice: 'percussion', sound: 'drum.snare-drum', keys: [60, 60, 60], lasting: false },
];

export interface OnsetReport {
  readonly rate: number;
  readonly frames: number;
  readonly channels: readonly {
    readonly onsets: readonly number[];
    readonly ends: readonly number[];
    readonly peak: number | null;
    readonly rms: number | null;
  }[];
}

const outside = (name: string): string => path.resolve('test', 'outside', name);

export const readOnsets = (pieces: Iterable<Uint8Array>): Promise<OnsetReport> =>
  inFile(pieces, async (file) => JSON.parse(await python(outside('onsets.py'), file)) as OnsetReport);

export const readPitches = (
  pieces: Iterable<Uint8Array>,
  stretches: readonly (readonly [number, number])[],
): Promise<readonly number[]> =>
  inFile(
    pieces,
    async (file) =>
      JSON.parse(await python(outside('pitch.py'), file, ...stretches.flat().map(String))) as number[],
  );

/** Lateness of the vowel at each beat in ms; null where no vowel is found. */
export const readVowels = (
  pieces: Iterable<Uint8Array>,
  beatSamples: readonly number[],
): Promise<readonly (number | null)[]> =>
  inFile(
    pieces,
    async (file) =>
      JSON.parse(await python(outside('vowel_onsets.py'), file, ...beatSamples.map(String))) as (
        number | null
      )[],
  );
