/** A drill made to be seen and heard at once, on a page that plays: what a screen and a loudspeaker need of it. */
import { pageBars } from '../drill/drillStretch.ts';
import type { Drill } from '../drill/model.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { LiveClicks } from '../sound/live.ts';
import type { LiveParts } from '../sound/liveParts.ts';
import { ticksOf } from '../sheet/screen.ts';
import { ok, type Problem, type Result } from '../units/index.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import { liveMarks, liveSound, type LiveMarks, type LiveOptions } from './liveSound.ts';
import { longestTitle, pieceHash, readingProblems, scoreFileName } from './makeDrill.ts';
import { eachOnce, readPiece, type ReadPiece } from './readOnce.ts';
import { usualDrill, type DrillRequest } from './request.ts';
import { summaryOf, type DrillSummary } from './summary.ts';

export type { LiveClicks } from '../sound/live.ts';
export { makeScreen, type Screen, type ScreenOptions, type ScreenSystem } from '../sheet/screen.ts';
export type { ScreenBar, ScreenBeat, ScreenNote } from '../sheet/touch.ts';

/** A score that was read once and is asked for drills again and again. */
export interface HeldPiece {
  readonly bytes: Uint8Array;
  readonly sha256: string;
  readonly read: ReadPiece;
}

/** Reads a score to hold it, with what an ensemble has set for it. Errors: those of `readPiece`. */
export const holdPiece = (bytes: Uint8Array, settings: PieceSettings = asInScore): Result<HeldPiece> => {
  const read = readPiece(bytes, settings);
  return read.ok ? ok({ bytes, sha256: pieceHash(bytes), read: read.value }) : read;
};

/** A click as it is told to those who watch: plain data. */
export interface LiveClick {
  /** Counted from the drill's first sample. */
  readonly sample: number;
  /** Repetition, from 1. */
  readonly rep: number;
  /** Printed number of its bar; null for what is counted before the music. */
  readonly bar: string | null;
  /** "2", "2+1/2". */
  readonly beat: string;
  /** The count word; null for clicks in the music. */
  readonly word: string | null;
}

/** Plain data, fit to be handed to another thread. */
export interface LiveDrill {
  readonly drill: Drill;
  readonly summary: DrillSummary;
  /** By time. */
  readonly clicks: readonly LiveClick[];
  /** For each click the id of its tick on the page; null where it stands on none. */
  readonly ticks: readonly (string | null)[];
  /** The bars on its page in their order, the upbeat's among them: index in the score, printed number. */
  readonly pageBars: readonly { readonly barIndex: number; readonly number: string }[];
  readonly sound: LiveClicks;
  /** Null where they are not to sound. */
  readonly parts: LiveParts | null;
  readonly marks: LiveMarks;
  /** Those problems of the result that concern the reading of the score, not this drill. */
  readonly fromScore: readonly Problem[];
}

export interface WorkedPiece {
  readonly live: LiveDrill;
  /** For `makeScreen`. */
  readonly worked: WorkedDrill;
}

/** Works out a drill at a sample rate in Hz. Errors: those of the drill and of `liveSound`. */
export const liveDrill = (
  piece: HeldPiece,
  request: DrillRequest,
  rate: number,
  options: LiveOptions = {},
): Result<WorkedPiece> => {
  const { score } = piece.read;
  const drill: Drill = {
    ...usualDrill,
    ...request,
    format: 'levare.drill/2',
    score: {
      sha256: piece.sha256,
      title: score.title.slice(0, longestTitle),
      file: scoreFileName(score, piece.bytes),
    },
  };
  const worked = workOut(score, drill, rate);
  if (!worked.ok) return worked;
  const { timeline } = worked.value;
  const sound = liveSound(worked.value, options);
  if (!sound.ok) return sound;
  const fromScore = eachOnce(readingProblems(piece.read, drill));
  const clicks = timeline.clicks.map(({ sample, rep, bar, beat, word }) => ({
    sample,
    rep,
    bar,
    beat,
    word,
  }));
  return ok(
    {
      live: {
        drill,
        summary: summaryOf(worked.value),
        clicks,
        ticks: ticksOf(worked.value),
        pageBars: pageBars(worked.value),
        sound: sound.value.clicks,
        parts: sound.value.parts,
        marks: liveMarks(worked.value),
        fromScore,
      },
      worked: worked.value,
    },
    eachOnce([...fromScore, ...worked.problems, ...sound.problems]),
  );
};
