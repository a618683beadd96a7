/** The places of a score that is held, for a page that shows them: a list of plain data, and the marks to pencil in. */
import { valuesText, type Step } from '../plan/index.ts';
import type { PlaceMark } from '../sheet/index.ts';
import { ok, type Result } from '../units/index.ts';
import { toldPlaces, type PrintedPlace, type PrintedSpot } from './find.ts';
import { placeKey } from './journal/keys.ts';
import { breathBars } from './journal/takeRecord.ts';
import type { HeldPiece } from './live.ts';
import { markOf, numbered } from './placeMarks.ts';
import { usualMost } from './placesPages.ts';

export interface ListedSeam {
  readonly bar: string;
  readonly beat: string;
  readonly from: string;
  readonly to: string;
  readonly also: readonly string[];
}

/** A place in a list: plain data, fit to be handed to another thread. */
export interface ListedPlace {
  /** As in `ScreenSystem.places`. */
  readonly id: string;
  /** In the list of `levare find`. */
  readonly number: number;
  readonly kind: PrintedPlace['kind'];
  /** "eighths"; null where it is no line of one value. */
  readonly values: string | null;
  /** The same as a fraction of a whole note: "1/8", "1/12" for triplet eighths. */
  readonly value: string | null;
  /** Names of the players, by which they are known in the score. */
  readonly players: readonly string[];
  /** As a drill names them. */
  readonly bars: string;
  readonly from: PrintedSpot;
  readonly to: PrintedSpot;
  /** Each hand-over with the names of who leaves, who takes over, and who takes over together with them. */
  readonly seams: readonly ListedSeam[];
  /** Imitation and canon: staff steps from the motif up to the first entry, as it sounds; else null. */
  readonly interval: number | null;
  /** What is printed there, or the words for it; else empty. */
  readonly text: string;
  readonly why: string;
  /** By which the journal knows it. */
  readonly key: string;
  /** Ids of the players' parts, in score order. */
  readonly parts: readonly string[];
  readonly weight: number;
  /** From most click to none. */
  readonly steps: readonly Step[];
  /** Indices of its bars in which somebody breathes, so that time may stand still. */
  readonly breaths: readonly number[];
}

/** What a page shows of the places of a score. */
export interface LivePlaces {
  /** Heaviest first. */
  readonly list: readonly ListedPlace[];
  readonly marks: readonly PlaceMark[];
}

/** The heaviest places, as many as the list in words tells one by one; kinds of little weight are not among them. Never an error but a defect's. */
export const livePlaces = ({ read }: HeldPiece): Result<LivePlaces> => {
  const told = toldPlaces(read, { bars: null, parts: null, kind: null });
  if (!told.ok) return told;
  const { score } = read;
  const nameOf = (id: string): string => score.parts.find((part) => part.id === id)?.name || id;
  const shown = numbered(told.value).flatMap((one) =>
    one.number === null ? [] : [{ ...one, number: one.number }],
  );
  const heaviest = shown.slice(0, usualMost);
  const marks = heaviest.map((one, i) => markOf(one, i, score));
  const breathing = [...breathBars(score)];
  const list = heaviest.map(({ place, printed, number }, i): ListedPlace => {
    const { kind, value, from, to, why, steps, parts } = printed;
    return {
      id: marks[i]?.id ?? '',
      number,
      kind,
      values: place.value === null ? null : valuesText(place.value),
      value,
      players: parts.map(nameOf),
      bars: steps[0]?.bars ?? `@${from.barIndex}-@${to.barIndex}`,
      from,
      to,
      seams: place.seams.map((seam) => ({
        bar: seam.bar,
        beat: seam.beat,
        from: nameOf(seam.from),
        to: nameOf(seam.to),
        also: seam.also.map(nameOf),
      })),
      interval: place.facts.steps,
      text: place.facts.text,
      why,
      key: placeKey(printed),
      parts,
      weight: printed.weight,
      steps,
      breaths: breathing.filter((bar) => from.barIndex <= bar && bar <= to.barIndex),
    };
  });
  return ok({ list, marks }, told.problems);
};
