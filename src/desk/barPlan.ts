import { shownGroups } from '../rhythm/groups.ts';
import type { Score } from '../score/model.ts';
import { writeBarPlan } from '../score/write/barplan.ts';
import { countText, notKeptProblem, ok, type Problem, type Result } from '../units/index.ts';
import { eachOnce, readPiece } from './readOnce.ts';

/** Beams show how 7/8 is grouped, and a plan has none; but it can say it in the metre. */
const groupProblems = (score: Score): readonly Problem[] =>
  shownGroups(score).map(({ groups, count, unit, bars }) => {
    const shown = groups.join('+');
    const number = bars[0]?.number ?? '';
    const where = `${countText(bars.length, 'bar', 'bars')}${number === '' ? '' : `, the first is ${number}`}`;
    return notKeptProblem(
      `The grouping ${shown} that the beams of ${count}/${unit} show`,
      `${where}; to count it so from the plan, write ${shown}/${unit} there`,
      { bar: number },
    );
  });

/** The bars, repeats and tempi of any score as a bar plan: a text that can be edited and read back. Errors: the readers'. */
export const barPlanOf = (bytes: Uint8Array): Result<string> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const { score } = read.value;
  const { text, problems } = writeBarPlan(score);
  return ok(text, eachOnce([...read.value.problems, ...problems, ...groupProblems(score)]));
};
