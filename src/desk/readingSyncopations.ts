/** Short notes after syncopations, in a reading: whether they run on before the player's own line leads there. */
import type { Place } from '../lines/index.ts';
import { seam, type SeamNote } from '../together/seams.ts';
import { figureOrNull, ms } from './figure.ts';
import type { ReadingSyncopation } from './reading.ts';
import { same, type Heard, type Lines } from './readingLines.ts';

/** Notes before the short ones that tell the line, at most and at least. Our choice, as at seams. */
const most = 8;
const least = 3;

const is = ({ event }: Heard, { barIndex, beat }: Place['from']): boolean =>
  event.barIndex === barIndex && event.beat === beat;

const asNotes = (notes: readonly Heard[]): readonly SeamNote[] =>
  notes.flatMap(({ expected, time, end }) =>
    time === null ? [] : [{ beats: expected, onset: time, offset: end, level: null }],
  );

/** One time through a place: from its first note at `start` to its last. */
const playedOnce = (line: readonly Heard[], start: number, to: Place['to']): ReadingSyncopation | null => {
  const end = line.findIndex((one, i) => i >= start && is(one, to));
  const longest = Math.max(...line.slice(start, end + 1).map(({ length }) => length));
  // The short notes are those at the end of the place.
  let short = end + 1;
  while (short > start && (line[short - 1]?.length ?? longest) < longest - same) short -= 1;
  const last = line[end];
  const next = line[end + 1];
  const follows =
    last !== undefined && next !== undefined && Math.abs(last.at + last.length - next.at) < same
      ? next
      : last;
  const rep = line[start]?.event.rep;
  if (end < 0 || short > end || follows === undefined || follows.event.rep !== rep) return null;
  const before = asNotes(line.slice(0, short).filter(({ event }) => event.rep === rep)).slice(-most);
  const { event } = follows;
  return {
    part: event.part,
    rep: event.rep,
    bar: event.bar,
    barIndex: event.barIndex,
    pass: event.pass,
    beat: event.beat,
    n: before.length,
    late: before.length < least ? null : figureOrNull(seam(before, asNotes([follows])).gap, { times: ms }),
  };
};

/** Each time that a place of syncopations was played by a player who was heard. */
export const syncopationsOf = (places: readonly Place[], { heard }: Lines): readonly ReadingSyncopation[] =>
  places
    .filter(({ kind }) => kind === 'syncopation')
    .flatMap(({ parts, from, to }) => {
      const line = heard.get(parts[0] ?? '') ?? [];
      return line.flatMap((one, i) => (is(one, from) ? (playedOnce(line, i, to) ?? []) : []));
    });
