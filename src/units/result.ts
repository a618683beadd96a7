import { problem, type Place, type Problem } from './problem.ts';

/** Either a value with what was repaired or assumed on the way, or the one error that forbids it. */
export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly error: Problem };

export const ok = <T>(value: T, problems: readonly Problem[] = []): Result<T> => ({
  ok: true,
  value,
  problems,
});

export const fail = (code: string, message: string, place: Place = {}): Result<never> => ({
  ok: false,
  error: problem('error', code, message, place),
});

/**
 * Carries an error out of deep code to the one place that turns it into a failed Result. Thrown and caught inside one
 * module only; no public function throws it.
 */
export class Refusal extends Error {
  readonly problem: Problem;
  constructor(code: string, message: string, place: Place = {}) {
    super(message);
    this.name = 'Refusal';
    this.problem = problem('error', code, message, place);
  }
}

/** Runs `work`; a Refusal thrown in it becomes a failed Result, anything else is a defect and goes on. */
export const refusable = <T>(work: () => Result<T>): Result<T> => {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, error: error.problem };
    throw error;
  }
};
