/**
 * The tempo map: an exact map from a musical position to seconds, and back. Positions are fractions of a whole note
 * on whatever axis the map is made for (played order, or a drill's own axis).
 */
import type { Beats, Fraction, Seconds } from '../units/index.ts';

/** Seconds that a whole note lasts: 60 / (beats per minute x length of the beat). */
export type Pace = Fraction;

export interface TempoSection {
  readonly start: Beats;
  /** Null: without end. */
  readonly end: Beats | null;
  readonly time: Seconds;
  /** Pace at the start and at the end: equal while the tempo is steady. In between the pace changes linearly with the position. */
  readonly from: Pace;
  readonly to: Pace;
}

export interface TempoMap {
  /** Laid end to end, the first from 0, the last without end. */
  readonly sections: readonly TempoSection[];
}
