/**
 * What has been heard so far of a note and of those around it, for the network that hears each note once more knowing it: where two players begin almost
 * together, or one takes over what another holds, the one that is sure tells which rise is the other's.
 */
import { frameSeconds } from './features.ts';
import { partials, shared } from './featuresScore.ts';
import { beatOf } from './refineJudge.ts';
import type { MixNote, OnsetDistribution } from './types.ts';

/** The note itself; its player's note before and after; others by the partials that they do not share with it, and by those that they do. */
export const beliefRows = 5;

/** Brings the likeliest frame of a sure note to the order of 1. */
const [size, most] = [5, 2];
/** Seconds: one standard deviation of where a note of which nothing was heard may be. */
const unheard = 0.03;
/** Seconds within which a note has a bearing. */
const near = 0.7;

/** Where the middle of an answer's values lies, in seconds of the recording: there the note was looked for. */
export const middleOf = ({ start, step, p }: OnsetDistribution): number =>
  start + (step * (p.length - 1)) / 2;

/** Each note at the place where it was heard; where it was not surely heard, at the place where it was looked for. */
export const placed = (
  notes: readonly MixNote[],
  answers: readonly (OnsetDistribution | null)[],
): readonly MixNote[] =>
  notes.map((note, k) => {
    const answer = answers[k] ?? null;
    if (answer === null) return note;
    return { ...note, time: answer.trust === 'sure' ? beatOf(answer) : middleOf(answer) };
  });

/** Adds what was heard of a note to a row of 2 x `reach` + 1 frames around `time`. */
const laidOn = (
  row: Float32Array,
  note: MixNote,
  answer: OnsetDistribution | null,
  time: number,
  reach: number,
  weight: number,
): void => {
  for (let f = 0; f < row.length; f += 1) {
    const at = time + (f - reach) * frameSeconds;
    let value: number;
    if (answer === null) {
      const x = (at - note.time) / unheard;
      value = (frameSeconds / (unheard * Math.sqrt(2 * Math.PI))) * Math.exp(-0.5 * x * x);
    } else {
      const place = (at - answer.start) / answer.step;
      const i = Math.floor(place);
      const part = place - i;
      value = (1 - part) * (answer.p[i] ?? 0) + part * (answer.p[i + 1] ?? 0);
    }
    row[f] = Math.min(most, (row[f] ?? 0) + weight * size * value);
  }
};

/** `beliefRows` rows of 2 x `reach` + 1 frames around `time` for note `k`. `notes`: by time, of all parts, as `placed` gives them. */
export const beliefsAround = (
  notes: readonly MixNote[],
  answers: readonly (OnsetDistribution | null)[],
  k: number,
  time: number,
  reach: number,
): Float32Array => {
  const width = 2 * reach + 1;
  const out = new Float32Array(beliefRows * width);
  const own = notes[k];
  if (own === undefined) return out;
  const lay = (row: number, j: number, weight: number): void => {
    const note = notes[j];
    if (note !== undefined && weight > 0.01)
      laidOn(out.subarray(row * width, (row + 1) * width), note, answers[j] ?? null, time, reach, weight);
  };
  lay(0, k, 1);
  for (const step of [-1, 1] as const) {
    let written: number | null = null;
    for (let j = k + step; j >= 0 && j < notes.length; j += step) {
      const note = notes[j];
      if (note === undefined || Math.abs(note.time - time) > near) break;
      if (note.part === own.part) {
        // The nearest one, with all that are struck with it.
        if (note.written === own.written || (written !== null && note.written !== written)) continue;
        written = note.written;
        lay(step < 0 ? 1 : 2, j, 1);
        continue;
      }
      let mean = 0;
      for (let h = 1; h <= partials; h += 1) mean += shared(own.hertz, h, note.hertz) / partials;
      lay(3, j, 1 - mean);
      lay(4, j, Math.min(1, 2 * mean));
    }
  }
  return out;
};
