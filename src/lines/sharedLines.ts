/**
 * Shared lines: one even stream of one value, from halves to thirty-seconds and their triplets, divided between players, so that nobody
 * carries it alone. Scholars say hocket or complementary rhythm; the rule is our definition:
 *
 *   1. Segments (segments.ts) that hand over to each other (handOver.ts), as long a chain of them as there is (chains.ts); a note
 *      that is missing at a seam must be missing at half of the seams at least.
 *   2. Two players at least have a segment of two notes or more. Single notes at either end are no part of it, and most notes stand in segments.
 *   3. There are three seams or more; or two, of a value below the beat, with more than a pair of notes in each turn, while nobody else moves
 *      in that value; or one, where besides there are at least four notes on either side, the arrival included, and neither is mostly one note
 *      repeated.
 *   4. Nobody carries more than nine tenths of it.
 *   5. Players who run together (struck at the same moments for most of a segment) are one voice: the highest is named.
 *   6. A first or last segment more than twice as long as any other is cut where others run in parallel: there it is no shared line yet, or no
 *      more.
 *   7. A regular exchange (two players by turns, six turns or more of one length) ends where others come in.
 *   8. The line ends with the last note of its last segment.
 *
 * The values are looked for one by one; a line of one value under or over any accompaniment of other values is found.
 */
import { F, note, type Beats } from '../units/index.ts';
import { chainsOf, type Chain, type Link } from './chains.ts';
import type { Stream } from './handOver.ts';
import { noFacts, type Place, type Seam } from './model.ts';
import { barAt, lastAt, ticksOf, type Music, type Strike } from './music.ts';
import { repeats, segmentsOf, type Segment } from './segments.ts';
import { spotOf } from './spot.ts';

/** Halves to thirty-seconds, plain and as triplets. */
export const lineValues: readonly Beats[] = [2, 4, 8, 16, 32].flatMap((d) => [note(1, d), note(2, 3 * d)]);

/** Rule 3. */
const leastPerSide = 4;
/** Rule 4. */
const largestShare = 0.9;
/** Rule 5: the share of a segment's notes that a companion strikes too. */
const together = 0.6;

const multi = (chain: Chain): readonly Link[] => chain.filter(({ segment }) => !segment.single);

/** Rule 2 at the ends; and a first or last turn has one missing note at most. */
const trimmed = (chain: Chain): Chain => {
  const first = chain.findIndex(({ segment }) => !segment.single);
  const last = chain.findLastIndex(({ segment }) => !segment.single);
  const kept = first < 0 ? [] : chain.slice(first, last + 1);
  const goes = (link: Link | undefined): boolean => link !== undefined && link.seam === null;
  while (kept.length > 2 && goes(kept[1]) && goes(kept[2])) kept.shift();
  while (kept.length > 2 && goes(kept.at(-1)) && goes(kept.at(-2))) kept.pop();
  return kept;
};

/** Rule 7: so many turns make a regular exchange. */
const leastExchange = 6;

interface Turn {
  readonly player: number;
  readonly notes: number;
  readonly links: Chain;
}

/** Whether turns are a regular exchange: two players by turns, turns of one length but for the first and the last, give or take a note. */
const regular = (turns: readonly Turn[]): boolean => {
  const like = turns[1]?.notes ?? 0;
  return (
    turns.length >= leastExchange &&
    turns.every(({ player }, i) => player === turns[i % 2]?.player) &&
    turns.slice(1, -1).every(({ notes }) => Math.abs(notes - like) <= 1)
  );
};

/** So much longer or shorter than the turns of an exchange is a turn that is none of it. */
const stretched = { least: 0.8, most: 1.4 };

/** Rule 7: first and last turns of others are left off an otherwise regular exchange, two at most on either side. */
const exchange = (chain: Chain): Chain => {
  const turns = turnsOf(chain);
  for (let off = 0; off <= 4; off++)
    for (let head = Math.max(0, off - 2); head <= Math.min(2, off); head++) {
      const inner = turns.slice(head, turns.length - (off - head));
      const inside = new Set(inner.map(({ player }) => player));
      const others = [turns[head - 1], turns[turns.length - (off - head)]].filter(
        (turn) => turn !== undefined,
      );
      const strange = others.some(({ player }) => !inside.has(player));
      const like = inner[1]?.notes ?? 0;
      const unlike = others.every(
        ({ notes }) => notes > stretched.most * like || notes < stretched.least * like,
      );
      if (!regular(inner) || (off > 0 && !(strange && unlike))) continue;
      const links = inner.flatMap((turn) => turn.links);
      // Nor is a pair at the end, beyond a missing note.
      const tail = links.at(-1);
      if (tail !== undefined && tail.seam === null && tail.segment.notes.length === 2) links.pop();
      return links.map((link, i) => (i === 0 ? { ...link, seam: null } : link));
    }
  return chain;
};

/** Turns: the notes between two seams, of one player, missing notes bridged. */
const turnsOf = (chain: Chain): readonly Turn[] => {
  const turns: Turn[] = [];
  for (const link of chain) {
    const { player, notes } = link.segment;
    const last = turns.at(-1);
    if (link.seam !== null || last === undefined) turns.push({ player, notes: notes.length, links: [link] });
    else turns[turns.length - 1] = { player, notes: last.notes + notes.length, links: [...last.links, link] };
  }
  return turns;
};

/** Those who run together with a segment, itself included. */
const companions = ({ rows }: Stream, segment: Segment): readonly Segment[] => {
  const times = new Set(segment.notes.map(({ at }) => at));
  const others = rows.flatMap((row, player) => {
    if (player === segment.player) return [];
    const found: Segment[] = [];
    for (let i = lastAt(row, segment.last); i >= 0; i--) {
      const one = row[i];
      if (one === undefined || one.last < segment.at) break;
      const shared = one.notes.filter(({ at }) => times.has(at)).length;
      const most = together * segment.notes.length;
      if (!one.single && shared >= 2 && shared >= most && shared >= together * one.notes.length)
        found.push(one);
    }
    return found.slice(0, 1);
  });
  return [segment, ...others];
};

/** So many notes of others for each of the line are as fast as the line. */
const busy = 0.6;

const span = (chain: Chain): [number, number] => [chain[0]?.segment.at ?? 0, chain.at(-1)?.segment.last ?? 0];

/** Strikes of a row from one tick to another that are followed by the next no sooner than a value later. */
const slowStrikes = (row: readonly Strike[], from: number, to: number, value: number): number => {
  const first = lastAt(row, from - 1) + 1;
  const last = lastAt(row, to - 1);
  let count = 0;
  for (let i = first; i <= last; i++)
    if ((row[i + 1]?.at ?? Infinity) - (row[i]?.at ?? 0) >= value) count += 1;
  return count;
};

/**
 * Whether nobody but those who run together with it moves in the value of a segment while it lasts; who runs faster still is another layer.
 */
const alone = (stream: Stream, chain: Chain): boolean =>
  chain.every(({ segment }) => {
    const voice = new Set(companions(stream, segment).map(({ player }) => player));
    const { at, last } = segment;
    const most = (busy * (last - at)) / stream.value;
    return stream.music.players.every(
      ({ index, strikes }) =>
        voice.has(index) || slowStrikes(strikes, at, last, stream.value) <= Math.max(1, most),
    );
  });

const handedOnce = (stream: Stream, chain: Chain): boolean => {
  const { music, value } = stream;
  const seam = chain.find((link) => link.seam !== null)?.seam ?? 0;
  if (value >= (barAt(music, seam)?.pulse ?? 1)) return false;
  if (!turnsOf(chain).every(({ notes }) => notes >= leastPerSide)) return false;
  if (chain.some(({ segment }) => repeats(segment))) return false;
  return alone(stream, chain);
};

const isLine = (stream: Stream, chain: Chain): boolean => {
  const runs = multi(chain);
  if (new Set(runs.map(({ segment }) => segment.player)).size < 2) return false;
  const turns = turnsOf(chain);
  const all = turns.reduce((sum, { notes }) => sum + notes, 0);
  const singles = chain.length - runs.length;
  if (2 * singles > all) return false;
  const byPlayer = new Map<number, number>();
  for (const { player, notes } of turns) byPlayer.set(player, (byPlayer.get(player) ?? 0) + notes);
  if (Math.max(...byPlayer.values()) > largestShare * all) return false;
  const slow = stream.value >= (barAt(stream.music, span(chain)[0])?.pulse ?? 1);
  if (turns.length > 3) return true;
  if (turns.length === 3) return !slow && turns.every(({ notes }) => notes > 2) && alone(stream, chain);
  return turns.length === 2 && handedOnce(stream, chain);
};

const height = ({ notes }: Segment): number =>
  notes.reduce((sum, { midi }) => sum + (midi ?? 0), 0) / notes.length;

const highestFirst = (voice: readonly Segment[]): readonly Segment[] =>
  [...voice].sort((a, b) => height(b) - height(a) || a.player - b.player);

/** Rule 6: the notes of an outer segment that stay. */
const cutNotes = (stream: Stream, chain: Chain, link: Link, side: 'first' | 'last'): readonly Strike[] => {
  const { notes, player, at, last } = link.segment;
  const longest = Math.max(...chain.filter((one) => one !== link).map(({ segment }) => segment.notes.length));
  if (notes.length <= 2 * longest) return notes;
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
    const from = Math.max(...parallel.map((one) => one.last));
    const kept = notes.filter((strike) => strike.at >= from);
    return kept.length >= 2 ? kept : notes.slice(-2);
  }
  const until = Math.min(...parallel.map((one) => Math.max(one.at, at)));
  const kept = notes.filter((strike) => strike.at <= until);
  return kept.length >= 2 ? kept : notes.slice(0, 2);
};

const placeOf = (stream: Stream, chain: Chain, value: Beats): Place | null => {
  const { music } = stream;
  const id = (player: number): string => music.players[player]?.part.id ?? '';
  const voices = chain.map(({ segment }) => highestFirst(companions(stream, segment)));
  const named = new Set<number>(voices.flat().map(({ player }) => player));
  const seams = chain.flatMap(({ segment, seam }, i): Seam[] => {
    if (seam === null) return [];
    const begins = (one: Segment): boolean => one.notes.some(({ at }) => at === seam);
    const before = voices[i - 1] ?? [];
    const giver = chain[i - 1]?.segment;
    const leaving = before.find((one) => one.last === giver?.last) ?? giver;
    const takers = (voices[i] ?? []).filter((one) => begins(one) && one.player !== leaving?.player);
    const taker = takers[0] ?? segment;
    const strike = taker.notes.find(({ at }) => at === seam) ?? taker.notes[0];
    if (strike === undefined || leaving === undefined) return [];
    const also = takers.slice(1).map(({ player }) => id(player));
    return [{ ...spotOf(music, strike), from: id(leaving.player), to: id(taker.player), also }];
  });
  const [head, tail] = [chain[0], chain.at(-1)];
  if (head === undefined || tail === undefined || seams.length === 0) return null;
  const first = cutNotes(stream, chain, head, 'first')[0];
  const last = cutNotes(stream, chain, tail, 'last').at(-1);
  if (first === undefined || last === undefined) return null;
  return {
    kind: 'shared-line',
    value,
    parts: [...named].sort((a, b) => a - b).map(id),
    from: spotOf(music, first),
    to: spotOf(music, last),
    seams,
    facts: { ...noFacts, count: chain.reduce((sum, { segment }) => sum + segment.notes.length, 0) },
  };
};

/** Rule 1: a chain is parted where a note is missing between two players, unless it is missing at half of the seams or more. */
const partedAtGaps = (stream: Stream, chain: Chain): readonly Chain[] => {
  const seams = chain.filter(({ seam }) => seam !== null).length;
  const gaps = chain.flatMap(({ segment, seam }, i) => {
    const before = chain[i - 1]?.segment.last ?? segment.at;
    return seam !== null && segment.at - before === 2 * stream.value ? [i] : [];
  });
  if (gaps.length === 0 || 2 * gaps.length >= seams) return [chain];
  return [0, ...gaps].map((from, i) =>
    chain.slice(from, gaps[i]).map((link, k) => (k === 0 ? { ...link, seam: null } : link)),
  );
};

/** Rule 6 inside: a chain is parted at a segment more than twice as long as any other that its own neighbours join or leave in parallel. */
const parted = (stream: Stream, chain: Chain): readonly Chain[] => {
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

/** The shared lines of one value; see the head of the file. */
export const sharedLinesOf = (music: Music, value: Beats): readonly Place[] => {
  const ticks = ticksOf(music.whole, value);
  if (ticks < 1 || music.players.length < 2) return [];
  const rows = music.players.map((player) => segmentsOf(music, player, ticks));
  const stream: Stream = { music, value: ticks, rows };
  const lines = chainsOf(stream)
    .flatMap((chain) => partedAtGaps(stream, trimmed(chain)))
    .flatMap((chain) => parted(stream, trimmed(chain)))
    .map((chain) => trimmed(exchange(trimmed(chain))))
    .filter((chain) => isLine(stream, chain));
  // Players who run together give the same line twice: the one with most notes stays. A little may overlap.
  const kept: Chain[] = [];
  for (const line of lines) {
    const [from, to] = span(line);
    const covered = kept.some((other) => {
      const [a, b] = span(other);
      return 4 * (Math.min(b, to) - Math.max(a, from)) > Math.min(b - a, to - from);
    });
    if (!covered) kept.push(line);
  }
  return kept.map((chain) => placeOf(stream, chain, value)).filter((place) => place !== null);
};

/** The shared lines of every value. */
export const sharedLines = (music: Music): readonly Place[] =>
  lineValues.flatMap((value) => sharedLinesOf(music, value)).sort((a, b) => F.compare(a.from.at, b.from.at));
