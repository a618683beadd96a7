/**
 * Beginnings that can be read off. Physical start and perceived beat are moments at which a level is passed (docs/hearing-reading.md). Where
 * the sound before lies clearly below that level, the moment is measured and need not be estimated.
 */
import type { Crossing } from './rise.ts';

export interface Measured {
  /** Seconds in the recording. */
  readonly at: number;
  /** dB by which what was before lies below the level. */
  readonly margin: number;
  /** Seconds from what the network says. */
  readonly away: number;
}

/** dB: from so much on a passing of the level is the note's; where a slur is written or the pitch repeated the note before may ring into it. */
const clear = 6;
const clearRinging = 16;
/** Seconds: further from what the network says it is another sound's. On takes that this was set on errors grow beyond. */
const agreeing = 0.014;

/** The measured moment, or null where it cannot be had. `said`: the network's. `ringing`: slurred or repeated. */
export const measuredOf = (crossing: Crossing | null, said: number, ringing: boolean): Measured | null => {
  if (crossing === null || crossing.margin < (ringing ? clearRinging : clear)) return null;
  const away = Math.abs(crossing.at - said);
  return away > agreeing ? null : { at: crossing.at, margin: crossing.margin, away };
};
