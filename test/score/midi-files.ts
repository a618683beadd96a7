/** MIDI files for tests: made by mido, an independent library, or byte by byte. */
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import type { Score } from '../../src/score/model.ts';
import { readMidi } from '../../src/score/read/midi.ts';
import { F } from '../../src/units/index.ts';

/** [tick, mido's name, values]. */
export type MidoEvent = readonly [number, string, Readonly<Record<string, number | string>>];

export interface MidoMade {
  readonly type: number;
  readonly ticks_per_beat: number;
  readonly charset?: string;
  readonly tracks: readonly (readonly MidoEvent[])[];
}

export const madeByMido = (file: MidoMade): Uint8Array => {
  const script = path.resolve('test', 'outside', 'write_midi.py');
  const out = execFileSync('/usr/bin/python3', [script], { input: JSON.stringify(file), maxBuffer: 2 ** 28 });
  return Uint8Array.from(Buffer.from(out.toString('ascii').trim(), 'hex'));
};

/** Notes as events in order of time; offs stand before ons. [key, from, to] in ticks. */
export const notes = (list: readonly (readonly [number, number, number])[], channel = 0): MidoEvent[] =>
  list
    .flatMap(([note, from, to]): (readonly [number, MidoEvent])[] => [
      [1, [from, 'note_on', { note, channel, velocity: 64 }]],
      [to > from ? 0 : 2, [to, 'note_off', { note, channel, velocity: 0 }]],
    ])
    .sort(([a, x], [b, y]) => x[0] - y[0] || a - b)
    .map(([, event]) => event);

/** A chunk with its true length, or with the length that is told. */
export const chunk = (name: string, data: readonly number[], length = data.length): number[] => [
  ...Array.from(name, (letter) => letter.charCodeAt(0)),
  length >>> 24,
  (length >>> 16) & 255,
  (length >>> 8) & 255,
  length & 255,
  ...data,
];

export const header = (format: number, tracks: number, division: number): number[] =>
  chunk('MThd', [0, format, tracks >> 8, tracks & 255, division >> 8, division & 255]);

/** A file of one track of these bytes, 96 ticks to the quarter. */
export const oneTrack = (data: readonly number[]): Uint8Array =>
  Uint8Array.from([...header(0, 1, 96), ...chunk('MTrk', data)]);

export const scoreOf = (bytes: Uint8Array): Score => {
  const result = readMidi(bytes);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return result.value;
};

export const codesOf = (bytes: Uint8Array): string[] => {
  const result = readMidi(bytes);
  return result.ok ? result.problems.map(({ code }) => code) : [result.error.code];
};

/** [onset, length, key] of the sounding notes of a part. */
export const sounding = (score: Score, part = 0): (readonly [string, string, number | null])[] =>
  (score.parts[part]?.notes ?? []).map(({ onset, duration, midi }) => [
    F.format(onset),
    F.format(duration),
    midi,
  ]);
