/**
 * Shared lines: one even stream of one value, from halves to thirty-seconds and their triplets, divided between players, so that nobody
 * carries it alone. Scholars say hocket or complementary rhythm; the rule is our definition:
 *
 *   1. Segments (segments.ts) that hand over to each other (handOver.ts), as long a chain of them as there is (chains.ts); a note
 *      that is missing at a seam must be missing at every seam, or else a new line begins there.
 *   2. Two players at least have a segment of two notes or more. Single notes at either end are no part of it.
 *   3. There are three seams or more; or two, of a value below the beat, while nobody else moves in that value nearby; or one, where
 *      besides nobody does so throughout, there are at least four notes on either side, the arrival included, and no more than one note is
 *      missing.
 *   4. Of fewer than six turns more than half are not mostly one note repeated: that would be accompaniment.
 *   5. Players who run together (struck at the same moments for most of a segment) are one voice: the highest is named (companions.ts). Who
 *      was running before a seam does not take over there.
 *   6. A first segment more than twice as long as any other is cut where others run in parallel: there it is no shared line yet. So is a last
 *      one where the other turns are of one length; else a line may end with others in parallel (lineEnds.ts). What is left must keep rule 3.
 *   7. Figures that pass from part to part under a tune are no line (accompaniment.ts).
 *   8. The line ends with the last note of its last segment.
 *
 * The values are looked for one by one; a line of one value under or over any accompaniment of other values is found. Without pitches the
 * rhythm decides: a run handed on once is then no line, and no line goes from pitches to none.
 */
import { F, note, type Beats } from '../units/index.ts';
import { accompanies } from './accompaniment.ts';
import { chainsOf, type Chain } from './chains.ts';
import { companions, highestFirst } from './companions.ts';
import type { Stream } from './handOver.ts';
import { cut, parted, partedAtGaps } from './lineEnds.ts';
import { isLine } from './lineRule.ts';
import { noFacts, type Place, type Seam } from './model.ts';
import { ticksOf, type Music } from './music.ts';
import { segmentsOf, type Segment } from './segments.ts';
import { spotOf } from './spot.ts';
import { span, trimmed } from './turns.ts';

/** Halves to thirty-seconds, plain and as triplets. */
export const lineValues: readonly Beats[] = [2, 4, 8, 16, 32].flatMap((d) => [note(1, d), note(2, 3 * d)]);

const placeOf = (stream: Stream, chain: Chain, value: Beats): Place | null => {
  const { music } = stream;
  const id = (player: number): string => music.players[player]?.part.id ?? '';
  const voices = chain.map(({ segment, seam }) => {
    const voice = companions(stream, segment);
    const fresh = ({ at }: Segment): boolean => Math.abs(at - segment.at) <= stream.value;
    return highestFirst(seam === null ? voice : voice.filter(fresh));
  });
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
  const first = head.segment.notes[0];
  const last = tail.segment.notes.at(-1);
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

/** The shared lines of one value; see the head of the file. */
const sharedLinesOf = (music: Music, value: Beats): readonly Place[] => {
  const ticks = ticksOf(music.whole, value);
  if (ticks < 1 || music.players.length < 2) return [];
  const rows = music.players.map((player) => segmentsOf(music, player, ticks));
  const stream: Stream = { music, value: ticks, rows };
  const lines = chainsOf(stream)
    .flatMap((chain) => partedAtGaps(stream, trimmed(chain)))
    .flatMap((chain) => parted(stream, trimmed(chain)))
    .map((chain) => cut(stream, trimmed(chain)))
    .filter((chain) => isLine(stream, chain) && !accompanies(stream, chain));
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
