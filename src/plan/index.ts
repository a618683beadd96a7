/** What to do about a place: how heavy it weighs in a list, why, and by which steps to practise it. */
export type { Click, Setting, Step, StepSettings } from './model.ts';
export { stepsFor } from './steps.ts';
export { weightOf } from './weight.ts';
export { whyOf, type Measure } from './why.ts';
export { apartText, lengthText, unitText, valuesText } from './words.ts';
export { bounds, grounds, type Basis } from './bounds.ts';
export { judgeTake, type Judged, type TakeFigure, type TakeFigures, type TakePair } from './take.ts';
export {
  proposeNext,
  reasons,
  standingOf,
  type Proposal,
  type Proposed,
  type Reason,
  type Standing,
  type TriedStep,
} from './nextStep.ts';
export { meanArrival, tempoChange, type PlayedTempo } from './tempoChange.ts';
export {
  growthOf,
  growthPoints,
  pooled,
  type DatedFigure,
  type Growth,
  type GrowthPoint,
  type GrowthTold,
} from './growth.ts';
export {
  planRehearsal,
  planRemarks,
  type PlanAsked,
  type Planned,
  type PlanPlace,
  type PlanRemark,
  type RehearsalPlan,
} from './rehearsal.ts';
