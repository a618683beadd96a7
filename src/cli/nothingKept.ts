/** A drill in which no note is left is hardly meant: nothing is written for it. */
import { problem, type Problem } from '../units/index.ts';

/** The error where a drill that is to be written keeps no note of its passage; null where there is something to play. */
export const nothingKept = (problems: readonly Problem[]): Problem | null => {
  const told = problems.find(({ code }) => code === 'nothing-kept');
  const value = /"([^"]*)"/.exec(told?.message ?? '')?.[1];
  return value === undefined
    ? null
    : problem(
        'error',
        'nothing-kept',
        `No note of the passage is "${value}", so there would be nothing to play: take another --keep, or --keep all.`,
      );
};
