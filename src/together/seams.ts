/** Seams: the moment at which one player hands a line to another. */
import { durationRatios, meanDifference, type Sounded } from './articulation.ts';
import { sdWithoutNoise } from './estimates.ts';
import type { Estimate } from './interval.ts';
import { line } from './leastSquares.ts';

/** A note of a shared line. */
export interface SeamNote extends Sounded {
  /** Position in beats, on one axis for giver and taker. */
  readonly beats: number;
  /** Loudness in decibels; null where it is not known, or the two recordings cannot be compared. */
  readonly level: number | null;
}

export interface Seam {
  /** Seconds by which the taker's first note comes after (below 0: before) where the giver's line leads. */
  readonly gap: Estimate | null;
  /** Decibels: the taker's mean level less the giver's. */
  readonly levelStep: Estimate | null;
  /** The taker's mean duration ratio less the giver's. */
  readonly lengthStep: Estimate | null;
  /** Decibels a beat before and after: whether the line grows or dies towards and after the seam. */
  readonly levelSlope: { readonly before: Estimate | null; readonly after: Estimate | null };
  /** What the tempo gains in a beat, in percent, before and after. */
  readonly tempoSlope: { readonly before: Estimate | null; readonly after: Estimate | null };
}

const levelsOf = (notes: readonly SeamNote[]): readonly (readonly [number, number])[] =>
  notes.flatMap(({ beats, level }) => (level === null ? [] : [[beats, level] as const]));

const slopeOf = (points: readonly (readonly [number, number])[]): Estimate | null =>
  line(
    points.map(([x]) => x),
    points.map(([, y]) => y),
  )?.slope ?? null;

/** Logarithm of the tempo at the middle of each interval. */
const tempi = (notes: readonly SeamNote[]): readonly (readonly [number, number])[] =>
  notes.flatMap((note, i) => {
    const next = notes[i + 1];
    if (next === undefined || !(next.onset > note.onset) || !(next.beats > note.beats)) return [];
    const speed = (next.beats - note.beats) / (next.onset - note.onset);
    return [[(note.beats + next.beats) / 2, 100 * Math.log(speed)] as const];
  });

/**
 * One seam, from the giver's last notes and the taker's first, each in order. The gap: the taker's first onset less where the
 * straight line through the giver's onsets goes on to, with the prediction interval of that line (Draper & Smith 1.4): what
 * lies within it the giver's own unevenness would do too. Two notes give a line but no interval. Steps: Welch's
 * difference of means. Slopes: straight lines; the tempo's from log tempo by interval. Whatever cannot be told is
 * null.
 */
export const seam = (giver: readonly SeamNote[], taker: readonly SeamNote[]): Seam => {
  const first = taker[0];
  const led = line(
    giver.map(({ beats }) => beats),
    giver.map(({ onset }) => onset),
  );
  const expected = first === undefined ? null : (led?.predict(first.beats) ?? null);
  const gap: Estimate | null =
    first === undefined || expected === null
      ? null
      : {
          value: first.onset - expected.value,
          ci95:
            expected.ci95 === null
              ? null
              : { low: first.onset - expected.ci95.high, high: first.onset - expected.ci95.low },
        };
  const [before, after] = [levelsOf(giver), levelsOf(taker)];
  return {
    gap,
    levelStep: meanDifference(
      after.map(([, level]) => level),
      before.map(([, level]) => level),
    ),
    lengthStep: meanDifference(durationRatios(taker), durationRatios(giver)),
    levelSlope: { before: slopeOf(before), after: slopeOf(after) },
    tempoSlope: { before: slopeOf(tempi(giver)), after: slopeOf(tempi(taker)) },
  };
};

/**
 * How many times the variance of one onset's measuring error that of a gap is: the taker's onset, and the straight line through so many evenly spaced
 * onsets of the giver's carried on by one note (Draper & Smith 1.4). Two notes or more.
 */
export const gapNoise = (giverNotes: number): number =>
  1 + (4 * giverNotes + 2) / (giverNotes * (giverNotes - 1));

/**
 * Standard deviation of gaps without the measuring noise, in the gaps' unit. `noise`: variance of the measuring error of one onset, in that unit squared.
 * The giver's own unevenness stays in it. Null for fewer than two.
 */
export const gapSpread = (
  gaps: readonly { readonly gap: number; readonly giverNotes: number }[],
  noise: number,
): Estimate | null =>
  sdWithoutNoise(
    gaps.map(({ gap }) => gap),
    gaps.reduce((sum, { giverNotes }) => sum + noise * gapNoise(giverNotes), 0) / Math.max(1, gaps.length),
  );
