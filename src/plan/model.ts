/** What a plan needs to know of a place beside the place itself, and what it says. */
import type { Place } from '../lines/index.ts';
import type { Drill } from '../drill/model.ts';
import type { Beats, Fraction } from '../units/index.ts';

/** A click placement, as a drill has it. */
export type Click = Drill['click'];

/** The place in its metre and tempo. */
export interface Setting {
  readonly place: Place;
  /** The bars to play, as a drill names them. */
  readonly bars: string;
  /** The whole bars from first to last. From 1. */
  readonly barCount: number;
  /** Names of the players by part id. */
  readonly names: Readonly<Record<string, string>>;
  /** Length of a beat and of a bar at the beginning of the place, in whole notes. */
  readonly beat: Beats;
  readonly bar: Beats;
  /** Beats a minute at the beginning of the place, as the score says or as is assumed. */
  readonly perMinute: Fraction;
  /** Whether one tempo holds throughout the place. */
  readonly oneTempo: boolean;
  /** Shortest length from one note of a player of the place to the next, in whole notes. */
  readonly shortest: Beats;
  /** Line filters that keep notes here, the shared value first, then longer ones; without "all". */
  readonly keeps: readonly string[];
  /** Placements that mean something in every bar of the place. */
  readonly clicks: ReadonlySet<Click>;
}

/** The settings of a drill that a step gives; the others are as usual. */
export type StepSettings = Pick<
  Drill,
  'bars' | 'parts' | 'keep' | 'click' | 'tempo' | 'times' | 'countIn' | 'upbeat' | 'holds'
>;

/** One drill of a sequence from most support to none. */
export interface Step extends StepSettings {
  /** "side": a branch that may be left out; the sequence goes on without it. */
  readonly branch: 'main' | 'side';
  /** One sentence: what this step is for. */
  readonly why: string;
}
