/** How fast each stretch of a drill goes: a cut out of a tempo map, and the map of such cuts laid end to end. */
import { gradual, paceAt, tempoMap, type Pace, type TempoMap, type TempoSection } from '../rhythm/tempo.ts';
import { beats, F, plus, type Beats, type Fraction } from '../units/index.ts';

/** Pace changes linearly with the position from `from` to `to`; steady where they are equal. */
export interface PacePiece {
  readonly length: Beats;
  readonly from: Pace;
  readonly to: Pace;
}

export const steady = (length: Beats, pace: Pace): PacePiece => ({ length, from: pace, to: pace });

/** The pace with which a section arrives at a position in it: at its end its own, not the next section's. */
const arrivingPace = (map: TempoMap, { start, end, from, to }: TempoSection, at: Beats): Pace =>
  end !== null && F.equal(at, end) ? to : F.equal(at, start) ? from : paceAt(map, at);

/** The pieces of a map from `at` on over `length`, each pace divided by `factor` (2: twice as fast). */
export const piecesOf = (map: TempoMap, at: Beats, length: Beats, factor: Fraction): readonly PacePiece[] => {
  const until = plus(at, length);
  return map.sections.flatMap((section) => {
    const start = beats(F.max(at, section.start));
    const end = section.end === null ? until : beats(F.min(until, section.end));
    if (!F.less(start, end)) return [];
    const from = F.div(arrivingPace(map, section, start), factor);
    const to = F.div(arrivingPace(map, section, end), factor);
    return [{ length: beats(F.sub(end, start)), from, to }];
  });
};

/** Lays pieces end to end from 0; the last pace goes on without end. At least one piece. */
export const mapOfPieces = (pieces: readonly PacePiece[]): TempoMap =>
  tempoMap(pieces.map(({ from, to, length }) => gradual(from, to, length)));
