/** Where one player hands a line to another, in a reading: the seams of src/lines, each time that they were played. */
import type { Place, Seam } from '../lines/index.ts';
import type { NoteShape } from '../sound/parts/shapes.ts';
import { meanDifference } from '../together/articulation.ts';
import { seam, type SeamNote } from '../together/seams.ts';
import { F } from '../units/index.ts';
import { figureOrNull, joined, ms, systematic, systematicLength } from './figure.ts';
import type { ReadingClock, ReadingSeam } from './reading.ts';
import { same, type Heard, type Lines } from './readingLines.ts';
import type { Written } from './readingWritten.ts';

/** Notes on either side that are looked at, at most: further off a line has a course of its own. Our choice. */
const mostNotes = 8;

interface HandOver {
  readonly seam: Seam;
  readonly to: string;
  /** Whole notes from the giver's first note of the line to the seam, and from there to the taker's last. */
  readonly before: number;
  readonly after: number;
}

/** Each seam of a shared line, for each of those who take over, with how far the line reaches on both sides. */
const handOversOf = ({ seams, from, to }: Place): readonly HandOver[] =>
  seams.flatMap((one, i) => {
    const [earlier, later] = [seams[i - 1], seams[i + 1]];
    const before = F.toNumber(F.sub(one.at, earlier?.at ?? from.at));
    // The note on the next seam is the next player's.
    const after = F.toNumber(F.sub(later?.at ?? to.at, one.at)) - (later === undefined ? 0 : 2 * same);
    return [one.to, ...one.also].map((taker) => ({ seam: one, to: taker, before, after }));
  });

type Sure = Heard & { readonly time: number };

const sure = (line: readonly Heard[], from: number, to: number, rep: number): readonly Sure[] =>
  line.flatMap((one) =>
    one.time !== null && one.event.rep === rep && one.at > from - same && one.at < to + same
      ? [{ ...one, time: one.time }]
      : [],
  );

/** How much louder these notes are than the player's others. */
const above = (notes: readonly Heard[], line: readonly Heard[]) => {
  const ids = new Set(notes.map(({ event }) => event.id));
  const levels = (of: readonly Heard[]): readonly number[] => of.flatMap(({ level }) => level ?? []);
  return figureOrNull(meanDifference(levels(notes), levels(line.filter(({ event }) => !ids.has(event.id)))));
};

/** Seconds between the closest notes of a side, as the drill asks for; 0 where no side has two. */
const closest = (...sides: readonly (readonly Sure[])[]): number => {
  const steps = sides.flatMap((notes) =>
    notes.slice(1).map(({ expected }, i) => expected - (notes[i]?.expected ?? expected)),
  );
  return steps.length === 0 ? 0 : Math.min(...steps);
};

const listed = (values: readonly (number | boolean)[]): string => [...new Set(values)].sort().join(' ');

/** Whether the notes on both sides are written alike. What the score asks for is no finding about those who play it. */
const writtenAlike = (giver: readonly Heard[], taker: readonly Heard[], written: Written) => {
  const shapesOf = (notes: readonly Heard[]): readonly NoteShape[] =>
    notes.flatMap(({ event }) => written.get(event.note) ?? []);
  const [before, after] = [shapesOf(giver), shapesOf(taker)];
  const alike = (of: (shapes: readonly NoteShape[]) => string): boolean => of(before) === of(after);
  return {
    length: alike(
      (shapes) =>
        `${listed(shapes.map(({ share }) => share))} ${String(shapes.some(({ slurred }) => slurred))}`,
    ),
    level: alike((shapes) => listed(shapes.map(({ level }) => level))),
  };
};

const playedOnce = (
  { seam: { from, bar, barIndex, beat }, to, before, after }: HandOver,
  taken: Heard,
  { heard }: Lines,
  clocks: readonly ReadingClock[],
  written: Written,
): ReadingSeam | null => {
  const [giving, taking] = [heard.get(from) ?? [], heard.get(to) ?? []];
  const { rep, pass } = taken.event;
  const giver = sure(giving, taken.at - before, taken.at - 2 * same, rep).slice(-mostNotes);
  const taker = sure(taking, taken.at, taken.at + after, rep).slice(0, mostNotes);
  const [first, last] = [giver[0], taker.at(-1)];
  if (first === undefined || last === undefined) return null;
  // In quarters at the mean tempo that the drill asks for here: what is written of tempo is no finding.
  const pace = (4 * (last.at - first.at)) / (last.expected - first.expected);
  const noteOf = ({ expected, time, end, level }: Sure): SeamNote => ({
    beats: expected * pace,
    onset: time,
    offset: end,
    level,
  });
  const seen = seam(giver.map(noteOf), taker.map(noteOf));
  const alike = writtenAlike(giver, taker, written);
  const told = taker[0]?.event.id === taken.event.id && joined([from, to], clocks);
  return {
    from,
    to,
    rep,
    bar,
    barIndex,
    pass,
    beat,
    n: { from: giver.length, to: taker.length },
    late: told ? figureOrNull(seen.gap, { times: ms, more: systematic([from, to], clocks) }) : null,
    level: alike.level ? { from: above(giver, giving), to: above(taker, taking) } : { from: null, to: null },
    length: alike.length
      ? figureOrNull(seen.lengthStep, { more: systematicLength(closest(giver, taker), 2) })
      : null,
    levelSlope: {
      before: figureOrNull(seen.levelSlope.before),
      after: figureOrNull(seen.levelSlope.after),
    },
    tempoSlope: {
      before: figureOrNull(seen.tempoSlope.before),
      after: figureOrNull(seen.tempoSlope.after),
    },
  };
};

/**
 * All seams between players who were heard, in the order in which they were played. `places`: those of the score. Length and level are
 * told only where both sides are written alike.
 */
export const seamsOf = (
  places: readonly Place[],
  lines: Lines,
  clocks: readonly ReadingClock[],
  written: Written,
): readonly ReadingSeam[] => {
  if (clocks.length < 2) return [];
  const overs = places
    .filter(({ kind }) => kind === 'shared-line')
    .flatMap(handOversOf)
    .filter(({ seam: { from }, to }) => lines.heard.has(from) && lines.heard.has(to));
  // The same hand-over may belong to lines of two note values; the longer line tells more.
  const once = new Map<string, HandOver>();
  for (const over of overs) {
    const key = `${over.seam.from}/${over.to}/${over.seam.barIndex}/${over.seam.beat}`;
    const other = once.get(key);
    if (other === undefined || over.before + over.after > other.before + other.after) once.set(key, over);
  }
  return [...once.values()]
    .flatMap((over) =>
      (lines.heard.get(over.to) ?? [])
        .filter(({ event }) => event.barIndex === over.seam.barIndex && event.beat === over.seam.beat)
        .flatMap((taken) => {
          const found = playedOnce(over, taken, lines, clocks, written);
          return found === null ? [] : [{ at: taken.at, found }];
        }),
    )
    .sort((a, b) => a.at - b.at)
    .map(({ found }) => found);
};
