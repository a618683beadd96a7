/** What is shown of a take that is heard. */
import type { ShownReading, TakeReading } from '../../desk/index.ts';
import type { Problem } from '../../units/index.ts';
import type { OfferedRun } from './runs.ts';

export interface HeardNow {
  /** Id of the take that is looked at; null: none. */
  readonly take: string | null;
  readonly stage: 'hearing' | 'drawing' | 'there';
  /** While it is listened to, 0 to 1. */
  readonly done: number;
  readonly problem: Problem | null;
  readonly kept: TakeReading | null;
  readonly shown: ShownReading | null;
  /** Id of another take held beside it. */
  readonly beside: string | null;
  /** What players are called. */
  readonly names: 'parts' | 'players';
  /** What plays, by `momentKey`. */
  readonly plays: string | null;
  /** The drills that sounded while it was recorded, where there are several. */
  readonly runs: readonly OfferedRun[];
  /** The file that is being made. */
  readonly making: string | null;
}

/** No take is looked at. */
export const away: HeardNow = {
  take: null,
  stage: 'there',
  done: 0,
  problem: null,
  kept: null,
  shown: null,
  beside: null,
  names: 'parts',
  plays: null,
  runs: [],
  making: null,
};
