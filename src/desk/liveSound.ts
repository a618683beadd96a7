/** What a loudspeaker needs of a drill that was worked out: clicks, parts, and where one may go over to another drill. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { positionTimes } from '../drill/times.ts';
import { usualLevel } from '../sound/click.ts';
import { soundingClicks, spokenWords } from '../sound/counts.ts';
import { liveClicks, liveWords, type LiveClicks } from '../sound/live.ts';
import { liveParts, type LiveParts } from '../sound/liveParts.ts';
import { drillShapes } from '../sound/parts/drillShapes.ts';
import { chooseRegister, isLight } from '../sound/registers.ts';
import { checkReference, factorOf, referencePitches } from '../sound/tuning.ts';
import type { WordSet } from '../sound/words/wordSet.ts';
import { decibels, ok, plus, samplesAt, type Result } from '../units/index.ts';

export { factorOfLetter, levelLetters, type LevelLetter } from '../sound/levels.ts';
export type { LiveQueue } from '../sound/live.ts';
export { partsBlocks, type LiveParts, type PartsBlock } from '../sound/liveParts.ts';

/** How a drill is to sound live. */
export interface LiveOptions {
  /** A4 in Hz, 392 to 466; 440 where it is left out. */
  readonly reference?: number;
  /** Whether the parts sound too; false where it is left out. */
  readonly parts?: boolean;
  /** The spoken count; null or left out: counts are clicked. */
  readonly words?: WordSet | null;
}

export interface LiveSound {
  readonly clicks: LiveClicks;
  /** Null where they are not asked for. */
  readonly parts: LiveParts | null;
}

/** Nothing that goes to the loudspeaker passes this, in dBFS: the wave between the samples may pass them a little. */
const ceiling = decibels(-1.5);

/** The first count stands on the first sample, so what is spoken before its vowel is always lost; no news. */
const cutAtTheStart = 'count-word-cut';

/** Clicks and parts of a drill, which together stay below the ceiling. Errors: those of `liveClicks`, and `reference-pitch`. */
export const liveSound = (
  worked: WorkedDrill,
  { reference: asked = referencePitches.usual, parts: sounding = false, words = null }: LiveOptions = {},
): Result<LiveSound> => {
  const { timeline, parts, drill } = worked;
  const reference = checkReference(asked);
  if (!reference.ok) return reference;
  // Register, accents and words are those of the files, so that both sound the same.
  const { sampleRate, duration } = timeline;
  const register = chooseRegister(timeline.notes, sampleRate, reference.value);
  const heard = soundingClicks(timeline.clicks, isLight(drill.click), words, 'both');
  const frames = samplesAt(duration, sampleRate);
  const spoken = spokenWords(timeline.clicks, sampleRate, frames, usualLevel, words, 'both');
  const clicks = liveClicks({ ...timeline, clicks: heard }, usualLevel, register, liveWords(spoken.placed));
  if (!clicks.ok) return clicks;
  const problems = spoken.problems.filter(({ code }) => code !== cutAtTheStart);
  if (!sounding) return ok({ clicks: clicks.value, parts: null }, problems);
  const room = factorOf(ceiling) - factorOf(usualLevel);
  const made = liveParts(timeline, parts, {
    reference: reference.value,
    shapes: drillShapes(worked),
    ceiling: room,
  });
  return ok({ clicks: clicks.value, parts: made.parts }, [...problems, ...made.problems]);
};

/** Where a drill can be left for another, or be begun. Samples from the drill's first. Plain data. */
export interface LiveMarks {
  /** For each repetition, in order, where its music ends. */
  readonly ends: readonly number[];
  /** Bars of the score as they are played, by time; what stands between repetitions is not among them. */
  readonly bars: readonly LiveBar[];
}

export interface LiveBar {
  readonly sample: number;
  readonly rep: number;
  readonly barIndex: number;
  /** Printed. */
  readonly number: string;
}

/** The marks of a drill. A bar that begins before the passage (an upbeat) counts from where it is played. */
export const liveMarks = ({ timeline: { bars, tempo, sampleRate } }: WorkedDrill): LiveMarks => {
  const timeOf = positionTimes(tempo);
  const ends: number[] = [];
  const played = bars.flatMap((bar): LiveBar[] => {
    if (bar.kind === 'count-in' || bar.kind === 'gap') return [];
    ends[bar.rep - 1] = samplesAt(timeOf(plus(bar.start, bar.length)), sampleRate);
    if (bar.barIndex === null || bar.number === null) return [];
    const sample = samplesAt(timeOf(bar.start), sampleRate);
    return [{ sample, rep: bar.rep, barIndex: bar.barIndex, number: bar.number }];
  });
  return { ends, bars: played };
};
