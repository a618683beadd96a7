import { writeBarPlan } from '../score/write/barplan.ts';
import { ok, type Result } from '../units/index.ts';
import { eachOnce, readPiece } from './readOnce.ts';

/** The bars, repeats and tempi of any score as a bar plan: a text that can be edited and read back. Errors: the readers'. */
export const barPlanOf = (bytes: Uint8Array): Result<string> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const { text, problems } = writeBarPlan(read.value.score);
  return ok(text, eachOnce([...read.value.problems, ...problems]));
};
