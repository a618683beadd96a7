/** Timelines of clicks in one steady tempo, and the program outside the project that reads WAV files. */
import { execFile } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import type { ClickEvent, Timeline } from '../../src/drill/model.ts';
import { beats, F, samplesAt, seconds, type Fraction } from '../../src/units/index.ts';

export interface Pulse {
  readonly perMinute: string;
  /** Units from each click to the next, over and over; the first of them is the first beat. */
  readonly steps: readonly number[];
}

/** The tempi of the click arithmetic in the check values; 7/8 as 2+2+3 eighths, 211 of them a minute. */
export const pulses: readonly Pulse[] = [
  { perMinute: '22.5', steps: [1] },
  { perMinute: '45', steps: [1, 1] },
  { perMinute: '90', steps: [1, 1, 1, 1] },
  { perMinute: '133.33', steps: [1, 1, 1] },
  { perMinute: '211', steps: [2, 2, 3] },
];

export const pulseName = ({ perMinute, steps }: Pulse): string => `${perMinute} (${steps.join('+')})`;

const exact = (text: string): Fraction => F.parse(text) ?? F.one;

export type ClickTimeline = Pick<Timeline, 'sampleRate' | 'clicks' | 'duration'>;

export const steady = ({ perMinute, steps }: Pulse, minutes: string, sampleRate: number): ClickTimeline => {
  const unit = F.div(F.fraction(60), exact(perMinute));
  const duration = seconds(F.mul(exact(minutes), F.fraction(60)));
  const end = samplesAt(duration, sampleRate);
  const clicks: ClickEvent[] = [];
  let units = 0;
  for (let k = 0; ; k += 1) {
    const time = seconds(F.mul(unit, F.fraction(units)));
    const sample = samplesAt(time, sampleRate);
    if (sample >= end) return { sampleRate, clicks, duration };
    const place = { bar: '1', barIndex: 0, beat: '1', pass: 1, rep: 1, word: null };
    const first = k % steps.length === 0;
    clicks.push({ kind: 'click', at: beats(F.fraction(units, 8)), time, sample, ...place, first });
    units += steps[k % steps.length] ?? 1;
  }
};

/** What test/outside/wav_clicks.py prints. */
export interface ClickReport {
  readonly rate: number;
  readonly channels: number;
  readonly bits: number;
  readonly float: boolean;
  readonly extensible: boolean;
  readonly frames: number;
  readonly count: number;
  readonly onsets: readonly number[];
  readonly shapes: readonly number[];
  readonly peak_dbfs: number;
  readonly least_first_sample: number;
  readonly longest_click: number;
  readonly shortest_silence: number;
  readonly expected_count: number;
  readonly differences: readonly (readonly number[])[];
  readonly equal: boolean;
}

const run = promisify(execFile);
const script = path.resolve('test', 'outside', 'wav_clicks.py');

export const python = async (...args: readonly string[]): Promise<string> =>
  (await run('/usr/bin/python3', args, { maxBuffer: 2 ** 28 })).stdout;

/** Writes the pieces to a file of its own as they come, hands its path to `use`, and removes it. */
export const inFile = async <T>(
  pieces: Iterable<Uint8Array>,
  use: (file: string) => Promise<T>,
): Promise<T> => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-wav-'));
  try {
    const file = path.join(folder, 'click.wav');
    const handle = openSync(file, 'w');
    for (const piece of pieces) writeSync(handle, piece);
    closeSync(handle);
    return await use(file);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Onsets found and onsets expected, both by the outside program; the latter from the tempo alone. */
export const readClicks = (pieces: Iterable<Uint8Array>, { perMinute, steps }: Pulse): Promise<ClickReport> =>
  inFile(
    pieces,
    async (file) =>
      JSON.parse(
        await python(script, file, '--per-minute', perMinute, '--steps', steps.join(',')),
      ) as ClickReport,
  );
