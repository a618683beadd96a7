/** Findings of a reading, strongest first: what is told of it, and what is not to be told from together. */
import type { ReadingFigures } from '../reading.ts';
import { findingKinds, type Finding, type FindingKind } from './model.ts';
import { barLinesSeen, entriesSeen, seamsSeen, syncopationsSeen } from './places.ts';
import { bendsSeen, pairsSeen } from './together.ts';
import { weighed } from './weigh.ts';
import { barTempoSeen, driftSeen, styleSeen } from './whole.ts';

export type { Caution, Finding, FindingKind, FindingUnit } from './model.ts';

/** Findings that are said on request, at most. */
export const mostFindings = 7;

/** Kinds of which there is one figure for the take, or for a pair: they are told even if they are small. */
const ofTheTake: ReadonlySet<FindingKind> = new Set(['spread', 'lead', 'drift', 'length', 'evenness']);

/** Whether it is worth a word. */
const speaks = ({ kind, told, small }: Finding): boolean => told && (ofTheTake.has(kind) || !small);

/** What each earlier finding of its kind leaves of a finding's weight, so that no kind drowns the others. Our choice. */
const variety = 0.5;

const order = (kind: FindingKind): number => findingKinds.indexOf(kind);

const byWeight = (a: Finding, b: Finding): number =>
  b.weight - a.weight ||
  order(a.kind) - order(b.kind) ||
  a.rep - b.rep ||
  a.barIndex - b.barIndex ||
  (a.parts.join() < b.parts.join() ? -1 : 1);

/** The same place for several players is told once, where it is clearest. */
const placeOf = ({ kind, barIndex, pass, beat, toBar, parts }: Finding): string =>
  `${kind}/${barIndex}/${pass}/${beat}${ofTheTake.has(kind) || toBar !== null ? `/${parts.join()}` : ''}`;

const onceEach = (findings: readonly Finding[], key: (finding: Finding) => string): readonly Finding[] => {
  const seen = new Set<string>();
  return findings.filter((finding) => {
    const own = key(finding);
    if (seen.has(own)) return false;
    seen.add(own);
    return true;
  });
};

/** Each further finding of a kind counts for less. */
const varied = (findings: readonly Finding[]): readonly Finding[] => {
  const earlier = new Map<FindingKind, number>();
  return findings.map((finding) => {
    const before = earlier.get(finding.kind) ?? 0;
    earlier.set(finding.kind, before + 1);
    return { ...finding, weight: finding.weight * variety ** before };
  });
};

/** How many intervals' halves a value lies away from nothing: which of those that cannot be told is shown. */
const nearness = ({ figure: { value, low, high } }: Finding): number =>
  Math.abs(value) / Math.max(1e-9, high - low);

/**
 * All findings of a reading. First what can be told, strongest first: by the nearer end of the interval in steps of what is worth a word (weigh.ts),
 * less where caution is called for, halved for each earlier one of the kind. Then, for each kind of which nothing can be told, the
 * figure that comes nearest. Only notes that were surely heard, and their perceived beats, count. In free playing neither tempo nor click is held against anyone; where the
 * tempo is asked to give way, by the score or by players' own markings, it is not told. A place played several times is told once, of all times together.
 */
export const findingsOf = (reading: ReadingFigures): readonly Finding[] => {
  const all = [
    ...pairsSeen(reading),
    ...entriesSeen(reading),
    ...driftSeen(reading),
    ...barTempoSeen(reading),
    ...barLinesSeen(reading),
    ...seamsSeen(reading),
    ...syncopationsSeen(reading),
    ...styleSeen(reading),
    ...bendsSeen(reading),
  ].map((seen) => weighed(seen, reading));
  const told = onceEach(all.filter(speaks).sort(byWeight), placeOf);
  const kinds = new Set(told.map(({ kind }) => kind));
  const untold = all
    .filter(({ kind, told: sure }) => !sure && !kinds.has(kind))
    .sort((a, b) => order(a.kind) - order(b.kind) || nearness(b) - nearness(a) || byWeight(a, b));
  return [...[...varied(told)].sort(byWeight), ...onceEach(untold, ({ kind }) => kind)];
};
