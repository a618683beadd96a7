/** Says of every expected note of a mixture how likely it begins where: the network of a mixture over the whole recording. */
import { listeningRate } from '../model.ts';
import { frameHop } from './featuresPartial.ts';
import {
  hearOthers,
  heardAround,
  noteFeatures,
  reach,
  topOf,
  width,
  frameSeconds,
  type HeardRows,
} from './features.ts';
import { wholeSound } from './featuresWhole.ts';
import { hear, unpackedMixNet, type MixNet } from './net.ts';
import { mixModel } from './netModel.ts';
import { judged } from './refineJudge.ts';
import type { MixNote, OnsetDistribution, Refine } from './types.ts';

let ready: readonly MixNet[] | null = null;
const nets = (): readonly MixNet[] => (ready ??= mixModel.map(unpackedMixNet));

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? -30;

/** The note's time on the sample that its frames are counted from. */
const onSample = (time: number): number => Math.round(time * listeningRate) / listeningRate;

const answerOf = (
  note: MixNote,
  heard: HeardRows,
  notes: readonly MixNote[],
  k: number,
  clicks: Float64Array,
  usualTop: number,
): OnsetDistribution | null => {
  const { rows, constants } = noteFeatures(heard, notes, k, clicks, usualTop);
  const [beat, start] = hear(nets(), rows, constants, width);
  if (beat === undefined || start === undefined) return null;
  return {
    start: onSample(note.time) - reach * frameSeconds,
    step: frameHop / listeningRate,
    p: beat,
    ...judged(beat, start, note.slurred),
  };
};

/** `notes` have to be by time. Notes without a pitch, and those beyond the recording, have no answer. */
export const refine: Refine = (signal, notes, { clicks }) => {
  const whole = wholeSound(signal);
  const seconds = signal.length / listeningRate;
  const heard = notes.map(({ hertz, time }) =>
    hertz > 0 && time > -0.1 && time < seconds + 0.1 ? heardAround(signal, whole, hertz, time, reach) : null,
  );
  hearOthers(heard, notes);
  const usualTop = median(heard.flatMap((one) => (one === null ? [] : [topOf(one)])));
  return notes.map((note, k) => {
    const own = heard[k];
    return own === undefined || own === null ? null : answerOf(note, own, notes, k, clicks, usualTop);
  });
};
