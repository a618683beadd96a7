/** The pace of every bar of a round, for each tempo step of a drill. */
import type { BarGrid } from '../rhythm/beats.ts';
import { paceAt, type TempoMap } from '../rhythm/tempo.ts';
import { F, note, ok, plus, problem, type Beats, type Problem, type Result } from '../units/index.ts';
import { firstStretch, type RoundPaces } from './layout.ts';
import { piecesOf, steady, type PacePiece } from './paces.ts';
import type { Round, RoundBar } from './round.ts';
import { parseStep, steadyPace, type TempoStep } from './steps.ts';

/** The score's tempo over played positions, and what had to be assumed to find it. */
export interface ScoreTempo {
  readonly map: TempoMap;
  readonly problems: readonly Problem[];
}

/** Where in played order a bar of the round begins; a recount stands where the music goes on. */
const playedAt = (bars: readonly RoundBar[], i: number): Beats => {
  const entry = bars[i];
  if (entry === undefined) return note(0);
  return entry.kind === 'bar' ? plus(entry.visit.start, entry.offset) : playedAt(bars, i + 1);
};

/** A recount keeps the pace at which the music goes on; an upbeat has the pace of the bar that it leads into. */
const asWritten = (round: Round, map: TempoMap, factor: F.Fraction): RoundPaces =>
  round.bars.flatMap((entry, i): readonly PacePiece[] => {
    const first = firstStretch(round);
    const upbeat = entry.kind === 'bar' && entry.barCount === null && first !== undefined;
    if (upbeat) {
      const at = playedAt(round.bars, round.bars.indexOf(first));
      return [steady(entry.length, F.div(paceAt(map, at), factor))];
    }
    const pieces = piecesOf(map, playedAt(round.bars, i), entry.length, factor);
    return entry.kind === 'bar' ? pieces : [steady(entry.length, pieces[0]?.from ?? F.one)];
  });

const pacesOf = (round: Round, map: TempoMap, step: TempoStep): RoundPaces => {
  const pace = steadyPace(step);
  if (step.kind === 'written') return asWritten(round, map, step.factor);
  return pace === null ? [] : [steady(round.length, pace)];
};

/**
 * The paces for each tempo step; without steps, the score's tempo. A tempo in figures holds for the whole passage: a
 * Problem says so where that levels changes that the score has. Fails as `parseStep` does.
 */
export const roundPaces = (
  round: Round,
  grids: readonly BarGrid[],
  score: ScoreTempo,
  texts: readonly string[],
): Result<readonly RoundPaces[]> => {
  const first = firstStretch(round);
  const beat = (first === undefined ? undefined : grids[first.bar.index])?.tempoUnit ?? note(1, 4);
  const written = asWritten(round, score.map, F.one);
  const steps: TempoStep[] = [];
  for (const text of texts.length === 0 ? ['100%'] : texts) {
    const step = parseStep(text, beat);
    if (!step.ok) return step;
    steps.push(step.value);
  }
  const problems: Problem[] = [];
  if (steps.some(({ kind }) => kind === 'written')) {
    const here = new Set(round.bars.map(({ bar }) => bar.number));
    problems.push(...score.problems.filter(({ bar }) => bar === undefined || here.has(bar)));
  }
  const changes = written.some(
    ({ from, to }) => !F.equal(from, to) || !F.equal(from, written[0]?.from ?? from),
  );
  if (changes && steps.some(({ kind }) => kind === 'steady')) {
    const message =
      'The score changes tempo in this passage; the tempo you gave holds throughout. Write a share such as 80% to keep the changes.';
    problems.push(problem('assumption', 'tempo-levelled', message));
  }
  return ok(
    steps.map((step) => pacesOf(round, score.map, step)),
    problems,
  );
};
