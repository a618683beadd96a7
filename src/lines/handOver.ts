/**
 * Whether one segment hands over to another (our definition). Counted in the value of the stream:
 *
 *   1. The new player's first note comes on the old player's last (the joining note), one value after it, or two (when the moment between is
 *      held over or silent). More is an echo. Both may also overlap in two notes.
 *   2. The old player leaves: no run of the same value until the new segment has ended, or for a beat (see awayAt); and what is played
 *      instead is slower: for a beat and four values, at most half as many notes as the stream has.
 *   3. The new player was away in the same way before.
 *   4. Nobody else runs through: no third player has a run of the value that covers both segments, or four values on both sides of the seam.
 *   5. A tune does not hand over to a row of repeated notes, nor they to a tune: that is accompaniment. The eight notes nearest the seam tell,
 *      where one side has three or more: at least half of the steps of a row are none, two of them at least.
 *   6. A single note counts only where it follows and is followed at one value's distance.
 *   7. Nothing lies between: no new movement, no ending from which the music goes back.
 */
import { barAt, lastAt, strikesIn, type Music, type Strike } from './music.ts';
import { nextFrom, repeats, type Segment } from './segments.ts';

/** All segments of one value, by player, each row by onset. */
export interface Stream {
  readonly music: Music;
  readonly value: number;
  readonly rows: readonly (readonly Segment[])[];
}

/** Values on either side that a third player must cover to run through. */
const through = 4;

/** How long one must be away to have left: a beat (a bar of 3/8), but two values at least and four at most. */
const awayAt = (music: Music, tick: number, value: number): number =>
  Math.max(2 * value, Math.min(barAt(music, tick)?.pulse ?? value, 4 * value));

/** What brings a player back into the stream: more than a pair of notes. */
const counts = ({ notes }: Segment): boolean => notes.length > 2;

const leaves = ({ music, value, rows }: Stream, a: Segment, b: Segment): boolean => {
  const row = rows[a.player] ?? [];
  let index = nextFrom(row, a.last);
  while (row[index] === a || (row[index] !== undefined && !counts(row[index] ?? a))) index += 1;
  const next = row[index];
  return next === undefined || next.at >= b.last - value || next.at - a.last >= awayAt(music, a.last, value);
};

const enters = ({ music, value, rows }: Stream, a: Segment, b: Segment, seam: number): boolean => {
  const row = rows[b.player] ?? [];
  let index = lastAt(row, b.at - 1);
  while (index >= 0 && !counts(row[index] ?? b)) index -= 1;
  const before = row[index];
  if (before === undefined || before === b) return true;
  return before.last <= a.at + value || seam - before.last >= awayAt(music, b.at, value);
};

const crossed = ({ value, rows }: Stream, a: Segment, b: Segment, seam: number): boolean =>
  rows.some((row, player) => {
    if (player === a.player || player === b.player) return false;
    const x = row[lastAt(row, seam - 1)];
    if (x === undefined || x.single) return false;
    return (
      x.at <= Math.max(a.at, seam - through * value) && x.last >= Math.min(b.last, seam + through * value)
    );
  });

/** Whether a player strikes too often, away from the seam up to a tick, to have left the stream or to have been away from it. */
const busy = (
  { music, value, rows }: Stream,
  player: number,
  seam: number,
  end: number,
  way: 1 | -1,
): boolean => {
  const window = Math.min(
    Math.max(barAt(music, seam)?.beat ?? 1, through * value),
    Math.max(value, way * (end - seam)),
  );
  const row = music.players[player]?.strikes ?? [];
  const own = rows[player] ?? [];
  const elsewhere = ({ at }: Strike): boolean => {
    for (let i = lastAt(own, at); i >= 0 && i > lastAt(own, at) - 4; i--) {
      const one = own[i];
      if (one !== undefined && !one.single && one.at <= at && at <= one.last) return false;
    }
    return true;
  };
  const [from, to] = way > 0 ? [seam + 1, seam + window] : [seam - window, seam];
  return 2 * strikesIn(row, from, to).filter(elsewhere).length > Math.max(2, window / value);
};

/** So many repeated notes are accompaniment, beside a tune; and so many notes on either side of a seam tell which it is. */
const nearSeam = { least: 3, most: 8 };

const unlike = (a: Segment, b: Segment): boolean => {
  const [old, young] = [a.notes.slice(-nearSeam.most), b.notes.slice(0, nearSeam.most)];
  // A single note says nothing, and two that move do not tell a tune from a figure.
  const row = (notes: readonly Strike[], other: readonly Strike[]): boolean =>
    repeats(notes) && !repeats(other) && Math.max(notes.length, other.length) >= nearSeam.least;
  return row(old, young) || row(young, old);
};

/** The tick of the seam from `a` to `b`; null where there is none. */
export const seamBetween = (stream: Stream, a: Segment, b: Segment): number | null => {
  const { music, value } = stream;
  if (a.player === b.player) return null;
  const steps = (b.at - a.last) / value;
  if (a.single || b.single) {
    if (steps !== 1) return null;
  } else if (steps !== 0 && steps !== 1 && steps !== 2 && steps !== -1) return null;
  if (unlike(a, b)) return null;
  if (steps === -1 && (a.notes.length < 3 || b.notes.length < 3)) return null;
  const seam = b.at;
  if (
    !leaves(stream, a, b) ||
    busy(stream, a.player, seam, b.last, 1) ||
    busy(stream, b.player, seam, a.at, -1) ||
    !enters(stream, a, b, seam) ||
    crossed(stream, a, b, seam)
  )
    return null;
  const [barA, barB] = [barAt(music, a.last)?.index ?? 0, barAt(music, b.at)?.index ?? 0];
  return music.stretch[barA] === music.stretch[barB] ? seam : null;
};

/**
 * The same player goes on after one missing note: a short rest or a held note that belongs to the motif, and no moment at which somebody
 * else has the stream.
 */
export const goesOn = ({ value, rows }: Stream, a: Segment, b: Segment): boolean => {
  if (a.player !== b.player || a.single || b.single || b.at - a.last !== 2 * value) return false;
  const missing = a.last + value;
  return !rows.some((row, player) => {
    const x = row[lastAt(row, missing)];
    return player !== a.player && x !== undefined && !x.single && x.last >= missing;
  });
};
