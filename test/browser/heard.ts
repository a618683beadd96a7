/** What the loudspeaker got, and how far it is from what the files of the command line say it should be. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { timelineSchema } from '../../src/desk/index.ts';
import { levare } from '../cli/run.ts';

export interface Heard {
  /** Frame of the first sample. */
  readonly first: number;
  readonly rate: number;
  /** Whether frames were left out. */
  readonly gaps: boolean;
  /** Frame that was being made when the last key went down. */
  readonly pressed: number;
  readonly left: Float32Array;
  readonly right: Float32Array;
}

const floats = (base64: string): Float32Array =>
  new Float32Array(Uint8Array.from(Buffer.from(base64, 'base64')).buffer);

export const heardOn = async (page: Page): Promise<Heard> => {
  const { samples, right, ...rest } = await page.evaluate<
    Omit<Heard, 'left' | 'right'> & { readonly samples: string; readonly right: string }
  >('levareTest.recorded()');
  return { ...rest, left: floats(samples), right: floats(right) };
};

/** Samples of a WAV file of 32-bit floats (RIFF), those of all channels in turn: what follows the word "data" and its length. */
export const wavFloats = (file: string): Float32Array => {
  const bytes = readFileSync(file);
  const at = bytes.indexOf('data', 12, 'latin1');
  return new Float32Array(
    Uint8Array.from(bytes.subarray(at + 8, at + 8 + bytes.readUInt32LE(at + 4))).buffer,
  );
};

export interface Track {
  readonly click: Float32Array;
  readonly parts: Float32Array;
  readonly clicks: readonly {
    readonly sample: number;
    readonly bar: string | null;
    readonly beat: string;
    readonly rep: number;
  }[];
  readonly notes: readonly { readonly time: number; readonly duration: number }[];
}

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

/** A drill of the demo, made by the command line at the page's rate. */
export const trackOf = async (folder: string, rate: number, ...words: readonly string[]): Promise<Track> => {
  const made = [
    'drill',
    demo,
    ...words,
    '--rate',
    String(rate),
    '--depth',
    '32',
    '--words',
    'none',
    '--out',
    folder,
  ];
  const ran = await levare(made);
  expect(ran.code, ran.err).toBe(0);
  const { clicks, notes } = timelineSchema.parse(
    JSON.parse(readFileSync(path.join(folder, 'timeline.json'), 'utf8')),
  );
  return {
    click: wavFloats(path.join(folder, 'click.wav')),
    parts: wavFloats(path.join(folder, 'parts.wav')),
    clicks,
    notes,
  };
};

/** A stretch of what is heard, as it should be. */
export interface Expected {
  readonly click: Float32Array;
  readonly parts: Float32Array;
}

export interface Misfit {
  /** Of the parts, by least squares. */
  readonly factor: number;
  /** Largest amplitude that is left. */
  readonly left: number;
}

/** What is left of `heard` from frame `at` on when the click and the parts, times the one factor that fits best, are taken away. */
export const misfit = (
  heard: Float32Array,
  at: number,
  { click, parts }: Expected,
  from = 0,
  to = click.length,
): Misfit => {
  let [both, power] = [0, 0];
  for (let n = from; n < to; n++) {
    const part = parts[n] ?? 0;
    both += ((heard[at + n] ?? 0) - (click[n] ?? 0)) * part;
    power += part * part;
  }
  const factor = power === 0 ? 0 : both / power;
  let left = 0;
  for (let n = from; n < to; n++)
    left = Math.max(left, Math.abs((heard[at + n] ?? 0) - (click[n] ?? 0) - factor * (parts[n] ?? 0)));
  return { factor, left };
};

/** Where in what was heard a drill begins: the frame, near the first sound, that fits its first `length` samples best. */
export const beginning = (heard: Float32Array, expected: Expected, length: number): number => {
  const sound = heard.findIndex((value) => value !== 0);
  const own = expected.click.findIndex((value, n) => value !== 0 || (expected.parts[n] ?? 0) !== 0);
  let best = { at: 0, left: Infinity };
  for (let at = sound - own - 64; at <= sound - own + 64; at++) {
    const { left } = misfit(heard, at, expected, 0, length);
    if (left < best.left) best = { at, left };
  }
  return best.at;
};
