/**
 * Places where parts depend on each other, as facts: where they are, who is in them, and what makes them one. No advice, and no judgement
 * beyond the rule that stands at the head of the file of each kind.
 */
import type { Beats } from '../units/index.ts';

/** Every kind of place, in the order in which they are told where two begin together. */
export const placeKinds = [
  'shared-line',
  'canon',
  'imitation',
  'joint-entry',
  'rhythmic-unison',
  'after-beats',
  'weak-beats',
  'syncopation',
  'cross-rhythm',
  'dots-against-triplets',
  'hemiola',
  'metre-change',
  'tempo-change',
  'tie-over-bar',
  'upbeat-start',
  'long-note-then-run',
  'last-notes',
] as const;
export type PlaceKind = (typeof placeKinds)[number];

/** A moment in the score. */
export interface Spot {
  /** Printed number. */
  readonly bar: string;
  /** From 0, in written order. */
  readonly barIndex: number;
  /** As in section 6 of the design: "2", "2+1/2". */
  readonly beat: string;
  /** Written position. */
  readonly at: Beats;
}

/** The moment at which one player hands over to another: the first note of the one who takes over. */
export interface Seam extends Spot {
  /** Part id of the player who leaves; of several who run together, the highest. */
  readonly from: string;
  readonly to: string;
  /** Those who take over together with `to`, by part id. */
  readonly also: readonly string[];
}

export interface Place {
  readonly kind: PlaceKind;
  /** The note value of a shared line; null for every other kind. */
  readonly value: Beats | null;
  /** Part ids in score order; at least one, but for changes of metre and tempo in a score without parts. */
  readonly parts: readonly string[];
  /** The first note of it. */
  readonly from: Spot;
  /** The onset of its last note; not before `from`. */
  readonly to: Spot;
  /** Shared lines: hand-overs. Imitation and canon: the entries of those who follow. Else empty. */
  readonly seams: readonly Seam[];
  readonly facts: Facts;
}

/** What the rule saw, for those who put it into words. */
export interface Facts {
  /** Notes or moments counted. */
  readonly count: number;
  /** Imitation and canon: how far the first entry lies behind the motif, in whole notes; else null. */
  readonly lag: Beats | null;
  /** Imitation and canon: staff steps from the motif up to the first entry, as it sounds; else null. */
  readonly steps: number | null;
  /** Syncopation: the sum by Longuet-Higgins and Lee; else 0. */
  readonly sum: number;
  /** Whatever is printed there, or the words for it; else empty. */
  readonly text: string;
}

export const noFacts: Facts = { count: 0, lag: null, steps: null, sum: 0, text: '' };
