/** A score read from its bytes, with all there is to say about it; every question to the desk begins here. */
import { scoreTempo } from '../rhythm/scoreTempo.ts';
import type { TempoMap } from '../rhythm/tempo.ts';
import type { Score } from '../score/model.ts';
import { octaveQuestions } from '../score/octaves.ts';
import { playingOrder, type PlayingOrder } from '../score/playing.ts';
import { readScore } from '../score/read/recognise.ts';
import { ok, type Problem, type Result } from '../units/index.ts';
import { asInScore, fitScore, type PieceSettings } from './fitScore.ts';

export interface ReadPiece {
  readonly score: Score;
  readonly order: PlayingOrder;
  readonly tempo: TempoMap;
  /** From the reader and the playing order. */
  readonly problems: readonly Problem[];
  /** Parts whose octave the file leaves open. */
  readonly octaves: readonly Problem[];
  /** What the tempo marks left open; of no concern where a player names the tempo. */
  readonly tempoProblems: readonly Problem[];
}

/** Reads a score of any known format, with what an ensemble has set for it. Errors: the reader's, and those of `fitScore`. */
export const readPiece = (bytes: Uint8Array, settings: PieceSettings = asInScore): Result<ReadPiece> => {
  const read = readScore(bytes);
  if (!read.ok) return read;
  const fitted = fitScore(read.value, settings);
  if (!fitted.ok) return fitted;
  const score = fitted.value;
  const { order, problems } = playingOrder(score);
  const tempo = scoreTempo(score, order);
  return ok({
    score,
    order,
    tempo: tempo.map,
    problems: [...read.problems, ...fitted.problems, ...problems],
    octaves: octaveQuestions(score).filter(
      ({ part }) => part === undefined || !Object.hasOwn(settings.octaves, part),
    ),
    tempoProblems: tempo.problems,
  });
};

/** The same problem said twice is said once. */
export const eachOnce = (problems: readonly Problem[]): readonly Problem[] => {
  const seen = new Map<string, Problem>();
  for (const problem of problems) {
    const { code, message, part, bar, line, column } = problem;
    const key = JSON.stringify([code, message, part, bar, line, column]);
    if (!seen.has(key)) seen.set(key, problem);
  }
  return [...seen.values()];
};
