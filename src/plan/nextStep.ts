/**
 * What to do after a take: stay, on to less click, back to more, or leave the place for today. A written rule on the judged takes of the
 * place; it proposes, the ensemble decides. docs/letting-go.md says the same in words and which part of it is research.
 */
import { bounds } from './bounds.ts';
import type { Judged } from './take.ts';

/** A take of a place, in its history. */
export interface TriedStep {
  /** Of the rehearsal in which it was played; takes of one rehearsal stand one after the other. */
  readonly rehearsal: string;
  /** Index of the step, 0: most support. -1: none of the place's steps. */
  readonly step: number;
  readonly verdict: Judged['verdict'];
}

/** Why a proposal is made. */
export const reasons = [
  'not-heard',
  'held-once',
  'held-twice',
  'held-again',
  'broke-once',
  'broke-twice',
  'broke-at-first',
  'not-to-be-told',
  'undecided',
  'sent-back-twice',
  'enough-today',
  'held-without-click',
  'held-later',
  'retest-broke',
  'retest-open',
] as const;
export type Reason = (typeof reasons)[number];

export type Proposal = 'stay' | 'on' | 'back' | 'leave';

export interface Proposed {
  readonly proposal: Proposal;
  readonly reason: Reason;
  /** Index of the step that is proposed for the next take of the place. */
  readonly to: number;
}

/** The takes at the end of a list that were made at the step of the last one, without a break. */
const atLastStep = (takes: readonly TriedStep[]): readonly TriedStep[] => {
  const last = takes.at(-1);
  const before = takes.findLastIndex(({ step }) => step !== last?.step);
  return takes.slice(before + 1);
};

const lastIn = (takes: readonly TriedStep[]): readonly TriedStep[] => {
  const last = takes.at(-1);
  const before = takes.findLastIndex(({ rehearsal }) => rehearsal !== last?.rehearsal);
  return takes.slice(before + 1);
};

/** Whether the last takes say the same, those that were not heard left out. */
const inARow = (takes: readonly TriedStep[], verdict: 'holds' | 'breaks'): boolean => {
  const heard = takes.filter((take) => take.verdict !== 'unheard').slice(-bounds.inARow.value);
  return heard.length === bounds.inARow.value && heard.every((take) => take.verdict === verdict);
};

/** How often the takes of a rehearsal broke twice in a row at a step, each stay at it counted once. */
const timesBroken = (today: readonly TriedStep[], step: number): number => {
  let count = 0;
  let rest = today;
  while (rest.length > 0) {
    const stay = atLastStep(rest);
    if (stay[0]?.step === step && inARow(stay, 'breaks')) count += 1;
    rest = rest.slice(0, rest.length - stay.length);
  }
  return count;
};

/** Whether some stay at a step within these takes ended with enough takes in a row that held. */
const heldInARow = (takes: readonly TriedStep[], step: number): boolean =>
  takes.some((_, i) => {
    const stay = atLastStep(takes.slice(0, i + 1));
    return stay[0]?.step === step && inARow(stay, 'holds');
  });

/** Takes by rehearsal, in order. */
const byRehearsal = (takes: readonly TriedStep[]): readonly (readonly TriedStep[])[] => {
  const groups: TriedStep[][] = [];
  for (const take of takes) {
    const group = groups.at(-1);
    if (group?.[0]?.rehearsal === take.rehearsal) group.push(take);
    else groups.push([take]);
  }
  return groups;
};

/**
 * Where a place stands. "open": on its way, next at `step`. "to-retest": it held without a click, and a later rehearsal has to show it at the
 * first try. "held": it did.
 */
export type Standing =
  | { readonly kind: 'new' | 'open'; readonly step: number }
  | { readonly kind: 'to-retest' | 'held'; readonly step: number };

/**
 * The standing of a place after all of its takes, oldest first. `steps`: how many there are; the last has neither click nor count-in. A place that
 * held and then breaks at the first try of a later rehearsal is open again.
 */
export const standingOf = (takes: readonly TriedStep[], steps: number): Standing => {
  const last = steps - 1;
  let standing: Standing = { kind: 'new', step: 0 };
  for (const [i, rehearsal] of byRehearsal(takes).entries()) {
    const [first] = rehearsal;
    const before: Standing = standing;
    const tested = (before.kind === 'to-retest' || before.kind === 'held') && first?.step === last;
    if (tested && first.verdict === 'holds') {
      standing = { kind: 'held', step: last };
      continue;
    }
    const kept = !tested || first.verdict !== 'breaks';
    if (heldInARow(rehearsal, last)) standing = { kind: 'to-retest', step: last };
    else if (kept && (before.kind === 'to-retest' || before.kind === 'held')) standing = before;
    else {
      const upTo = byRehearsal(takes)
        .slice(0, i + 1)
        .flat();
      standing = { kind: 'open', step: proposeNext(upTo, steps).to };
    }
  }
  return standing;
};

const retest = (today: readonly TriedStep[], before: readonly TriedStep[], steps: number): boolean => {
  const last = steps - 1;
  if (today.length !== 1 || today[0]?.step !== last || before.length === 0) return false;
  const { kind } = standingOf(before, steps);
  return kind === 'to-retest' || kind === 'held';
};

/**
 * What to do after the last of these takes of a place, oldest first; `steps`: how many there are, at least one. Without a take: the first step.
 */
export const proposeNext = (takes: readonly TriedStep[], steps: number): Proposed => {
  const take = takes.at(-1);
  const last = steps - 1;
  if (take === undefined) return { proposal: 'stay', reason: 'not-to-be-told', to: 0 };
  const { verdict } = take;
  const step = Math.max(0, Math.min(last, take.step));
  const today = lastIn(takes);
  const back = Math.max(0, step - 1);
  if (retest(today, takes.slice(0, takes.length - 1), steps)) {
    if (verdict === 'holds') return { proposal: 'leave', reason: 'held-later', to: last };
    if (verdict === 'breaks') return { proposal: 'back', reason: 'retest-broke', to: back };
    return { proposal: 'stay', reason: 'retest-open', to: step };
  }
  const stay = atLastStep(today);
  if (inARow(stay, 'holds') && verdict === 'holds') {
    if (step === last) return { proposal: 'leave', reason: 'held-without-click', to: last };
    // What broke today is not asked for again today: end on what holds, so that nobody goes to and fro.
    return timesBroken(today, step + 1) > 0
      ? { proposal: 'leave', reason: 'held-again', to: step + 1 }
      : { proposal: 'on', reason: 'held-twice', to: step + 1 };
  }
  if (inARow(stay, 'breaks') && verdict === 'breaks') {
    if (timesBroken(today, take.step) > 1) return { proposal: 'leave', reason: 'sent-back-twice', to: back };
    return step === 0
      ? { proposal: 'stay', reason: 'broke-at-first', to: 0 }
      : { proposal: 'back', reason: 'broke-twice', to: back };
  }
  if (today.length >= bounds.aDay.value) return { proposal: 'leave', reason: 'enough-today', to: step };
  if (stay.length >= bounds.atOneStep.value) return { proposal: 'leave', reason: 'undecided', to: step };
  const why: Readonly<Record<Judged['verdict'], Reason>> = {
    holds: 'held-once',
    breaks: 'broke-once',
    open: 'not-to-be-told',
    unheard: 'not-heard',
  };
  return { proposal: 'stay', reason: why[verdict], to: step };
};
