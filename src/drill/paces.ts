/** How fast each stretch of a drill goes: pieces of pace, laid end to end into its tempo map. */
import { secondsAtPosition, type Pace, type TempoMap, type TempoSection } from '../rhythm/tempo.ts';
import { beats, F, note, plus, seconds, type Beats, type Fraction, type Seconds } from '../units/index.ts';

/** Pace changes linearly with the position from `from` to `to`; steady where they are equal. */
export interface PacePiece {
  readonly length: Beats;
  readonly from: Pace;
  readonly to: Pace;
}

export const steady = (length: Beats, pace: Pace): PacePiece => ({ length, from: pace, to: pace });

/** The pace of a section at a position inside it. */
const paceIn = ({ start, end, from, to }: TempoSection, at: Beats): Pace =>
  end === null || F.equal(from, to)
    ? from
    : F.add(from, F.mul(F.sub(to, from), F.div(F.sub(at, start), F.sub(end, start))));

/** The pieces of a map from `at` on over `length`, each pace divided by `factor` (2: twice as fast). */
export const piecesOf = (map: TempoMap, at: Beats, length: Beats, factor: Fraction): readonly PacePiece[] => {
  const until = plus(at, length);
  return map.sections.flatMap((section) => {
    const start = beats(F.max(at, section.start));
    const end = section.end === null ? until : beats(F.min(until, section.end));
    if (!F.less(start, end)) return [];
    return [
      {
        length: beats(F.sub(end, start)),
        from: F.div(paceIn(section, start), factor),
        to: F.div(paceIn(section, end), factor),
      },
    ];
  });
};

/** Lays pieces end to end from 0; the last pace goes on without end. At least one piece. */
export const mapOfPieces = (pieces: readonly PacePiece[]): TempoMap => {
  const sections: TempoSection[] = [];
  let start = note(0);
  let time: Seconds = seconds(F.zero);
  for (const { length, from, to } of pieces) {
    const last = sections.at(-1);
    const end = plus(start, length);
    // What goes on at the same pace is one section, so that a steady drill has a single one.
    const goesOn =
      last !== undefined && F.equal(from, to) && F.equal(last.from, from) && F.equal(last.to, from);
    if (goesOn) sections[sections.length - 1] = { ...last, end };
    else sections.push({ start, end, time, from, to });
    const mean = F.div(F.add(from, to), F.fraction(2));
    time = plus(time, seconds(F.mul(length, mean)));
    start = end;
  }
  const last = sections.at(-1);
  if (last === undefined) return { sections };
  if (F.equal(last.from, last.to)) sections[sections.length - 1] = { ...last, end: null };
  else sections.push({ start, end: null, time, from: last.to, to: last.to });
  return { sections };
};

/** The time between two positions. */
export const secondsBetween = (map: TempoMap, from: Beats, to: Beats): Seconds =>
  seconds(F.sub(secondsAtPosition(map, to), secondsAtPosition(map, from)));
