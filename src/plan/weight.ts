/**
 * How much ensemble work is likely to lie in a place: one ranking, by a rule of ours that docs/find.md tells. It orders a list that players
 * then reorder; it measures nothing, and two weights are no ratio.
 *
 *   weight = base of the kind + so much for each hand-over or entry, each syncopation, or each further player, up to a limit
 */
import type { Place, PlaceKind } from '../lines/index.ts';

interface Share {
  readonly base: number;
  /** For each seam, or where there are none, each thing counted beyond the first. */
  readonly each: number;
  readonly most: number;
}

const shares: Readonly<Record<PlaceKind, Share>> = {
  'shared-line': { base: 20, each: 4, most: 100 },
  canon: { base: 14, each: 4, most: 40 },
  imitation: { base: 8, each: 3, most: 30 },
  'joint-entry': { base: 14, each: 1, most: 20 },
  'rhythmic-unison': { base: 8, each: 0.25, most: 16 },
  'after-beats': { base: 8, each: 0.25, most: 16 },
  'weak-beats': { base: 8, each: 0.25, most: 16 },
  syncopation: { base: 8, each: 1, most: 20 },
  'cross-rhythm': { base: 12, each: 0.5, most: 20 },
  'dots-against-triplets': { base: 12, each: 0.5, most: 20 },
  hemiola: { base: 14, each: 0, most: 14 },
  'metre-change': { base: 14, each: 0, most: 14 },
  'tempo-change': { base: 14, each: 0, most: 14 },
  'tie-over-bar': { base: 2, each: 0, most: 2 },
  'upbeat-start': { base: 5, each: 0, most: 5 },
  'long-note-then-run': { base: 6, each: 0.25, most: 10 },
  'last-notes': { base: 10, each: 1, most: 16 },
};

/** Above zero; to one decimal. */
export const weightOf = ({ kind, seams, facts }: Place): number => {
  const { base, each, most } = shares[kind];
  const count = seams.length > 0 ? seams.length : Math.max(0, facts.count - 1);
  return Math.round(10 * Math.min(most, base + each * count)) / 10;
};
