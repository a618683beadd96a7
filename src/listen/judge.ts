/** What the model of note beginnings makes of each candidate. */
import type { Choice } from './chain.ts';
import { noChoice } from './choice.ts';
import { deviationsOf } from './deviation.ts';
import type { Event } from './events.ts';
import {
  featuresOf,
  knownOf,
  referenceOf,
  surroundingsOf,
  type Around,
  type Surroundings,
} from './features.ts';
import type { Coarse } from './likeness.ts';
import { measuredOf, type Measured } from './measured.ts';
import { forward, unpackedNetwork } from './network.ts';
import { noteModel } from './noteModel.ts';
import type { Candidate } from './rise.ts';

/** What the model of note beginnings says of a candidate; seconds in the recording. */
export interface Judged {
  readonly candidate: Candidate;
  /** What the model was told but for the curves, and the time that its answers count from. */
  readonly known: readonly number[];
  /** What bears on how far off it may be (features.ts). */
  readonly surroundings: readonly number[];
  readonly reference: number;
  /** Log odds that it is the note's beginning. */
  readonly odds: number;
  readonly physical: number;
  readonly perceived: number;
  /** Scale of Student's t with 4 degrees of freedom, in seconds. */
  readonly physicalScale: number;
  readonly perceivedScale: number;
  /** Where they were measured: then `physical` and `perceived` are so. */
  readonly physicalMeasured: Measured | null;
  readonly perceivedMeasured: Measured | null;
}

/** One standard deviation each, in seconds. */
export interface Deviations {
  readonly physical: number;
  readonly perceived: number;
}

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

/** Everything known of each candidate, and what the model makes of it. */
export const judgeAll = (
  events: readonly Event[],
  choices: readonly Choice[],
  coarse: Coarse,
  { softer, clicks }: { readonly softer: number; readonly clicks: Float64Array },
): readonly (readonly Judged[])[] => {
  const firsts = choices.flatMap(({ candidates: [first] }) => (first === undefined ? [] : [first]));
  const levels = Float32Array.from(coarse.level).sort();
  const usualTop = median(firsts.map(({ top }) => top));
  const usualOther = median(firsts.map(({ other }) => other));
  const floor = levels[Math.floor(0.05 * levels.length)] ?? 0;
  const surroundings: Surroundings = { usualOther, floor, softer, clicks };
  return events.map((event, i) => {
    const choice = choices[i] ?? noChoice;
    const around = {
      event,
      before: events[i - 1] ?? null,
      after: events[i + 1] ?? null,
      choice,
      coarse,
      usualTop,
    };
    return choice.candidates.map((candidate) =>
      judge(candidate, around, surroundingsOf(candidate, surroundings)),
    );
  });
};

const networks = noteModel.map(unpackedNetwork);

/** Outputs of the model: times are in units of 10 ms against the reference. */
const judge = (candidate: Candidate, around: Around, surroundings: readonly number[]): Judged => {
  const known = knownOf(candidate, around);
  const [odds = 0, physical = 0, perceived = 0, physicalScale = 0, perceivedScale = 0] = forward(
    networks,
    featuresOf(known, candidate, around.choice.curves),
  );
  // A repeated note may have no rise of its own to speak of.
  const reference = around.event.repeated ? candidate.at : referenceOf(candidate);
  const { repeated, slurred } = around.event;
  const [start, beat] = [reference + physical / 100, reference + perceived / 100];
  const physicalMeasured = measuredOf(candidate.first, start, repeated || slurred);
  const perceivedMeasured = measuredOf(candidate.beat, beat, repeated || slurred);
  const scale = (log: number): number => 0.01 * Math.exp(Math.max(-4, Math.min(3, log)));
  return {
    candidate,
    known,
    surroundings,
    reference,
    odds,
    physical: physicalMeasured?.at ?? start,
    perceived: perceivedMeasured?.at ?? beat,
    physicalScale: scale(physicalScale),
    perceivedScale: scale(perceivedScale),
    physicalMeasured,
    perceivedMeasured,
  };
};

/** How far off what was chosen may be; null where nothing was. */
export const deviationsFor = (
  choice: Choice,
  judged: readonly Judged[],
  chosen: number,
): Deviations | null => {
  const own = judged[chosen];
  if (own === undefined) return null;
  return deviationsOf({
    coarse: choice.coarse,
    line: choice.line,
    rivals: judged.map(({ candidate, perceived, odds }) => ({ at: candidate.at, perceived, odds })),
    chosen,
    repeated: choice.repeated,
    slurred: choice.slurred,
    take: own.surroundings,
    physicalLog: Math.log(own.physicalScale / 0.01),
    perceivedLog: Math.log(own.perceivedScale / 0.01),
    physicalMeasured: own.physicalMeasured,
    perceivedMeasured: own.perceivedMeasured,
  });
};
