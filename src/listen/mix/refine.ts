/** Says of every expected note of a mixture how likely it begins where: the network of a mixture over the whole recording. */
import { listeningRate } from '../model.ts';
import { frameHop } from './featuresPartial.ts';
import { heardAround, noteFeatures, reach, topOf, width, frameSeconds, type HeardRows } from './features.ts';
import { wholeSound } from './featuresWhole.ts';
import { bearing, inTurn } from './inTurn.ts';
import { hear, unpackedMixNet, type MixNet } from './net.ts';
import { mixModel } from './netModel.ts';
import { redrawn } from './course.ts';
import { beatOf, judged } from './refineJudge.ts';
import type { MixNote, OnsetDistribution, Refine } from './types.ts';

let ready: readonly MixNet[] | null = null;
const nets = (): readonly MixNet[] => (ready ??= mixModel.map(unpackedMixNet));

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? -30;

/** The note's time on the sample that its frames are counted from. */
const onSample = (time: number): number => Math.round(time * listeningRate) / listeningRate;

const answerOf = (
  note: MixNote,
  heard: HeardRows,
  notes: readonly MixNote[],
  k: number,
  clicks: Float64Array,
  usualTop: number,
): OnsetDistribution | null => {
  const { rows, constants } = noteFeatures(heard, notes, k, clicks, usualTop);
  const [beat, start] = hear(nets(), rows, constants, width);
  if (beat === undefined || start === undefined) return null;
  return {
    start: onSample(note.time) - reach * frameSeconds,
    step: frameHop / listeningRate,
    p: beat,
    calibrated: true,
    grain: frameSeconds,
    ...judged(beat, start, note.slurred),
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
    out.push(there ? answerOf(note, own, notes, k, clicks, usualTop) : null);
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

/** How much of the search is done when all notes were looked at, and when the network has heard each once; by the clock, roughly. */
const shares = { look: 0.5, first: 0.97 } as const;

/** Notes of which what is heard around them is kept until they are searched for; of what comes after, in a long take, it is made twice. */
const mostKept = 1024;

/** `notes` have to be by time. Notes without a pitch, and those beyond the recording, have no answer. */
export const refine: Refine = (signal, notes, { clicks, progress = () => undefined }) => {
  const whole = wholeSound(signal);
  const seconds = signal.length / listeningRate;
  const look = ({ hertz, time }: MixNote): HeardRows | null =>
    hertz > 0 && time > -0.1 && time < seconds + 0.1 ? heardAround(signal, whole, hertz, time, reach) : null;
  const lookAt = (of: readonly MixNote[], k: number): HeardRows | null => {
    const note = of[k];
    return note === undefined ? null : look(note);
  };
  const kept: (HeardRows | null)[] = [];
  const usualTop = median(
    notes.flatMap((note, k) => {
      progress((shares.look * k) / notes.length);
      const heard = look(note);
      if (k < mostKept) kept.push(heard);
      return heard === null ? [] : [topOf(heard)];
    }),
  );
  const first = answersOf(
    { look: (k) => (k < mostKept ? (kept[k] ?? null) : lookAt(notes, k)), notes, clicks, usualTop },
    () => true,
    (done) => progress(shares.look + (shares.first - shares.look) * done),
  );
  const times = redrawn(
    notes,
    first.map((answer, k) =>
      answer === null || answer.unsure || notes[k]?.found !== true ? null : beatOf(answer),
    ),
  );
  const again = byTime(notes, times);
  const wanted = again.map(({ note, from }) => {
    const answer = first[from] ?? null;
    return (
      note.hertz > 0 &&
      (answer === null || answer.unsure || Math.abs(note.time - (notes[from]?.time ?? 0)) > farOff)
    );
  });
  const moved = again.map(({ note }) => note);
  const sought = moved.filter((_, k) => wanted[k]).map(({ time }) => time);
  const near = (k: number): HeardRows | null =>
    isNear(sought, moved[k]?.time ?? Infinity) ? lookAt(moved, k) : null;
  const second = answersOf({ look: near, notes: moved, clicks, usualTop }, (k) => wanted[k] === true);
  const out = [...first];
  again.forEach(({ from }, k) => {
    const answer = second[k] ?? null;
    if (answer !== null) out[from] = answer;
  });
  return out;
};

/** Whether one of these times, which ascend, has a bearing on this one. */
const isNear = (times: readonly number[], time: number): boolean => {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) < time - bearing) low = middle + 1;
    else high = middle;
  }
  return (times[low] ?? Infinity) <= time + bearing;
};
