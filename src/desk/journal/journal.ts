/** The journal of a shelf: takes by piece and place in order, what the rule says after them, and what was noted in words. */
import {
  judgeTake,
  proposeNext,
  standingOf,
  type Judged,
  type Proposed,
  type Standing,
  type Step,
  type TriedStep,
} from '../../plan/index.ts';
import type { ShelfRecord } from '../shelf/formats.ts';
import type { JournalNote, JournalTake, Rehearsal } from '../shelf/journalFormats.ts';
import { stepKey } from './keys.ts';
import { figuresOfTake } from './takeRecord.ts';

export type Records = ReadonlyMap<string, ShelfRecord>;

/** Takes as they were played: by day, rehearsal, and order in it; the same on every device. */
const inOrder = (a: JournalTake, b: JournalTake): number =>
  a.day !== b.day
    ? a.day < b.day
      ? -1
      : 1
    : a.rehearsal !== b.rehearsal
      ? a.rehearsal < b.rehearsal
        ? -1
        : 1
      : a.nth - b.nth || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** The journal, sorted once and asked often. */
export interface Journal {
  /** Oldest first. */
  readonly rehearsals: readonly Rehearsal[];
  readonly notes: readonly JournalNote[];
  /** By piece and then place, oldest first. */
  readonly takes: ReadonlyMap<string, ReadonlyMap<string, readonly JournalTake[]>>;
}

const byDay = <T extends { readonly day: string; readonly id: string }>(a: T, b: T): number =>
  a.day === b.day ? (a.id < b.id ? -1 : a.id > b.id ? 1 : 0) : a.day < b.day ? -1 : 1;

/** Sorts the records of a shelf into its journal. Takes that the players left out stay on the shelf and are not in it. */
export const journalOf = (records: Iterable<ShelfRecord>): Journal => {
  const rehearsals: Rehearsal[] = [];
  const notes: JournalNote[] = [];
  const takes = new Map<string, Map<string, JournalTake[]>>();
  for (const { kind, value } of records) {
    if (kind === 'rehearsal') rehearsals.push(value);
    if (kind === 'journal-note') notes.push(value);
    if (kind !== 'journal-take' || value.out === 'yes') continue;
    const piece = takes.get(value.piece) ?? new Map<string, JournalTake[]>();
    takes.set(value.piece, piece);
    const place = piece.get(value.place);
    if (place === undefined) piece.set(value.place, [value]);
    else place.push(value);
  }
  for (const piece of takes.values()) for (const list of piece.values()) list.sort(inOrder);
  return { rehearsals: rehearsals.sort(byDay), notes: notes.sort(byDay), takes };
};

const nothing: readonly JournalTake[] = [];

export const takesAt = ({ takes }: Journal, piece: string, place: string): readonly JournalTake[] =>
  takes.get(piece)?.get(place) ?? nothing;

/** Steps that are gone through, the side branches left out unless a take was made at one. */
export const mainSteps = (steps: readonly Step[]): readonly Step[] =>
  steps.filter(({ branch }) => branch === 'main');

const indexOf = (key: string, steps: readonly Step[]): number => {
  const main = mainSteps(steps);
  const found = main.findIndex((step) => stepKey(step) === key);
  if (found >= 0) return found;
  // A side branch stands beside the step that it follows.
  const aside = steps.findIndex((step) => stepKey(step) === key);
  return aside < 0 ? -1 : steps.slice(0, aside).filter(({ branch }) => branch === 'main').length - 1;
};

/** Takes as the rule sees them; those at no step of the place are left out. */
export const triedSteps = (takes: readonly JournalTake[], steps: readonly Step[]): readonly TriedStep[] =>
  takes.flatMap((take) => {
    const step = indexOf(take.step, steps);
    const { verdict } = judgeTake(figuresOfTake(take));
    return step < 0 ? [] : [{ rehearsal: take.rehearsal, step, verdict }];
  });

/** Whether a take held. */
export const verdictOf = (take: JournalTake): Judged['verdict'] => judgeTake(figuresOfTake(take)).verdict;

/** What is said after the last take of a place. */
export interface AfterTake {
  readonly proposed: Proposed;
  /** The step that is proposed for the next take. */
  readonly step: Step;
  readonly standing: Standing;
  readonly judged: Judged;
  /** The step of that take, as far as it is one of the place. */
  readonly at: Step | null;
}

/** The rule after the last of these takes, oldest first. Null without steps or takes at them. */
export const afterTake = (takes: readonly JournalTake[], steps: readonly Step[]): AfterTake | null => {
  const main = mainSteps(steps);
  const tried = triedSteps(takes, steps);
  const last = takes.findLast((take) => indexOf(take.step, steps) >= 0);
  if (last === undefined || main.length === 0) return null;
  const proposed = proposeNext(tried, main.length);
  const step = main[proposed.to];
  if (step === undefined) return null;
  return {
    proposed,
    step,
    standing: standingOf(tried, main.length),
    judged: judgeTake(figuresOfTake(last)),
    at: steps.find((one) => stepKey(one) === last.step) ?? null,
  };
};

/** Where a place stands. */
export const standing = (takes: readonly JournalTake[], steps: readonly Step[]): Standing =>
  standingOf(triedSteps(takes, steps), Math.max(1, mainSteps(steps).length));
