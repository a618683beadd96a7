/** What is heard around each note, kept where there is room: every note is asked for several times. */
import { listeningRate } from '../model.ts';
import { heardAround, reach, type HeardRows } from './features.ts';
import { wholeSound } from './featuresWhole.ts';
import type { MixNote } from './types.ts';

/** Notes whose rows are kept, 10 kB each; those of further ones, in a long take, are made anew each time: twice or three times. */
export const mostKept = 2048;

/** Around note `k`, looked for at `time` (seconds in the recording); null where nothing can be heard. */
export type Look = (k: number, time: number) => HeardRows | null;

/** Seconds before the recording and after it at which a note may still be looked for. */
const beyond = 0.1;

export const lookerFor = (signal: Float32Array, notes: readonly MixNote[]): Look => {
  const whole = wholeSound(signal);
  const seconds = signal.length / listeningRate;
  const kept = new Map<number, { readonly sample: number; readonly rows: HeardRows }>();
  return (k, time) => {
    const hertz = notes[k]?.hertz ?? 0;
    if (hertz <= 0 || time <= -beyond || time >= seconds + beyond) return null;
    const sample = Math.round(time * listeningRate);
    const known = kept.get(k);
    if (known?.sample === sample) return known.rows;
    const rows = heardAround(signal, whole, hertz, time, reach);
    if (k < mostKept) kept.set(k, { sample, rows });
    return rows;
  };
};
