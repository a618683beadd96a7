/** Says of every expected note of a mixture how likely it begins where: the network of a mixture over the whole recording. */
import { listeningRate } from '../model.ts';
import { frameHop } from './featuresPartial.ts';
import {
  noteFeatures,
  reach,
  topOf,
  width,
  frameSeconds,
  type HeardRows,
  type NoteFeatures,
} from './features.ts';
import { beliefsAround, middleOf, placed } from './beliefs.ts';
import { inTurn, isNear } from './inTurn.ts';
import { lookerFor, mostKept, type Look } from './looker.ts';
import { hear, unpackedMixNet, type MixNet } from './net.ts';
import { mixModel } from './netModel.ts';
import { mixModelAgain } from './netModelAgain.ts';
import { redrawn } from './course.ts';
import { beatOf, judged } from './refineJudge.ts';
import type { MixNote, OnsetDistribution, Refine } from './types.ts';

interface Nets {
  readonly first: readonly MixNet[];
  /** Knows what the first has heard of all notes. */
  readonly again: readonly MixNet[];
}

let ready: Nets | null = null;
const nets = (): Nets =>
  (ready ??= { first: mixModel.map(unpackedMixNet), again: mixModelAgain.map(unpackedMixNet) });

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? -30;

/** The note's time on the sample that its frames are counted from. */
const onSample = (time: number): number => Math.round(time * listeningRate) / listeningRate;

const answerOf = (
  by: readonly MixNet[],
  { rows, constants }: NoteFeatures,
  time: number,
  slurred: boolean,
): OnsetDistribution | null => {
  const [beat, start] = hear(by, rows, constants, width);
  if (beat === undefined || start === undefined) return null;
  return {
    start: onSample(time) - reach * frameSeconds,
    step: frameHop / listeningRate,
    p: beat,
    calibrated: true,
    grain: frameSeconds,
    ...judged(beat, start, slurred),
  };
};

/** What is known of a recording while its notes are searched for. */
interface Search {
  /** What is heard around one of the notes; null where nothing can be. */
  readonly look: (k: number) => HeardRows | null;
  readonly notes: readonly MixNote[];
  readonly clicks: Float64Array;
  readonly usualTop: number;
}

const answersOf = (
  { look, notes, clicks, usualTop }: Search,
  wanted: (k: number) => boolean,
  progress: (done: number) => void = () => undefined,
): readonly (OnsetDistribution | null)[] => {
  const out: (OnsetDistribution | null)[] = [];
  inTurn(notes, look, (k, own) => {
    progress(k / notes.length);
    const note = notes[k];
    const there = note !== undefined && own !== null && wanted(k);
    out.push(
      there
        ? answerOf(nets().first, noteFeatures(own, notes, k, clicks, usualTop), note.time, note.slurred)
        : null,
    );
  });
  return out;
};

/** Each note of `wanted` once more, where it was looked for, by the network that knows what was heard of all. */
const heardAgain = (
  look: Look,
  { notes, clicks, usualTop }: Omit<Search, 'look'>,
  answers: readonly (OnsetDistribution | null)[],
  wanted: (answer: OnsetDistribution) => boolean,
  progress: (done: number) => void,
): readonly (OnsetDistribution | null)[] => {
  const known = placed(notes, answers);
  const out = [...answers];
  const middles = Float64Array.from(notes, ({ time }, k) => {
    const answer = answers[k] ?? null;
    return answer === null ? time : middleOf(answer);
  });
  const sought = byTime(notes, middles);
  const those = sought.map(({ note }) => note);
  const times = sought.flatMap(({ note, from }) => {
    const answer = answers[from] ?? null;
    return answer !== null && wanted(answer) ? [note.time] : [];
  });
  const lookAt = (place: number): HeardRows | null => {
    const one = sought[place];
    return one !== undefined && isNear(times, one.note.time) ? look(one.from, one.note.time) : null;
  };
  inTurn(those, lookAt, (place, own) => {
    progress(place / those.length);
    const { note, from: k } = sought[place] ?? {};
    const answer = k === undefined ? null : (answers[k] ?? null);
    if (note === undefined || k === undefined || own === null || answer === null || !wanted(answer)) return;
    const beliefs = beliefsAround(known, answers, k, note.time, reach);
    const features = noteFeatures(own, known, k, clicks, usualTop, { time: note.time, beliefs });
    out[k] = answerOf(nets().again, features, note.time, note.slurred) ?? answer;
  });
  return out;
};

/** Seconds that a note may lie beside where it is expected after all, without being searched for again: well within the window. */
const farOff = 0.06;

/** Notes by their times, and which of the given ones each is. */
const byTime = (notes: readonly MixNote[], times: Float64Array): readonly { note: MixNote; from: number }[] =>
  notes
    .map((note, from) => ({ note: { ...note, time: times[from] ?? note.time }, from }))
    .sort((a, b) => a.note.time - b.note.time || a.from - b.from);

/** How much of the search is done when all notes were looked at, when the first network has heard each once and again, and when the second has heard all; by the clock, roughly. */
const shares = { look: 0.3, first: 0.55, second: 0.62, again: 0.9 } as const;

/** The first for all notes, further ones for those that are not sure: they profit from what the last has made sure. */
const usualRounds = 2;

/** `notes` have to be by time. Notes without a pitch, and those beyond the recording, have no answer. */
export const refine: Refine = (
  signal,
  notes,
  { clicks, rounds = usualRounds, progress = () => undefined },
) => {
  const look = lookerFor(signal, notes);
  // Of a long take as many, evenly spread, as can be kept: they need not all be looked at for a median.
  const every = Math.ceil(notes.length / mostKept);
  const usualTop = median(
    notes.flatMap(({ time }, k) => {
      if (k % every !== 0) return [];
      progress((shares.look * k) / notes.length);
      const heard = look(k, time);
      return heard === null ? [] : [topOf(heard)];
    }),
  );
  const first = answersOf(
    { look: (k) => look(k, notes[k]?.time ?? 0), notes, clicks, usualTop },
    () => true,
    (done) => progress(shares.look + (shares.first - shares.look) * done),
  );
  const times = redrawn(
    notes,
    first.map((answer, k) => (answer?.trust === 'sure' && notes[k]?.found === true ? beatOf(answer) : null)),
  );
  const again = byTime(notes, times);
  const wanted = again.map(({ note, from }) => {
    const answer = first[from] ?? null;
    return (
      note.hertz > 0 && (answer?.trust !== 'sure' || Math.abs(note.time - (notes[from]?.time ?? 0)) > farOff)
    );
  });
  const moved = again.map(({ note }) => note);
  const sought = moved.filter((_, k) => wanted[k]).map(({ time }) => time);
  const near = (place: number): HeardRows | null => {
    const { note, from } = again[place] ?? {};
    return note !== undefined && from !== undefined && isNear(sought, note.time)
      ? look(from, note.time)
      : null;
  };
  const second = answersOf(
    { look: near, notes: moved, clicks, usualTop },
    (k) => wanted[k] === true,
    (done) => progress(shares.first + (shares.second - shares.first) * done),
  );
  const out = [...first];
  again.forEach(({ from }, k) => {
    const answer = second[k] ?? null;
    if (answer !== null) out[from] = answer;
  });
  let known: readonly (OnsetDistribution | null)[] = out;
  for (let round = 0; round < rounds; round += 1)
    known = heardAgain(
      look,
      { notes, clicks, usualTop },
      known,
      ({ trust }) => round === 0 || trust !== 'sure',
      (done) => {
        const [from, to] = round === 0 ? [shares.second, shares.again] : [shares.again, 1];
        progress(from + (to - from) * done);
      },
    );
  return known;
};
