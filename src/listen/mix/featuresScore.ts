/** What the score says around a note of a mixture: when neighbours are expected, and which of its partials they share. */
import { listeningRate } from '../model.ts';
import { bandOf, frameHop, spreadsAt } from './featuresPartial.ts';
import type { MixNote } from './types.ts';

export const partials = 8;
/** Hz: partials above are not looked at. */
export const highest = 9000;
/** Neighbours' beginnings (4 rows), partials shared with other parts and with the own part's other notes (8 each). */
export const scoreRows = 4 + 2 * partials;
export const knownCount = 14;

const frameSeconds = frameHop / listeningRate;
/** Seconds: standard deviation of the bump where a neighbour is expected. */
const bump = 0.016;
/** Notes beginning within this time of each other in one part are one chord. */
export const chord = 0.005;
/** Seconds over which a neighbour is taken to begin, and to end. */
const [begins, ends] = [0.03, 0.05];
const deepest = 12;

/** 0 to 1: how much partial `h` of a tone is covered by a partial of another tone. */
export const shared = (hertz: number, h: number, other: number): number => {
  const f = h * hertz;
  const k = other > 0 ? Math.max(1, Math.round(f / other)) : Infinity;
  if (k > deepest) return 0;
  const band = bandOf(spreadsAt(f)[2] ?? 0.024);
  const away = (f - k * other) / (2 * band);
  return Math.exp(-0.5 * away * away) * Math.min(1, 4 / k);
};

const sounding = (note: MixNote, at: number): number =>
  0.25 *
  (1 + Math.tanh((at - note.time) / begins)) *
  (1 + Math.tanh((note.time + note.length + ends - at) / ends));

export interface ScoreView {
  /** `scoreRows` rows of 2 x `reach` + 1 frames, the middle one at the note's expected time. */
  readonly rows: Float32Array;
  /** `knownCount` numbers of the order of 1. */
  readonly known: Float32Array;
}

const bounded = (value: number, most: number): number => Math.max(-most, Math.min(most, value));
const logSeconds = (seconds: number): number => bounded(Math.log2(Math.max(0.03, seconds) / 0.3), 3);

/** Those that may sound within a second of note `k`; `notes` by time. */
const around = (notes: readonly MixNote[], k: number, time: number): readonly MixNote[] => {
  const found: MixNote[] = [];
  // A long note may have begun long before.
  for (let j = k - 1; j >= 0 && time - (notes[j]?.time ?? 0) < 8; j -= 1) {
    const note = notes[j];
    if (note !== undefined && note.time + note.length > time - 0.8) found.push(note);
  }
  for (let j = k + 1; j < notes.length && (notes[j]?.time ?? 0) - time < 0.8; j += 1) {
    const note = notes[j];
    if (note !== undefined) found.push(note);
  }
  return found;
};

const neighbour = (notes: readonly MixNote[], k: number, step: 1 | -1): MixNote | null => {
  const own = notes[k];
  if (own === undefined) return null;
  for (let j = k + step; j >= 0 && j < notes.length; j += step) {
    const note = notes[j];
    if (note?.part === own.part && note.written !== own.written) return note;
  }
  return null;
};

/** Reads the score around note `k` of `notes` (of all parts, by time). `clicks`: seconds. `time`: where the note itself is looked for. */
export const scoreView = (
  notes: readonly MixNote[],
  k: number,
  clicks: Float64Array,
  reach: number,
  time: number = notes[k]?.time ?? 0,
): ScoreView => {
  const width = 2 * reach + 1;
  const rows = new Float32Array(scoreRows * width);
  const known = new Float32Array(knownCount);
  const own = notes[k];
  if (own === undefined) return { rows, known };
  const { hertz } = own;
  const before = neighbour(notes, k, -1);
  const after = neighbour(notes, k, 1);
  const bumps = (row: number, at: number, size: number): void => {
    const middle = reach + (at - time) / frameSeconds;
    const from = Math.max(0, Math.floor(middle - 16));
    for (let f = from; f < Math.min(width, middle + 16); f += 1) {
      const x = ((f - middle) * frameSeconds) / bump;
      rows[row * width + f] = Math.min(2, (rows[row * width + f] ?? 0) + size * Math.exp(-0.5 * x * x));
    }
  };
  if (before !== null) bumps(0, before.time, 1);
  if (after !== null) bumps(1, after.time, 1);
  let [together, sounds, unison, covered] = [0, 0, 0, 0];
  const parts = new Set([own.part]);
  for (const note of around(notes, k, time)) {
    const mate = note.part === own.part && note.written === own.written;
    const other = note.part !== own.part || mate;
    parts.add(note.part);
    const shares = Array.from({ length: partials }, (_, i) =>
      (i + 1) * hertz < highest && note.hertz > 0 ? shared(hertz, i + 1, note.hertz) : 0,
    );
    const mean = shares.reduce((a, b) => a + b, 0) / partials;
    if (other) {
      bumps(2, note.time, 1 - Math.min(1, mean));
      bumps(3, note.time, Math.min(1, mean));
      if (Math.abs(note.time - time) < 0.06) together += 1;
      const now = sounding(note, time + 0.04);
      sounds += now;
      covered = Math.max(covered, mean * now);
      if (Math.abs(Math.log2(note.hertz / hertz)) < 0.04) unison = Math.max(unison, now);
    }
    if (mean < 0.01) continue;
    const first = other ? 4 : 4 + partials;
    for (let f = 0; f < width; f += 1) {
      const there = sounding(note, time + (f - reach) * frameSeconds);
      if (there < 0.01) continue;
      for (let i = 0; i < partials; i += 1) {
        const at = (first + i) * width + f;
        rows[at] = Math.max(rows[at] ?? 0, (shares[i] ?? 0) * there);
      }
    }
  }
  let nearest = Infinity;
  for (const click of clicks) nearest = Math.min(nearest, Math.abs(click - time));
  const midi = own.midi ?? 66;
  const step = before === null || before.midi === null ? 0 : midi - before.midi;
  known.set([
    (midi - 66) / 12,
    before === null ? 3 : logSeconds(time - before.time),
    after === null ? 3 : logSeconds(after.time - time),
    before === null ? 2 : bounded((time - before.time - before.length) * 10, 2),
    own.slurred ? 1 : 0,
    own.repeated ? 1 : 0,
    bounded(step / 6, 2),
    (parts.size - 3) / 2,
    logSeconds(own.length),
    unison,
    covered,
    Math.min(3, together) / 2,
    Math.min(4, sounds) / 2,
    Math.exp(-nearest / 0.03),
  ]);
  return { rows, known };
};
