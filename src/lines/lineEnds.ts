/** Where a line begins and ends beside others who run in the same value. */
import type { Chain, Link } from './chains.ts';
import { companions } from './companions.ts';
import type { Stream } from './handOver.ts';
import type { Strike } from './music.ts';

/** Rule 6: the notes of an outer segment that stay. Who ends with the first one, or begins with the last, goes along with it. */
const cutNotes = (stream: Stream, chain: Chain, link: Link, side: 'first' | 'last'): readonly Strike[] => {
  const { notes, player, at, last } = link.segment;
  const counts = chain.filter((one) => one !== link).map(({ segment }) => segment.notes.length);
  const longest = Math.max(...counts);
  if (notes.length <= 2 * longest) return notes;
  // Turns of one length tell where the last one ends; where they differ it may be as long as it likes, with others or without.
  if (side === 'last' && longest - Math.min(...counts) > 1) return notes;
  const next = chain[chain.indexOf(link) + (side === 'first' ? 1 : -1)];
  const neighbours = new Set(
    next === undefined ? [] : companions(stream, next.segment).map((one) => one.player),
  );
  const voice = new Set(companions(stream, link.segment).filter((one) => !neighbours.has(one.player)));
  const parallel = stream.rows.flatMap((row, other) =>
    other === player
      ? []
      : row.filter((one) => !one.single && !voice.has(one) && one.at < last && one.last > at),
  );
  if (parallel.length === 0) return notes;
  if (side === 'first') {
    const from = Math.max(...parallel.map((one) => (one.last >= last - stream.value ? one.at : one.last)));
    const kept = notes.filter((strike) => strike.at >= from);
    return kept.length >= 2 ? kept : notes.slice(-2);
  }
  const until = Math.min(...parallel.map((one) => (one.at <= at + stream.value ? one.last : one.at)));
  const kept = notes.filter((strike) => strike.at <= until);
  return kept.length >= 2 ? kept : notes.slice(0, 2);
};

/** Rule 1: a chain is parted where a note is missing between two players, unless one is missing at every seam. */
export const partedAtGaps = (stream: Stream, chain: Chain): readonly Chain[] => {
  const seams = chain.filter(({ seam }) => seam !== null).length;
  const gaps = chain.flatMap(({ segment, seam }, i) => {
    const before = chain[i - 1]?.segment.last ?? segment.at;
    return seam !== null && segment.at - before === 2 * stream.value ? [i] : [];
  });
  if (gaps.length === 0 || gaps.length >= seams) return [chain];
  return [0, ...gaps].map((from, i) =>
    chain.slice(from, gaps[i]).map((link, k) => (k === 0 ? { ...link, seam: null } : link)),
  );
};

/** Rule 6 inside: a chain is parted at a segment more than twice as long as any other that its own neighbours join or leave in parallel. */
export const parted = (stream: Stream, chain: Chain): readonly Chain[] => {
  const inner = chain.slice(1, -1).map((link, i) => ({ link, i: i + 1 }));
  const long = inner.find(({ link, i }) => {
    const others = chain.filter((one) => one !== link).map(({ segment }) => segment.notes.length);
    if (link.segment.notes.length <= 2 * Math.max(...others)) return false;
    const before = cutNotes(stream, chain.slice(0, i + 1), link, 'last');
    return before.length < link.segment.notes.length;
  });
  if (long === undefined) return [chain];
  const rest = chain.slice(long.i).map((link, i) => (i === 0 ? { ...link, seam: null } : link));
  return [chain.slice(0, long.i + 1), ...parted(stream, rest)];
};

const withNotes = (link: Link, notes: readonly Strike[]): Link => {
  const { at, last } = link.segment;
  return {
    ...link,
    segment: { ...link.segment, notes, at: notes[0]?.at ?? at, last: notes.at(-1)?.at ?? last },
  };
};

/** Rule 6: a chain with its first and last segment cut. */
export const cut = (stream: Stream, chain: Chain): Chain => {
  const [head, tail] = [chain[0], chain.at(-1)];
  if (head === undefined || tail === undefined || head === tail) return chain;
  return [
    withNotes(head, cutNotes(stream, chain, head, 'first')),
    ...chain.slice(1, -1),
    withNotes(tail, cutNotes(stream, chain, tail, 'last')),
  ];
};
