/** A score and a request, made into the folder that players take to the stand. */
import { bytesToHex } from '@noble/hashes/utils.js';
import { sha256 } from '@noble/hashes/sha2.js';
import { drillJson } from '../drill/format.ts';
import { extractScore } from '../drill/extract.ts';
import type { Drill } from '../drill/model.ts';
import { sharedOnce, withTimes } from '../drill/ownMarks.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { Score } from '../score/model.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { writeMidi } from '../sound/midi.ts';
import { fail, ok, type Problem, type Result } from '../units/index.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import type { FileToWrite } from './ports.ts';
import { eachOnce, readPiece, type ReadPiece } from './readOnce.ts';
import { usualDrill, type DrillRequest } from './request.ts';
import { soundFiles, type SoundOptions } from './soundFiles.ts';
import { summaryOf, type DrillSummary } from './summary.ts';
import { timelineJson } from './timelineJson.ts';

/** Files that make up a drill. Same score, drill and options: same bytes. */
export interface DrillFolder {
  readonly drill: Drill;
  /** For the pages. */
  readonly worked: WorkedDrill;
  readonly files: readonly FileToWrite[];
  readonly summary: DrillSummary;
  /** Those problems of the result that concern the reading of the score, not this drill. */
  readonly fromScore: readonly Problem[];
}

/** SHA-256 (FIPS 180-4) in hexadecimal: the identity of a piece. */
export const pieceHash = (bytes: Uint8Array): string => bytesToHex(sha256(bytes));

/** What the score's own copy is called: by what it is and never by what it was called. */
export const scoreFileName = (score: Score, bytes: Uint8Array): string => {
  const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
  switch (score.source) {
    case 'musicxml':
      return zipped ? 'score.mxl' : 'score.musicxml';
    case 'mei':
      return 'score.mei';
    case 'kern':
      return 'score.krn';
    case 'abc':
      return 'score.abc';
    case 'midi':
      return 'score.mid';
    case 'barplan':
      return 'score.txt';
  }
};

/** A title of this many characters is a text that was put in the wrong place. */
export const longestTitle = 1000;

const whole = (name: string, bytes: Uint8Array): FileToWrite => ({
  name,
  chunks: [bytes],
  size: bytes.length,
});

/** What of the reading concerns this drill: open octaves that it answers and tempi that it replaces do not. */
export const readingProblems = (read: ReadPiece, drill: Drill): readonly Problem[] => {
  const answered = new Set(Object.keys(drill.octaves));
  const fromScore = drill.tempo.length === 0 || drill.tempo.some((step) => step.includes('%'));
  return [
    ...read.problems,
    ...read.octaves.filter(({ part }) => part === undefined || !answered.has(part)),
    ...(fromScore ? read.tempoProblems : []),
  ];
};

/** For other programs, which know of no markings for one time only. */
const printable = (score: Score): Score => ({ ...score, parts: sharedOnce(score.parts).map(withTimes) });

const midiOf = (worked: WorkedDrill, title: string): { bytes: Uint8Array; problems: readonly Problem[] } =>
  writeMidi(worked.timeline, {
    title,
    parts: worked.parts.map(({ id, name, program }) => ({ id, name, program })),
  });

/**
 * Makes a drill on the score that `bytes` hold. `before`: a drill of the same score that is made again; the request
 * overrides it. `settings`: what an ensemble has set for the piece; bars are then asked for by its numbers. Errors: those of the readers, of the drill and of the sound options, and `score-changed` where `before`
 * was made on other bytes.
 */
export const makeDrill = (
  bytes: Uint8Array,
  request: DrillRequest,
  options: SoundOptions & { readonly before?: Drill | null; readonly settings?: PieceSettings } = {},
): Result<DrillFolder> => {
  const { rate = 48_000, before = null, settings = asInScore } = options;
  const hash = pieceHash(bytes);
  if (before !== null && before.score.sha256 !== hash) {
    return fail(
      'score-changed',
      `The score in this drill's folder (${before.score.file}) is not the one that the drill was made on. Make the drill anew from the score.`,
    );
  }
  const read = readPiece(bytes, settings);
  if (!read.ok) return read;
  const { score } = read.value;
  const drill: Drill = {
    ...usualDrill,
    ...before,
    ...request,
    format: 'levare.drill/2',
    score: { sha256: hash, title: score.title.slice(0, longestTitle), file: scoreFileName(score, bytes) },
  };
  const worked = workOut(score, drill, rate);
  if (!worked.ok) return worked;
  const { timeline } = worked.value;
  const sound = soundFiles(worked.value, options);
  if (!sound.ok) return sound;
  const midi = midiOf(worked.value, score.title);
  const music = writeMusicXml(printable(extractScore(worked.value)));
  const encoder = new TextEncoder();
  const files: readonly FileToWrite[] = [
    ...sound.value,
    whole('drill.mid', midi.bytes),
    whole('drill.musicxml', encoder.encode(music.text)),
    whole('drill.json', encoder.encode(drillJson(drill))),
    { name: 'timeline.json', chunks: timelineJson(timeline), size: null },
    whole(drill.score.file, bytes),
  ];
  const fromScore = eachOnce(readingProblems(read.value, drill));
  const problems = [...fromScore, ...worked.problems, ...sound.problems, ...midi.problems, ...music.problems];
  return ok(
    { drill, worked: worked.value, files, summary: summaryOf(worked.value), fromScore },
    eachOnce(problems),
  );
};
