/** What is known of one candidate for a note's beginning, as numbers for the model of note beginnings (noteModel.ts). */
import type { Choice } from './chain.ts';
import type { Event } from './events.ts';
import type { Coarse } from './likeness.ts';
import { windowsOf, type Curves } from './curves.ts';
import { listeningRate } from './model.ts';
import type { Candidate, Shape } from './rise.ts';
import { coarseHop } from './spectra.ts';

/** What surrounds a note. */
export interface Around {
  readonly event: Event;
  readonly before: Event | null;
  readonly after: Event | null;
  readonly choice: Choice;
  readonly coarse: Coarse;
  /** Median level of the take's notes (their partials), dB below full scale. */
  readonly usualTop: number;
}

/** What else sounds in the take. */
export interface Surroundings {
  /** Median over the take of what sounds besides the notes' partials, in dB: neighbours, noise, room. */
  readonly usualOther: number;
  /** The soft parts of the take against the loud ones, in dB: how far noise and room lie below. */
  readonly floor: number;
  /** By how much the click's stretches became softer when it was taken out, in dB. */
  readonly softer: number;
  /** Seconds in the recording of the clicks, ascending. */
  readonly clicks: Float64Array;
}

const bounded = (value: number, most: number): number => Math.max(-most, Math.min(most, value));

/** Times against the reference in units of 10 ms, at most 60 ms. */
const near = (time: number, reference: number): number => bounded((time - reference) * 100, 6);

const pitchLikeness = (
  { likeness, pitches, frames }: Coarse,
  midis: readonly number[],
  time: number,
): number => {
  if (midis.length === 0) return 0.5;
  const frame = Math.max(0, Math.min(frames - 1, Math.round((time * listeningRate) / coarseHop)));
  let sum = 0;
  for (const midi of midis) sum += (likeness[frame * pitches.length + pitches.indexOf(midi)] ?? 0) ** 2;
  return Math.min(1, Math.sqrt(sum));
};

const shape = (found: Shape, reference: number): readonly number[] => [
  near(found.at10, reference),
  near(found.at50, reference),
  near(found.at90, reference),
  found.within15 === null ? 0 : near(found.within15, reference),
  found.within25 === null ? 0 : near(found.within25, reference),
  found.within15 === null ? 0 : 1,
  found.within25 === null ? 0 : 1,
  found.depth / 20,
];

/** The time that the model's answers count from: half of the rise of the note's own partials, in dB. */
export const referenceOf = ({ own }: Candidate): number => own.at50;

const logSeconds = (seconds: number): number => bounded(Math.log2(Math.max(0.03, seconds) / 0.3), 3);

/** 1 at a click, near 0 a tenth of a second from any. */
const clickNearness = (clicks: Float64Array, at: number): number => {
  let [low, high] = [0, clicks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((clicks[middle] ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  const away = Math.min(
    Math.abs((clicks[low] ?? Infinity) - at),
    Math.abs((clicks[low - 1] ?? -Infinity) - at),
  );
  return Math.exp(-away / 0.03);
};

/** What is known of a candidate but for the curves: always as many numbers, each of the order of 1. */
export const knownOf = (
  candidate: Candidate,
  { event, before, after, choice, coarse, usualTop }: Around,
): readonly number[] => {
  const reference = referenceOf(candidate);
  const strongest = Math.max(1, ...choice.candidates.map(({ rise }) => rise));
  const mean = (midis: readonly number[]): number =>
    midis.reduce((a, b) => a + b, 0) / Math.max(1, midis.length);
  const step = before === null ? 0 : mean(event.midis) - mean(before.midis);
  const { at } = candidate;
  return [
    ...shape(candidate.own, reference),
    ...shape(candidate.fine, reference),
    ...shape(candidate.smooth, reference),
    candidate.rise / 15,
    candidate.rise / strongest,
    candidate.sudden / 15,
    bounded((candidate.top - usualTop) / 15, 3),
    bounded(candidate.other / 10, 2),
    near(at, reference),
    choice.spread * 100,
    choice.covered ? 1 : 0,
    choice.repeated ? 1 : 0,
    choice.slurred ? 1 : 0,
    (mean(event.midis) - 66) / 12,
    bounded(Math.abs(step) / 6, 2),
    Math.sign(step),
    before === null ? 3 : logSeconds(event.time - before.time),
    after === null ? 3 : logSeconds(after.time - event.time),
    before === null ? 0 : bounded((before.duration - (event.time - before.time)) * 10, 2),
    pitchLikeness(coarse, event.midis, at + 0.05),
    pitchLikeness(coarse, event.midis, at - 0.05),
    before === null ? 0 : pitchLikeness(coarse, before.midis, at + 0.05),
    before === null ? 0 : pitchLikeness(coarse, before.midis, at - 0.05),
    candidate.beat === null ? 0 : near(candidate.beat.at, reference),
    candidate.beat === null ? 0 : 1,
    candidate.first === null ? 0 : near(candidate.first.at, reference),
    candidate.first === null ? 0 : 1,
    bounded(candidate.growth / 10, 2),
    2 * candidate.novel,
  ];
};

/** All that the model is told: what is known, and then the curves around the candidate. */
export const featuresOf = (known: readonly number[], { frame }: Candidate, curves: Curves): Float32Array => {
  const windows = windowsOf(curves, frame);
  const all = new Float32Array(known.length + windows.length);
  all.set(known);
  all.set(windows, known.length);
  return all;
};

/** What bears on every note of a take, and how near a click is: for the model of deviations (deviation.ts). */
export const surroundingsOf = (
  candidate: Candidate,
  { usualOther, floor, softer, clicks }: Surroundings,
): readonly number[] => [
  bounded(usualOther / 10, 2),
  bounded(floor / 20, 3),
  bounded(softer, 1) * clickNearness(clicks, referenceOf(candidate)),
  candidate.rise / 15,
  bounded(candidate.other / 10, 2),
];
