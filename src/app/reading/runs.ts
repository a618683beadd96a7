/** The drills that sounded while a take was recorded: one more with each change. One of them is read at a time. */
import type { Performed, PerformedRun, TakeReading } from '../../desk/index.ts';

export interface OfferedRun {
  /** Printed numbers of its first and last bar that were played; empty where there is none. */
  readonly from: string;
  readonly to: string;
  /** Seconds in the recording. */
  readonly begins: number;
  readonly ends: number;
  /** Whether it is the one that is read. */
  readonly read: boolean;
}

/** The run that was asked for, by time; else the one that was played longest; null where none is. */
export const runOf = ({ runs }: Performed, which: number | null): PerformedRun | null =>
  runs[which ?? -1] ??
  runs.reduce<PerformedRun | null>(
    (best, run) => (best === null || run.to - run.from > best.to - best.from ? run : best),
    null,
  );

/** Seconds on the drill's own timeline at which a run was left. */
export const untilOf = ({ to, at }: PerformedRun, { rate }: Performed): number => (to - at) / rate;

/** The drills of a take, by time; none where only one sounded. `read`: what was read of it. */
export const offeredRuns = (
  performed: Performed | null,
  read: Pick<TakeReading, 'until'> | null,
): readonly OfferedRun[] => {
  if (performed === null || performed.runs.length < 2) return [];
  const found = performed.runs.findIndex((run) => untilOf(run, performed) === read?.until);
  const usual = runOf(performed, null);
  return performed.runs.map((run, i) => ({
    from: run.bars.at(0)?.number ?? '',
    to: run.bars.at(-1)?.number ?? '',
    begins: run.from / performed.rate,
    ends: run.to / performed.rate,
    read: read !== null && (found < 0 ? run === usual : i === found),
  }));
};
