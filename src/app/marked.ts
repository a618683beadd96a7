/** Players' own markings among what can be gone back from: one step may change what is asked for, another a marking. */
import type { Marking } from '../desk/index.ts';
import type { Asked } from './asked.ts';
import { changedFrom, mapped, type Past } from './past.ts';

/** Markings that were changed since the piece was opened, by id; null: it was not there, or is there no more. */
export type Marks = ReadonlyMap<string, Marking | null>;

/** What one goes back to. */
export interface Step {
  readonly asked: Asked;
  readonly marks: Marks;
}

export const noMarks: Marks = new Map();

/** A marking as it is from a step on. */
export interface MarkChange {
  readonly id: string;
  readonly marking: Marking | null;
}

const knowing = (step: Step, id: string, marking: Marking | null): Step =>
  step.marks.has(id) ? step : { ...step, marks: new Map([...step.marks, [id, marking]]) };

/** After a marking became another, came or went. Earlier steps have it as it was before, so that going back finds it. */
export const marked = (
  past: Past<Step>,
  now: Step,
  id: string,
  before: Marking | null,
  after: Marking | null,
): { readonly past: Past<Step>; readonly now: Step } => {
  const known = knowing(now, id, before);
  return {
    past: changedFrom(
      mapped(past, (step) => knowing(step, id, before)),
      known,
    ),
    now: { ...known, marks: new Map([...known.marks, [id, after]]) },
  };
};

/** What has to change to get from one step's markings to another's. */
export const markChanges = (from: Marks, to: Marks): readonly MarkChange[] =>
  [...to].flatMap(([id, marking]) => (from.get(id) === marking ? [] : [{ id, marking }]));
