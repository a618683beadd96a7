/**
 * Imitation and canon (our definition, after common practice):
 *
 *   1. A motif of four notes or more in at least two values, or of six even ones that turn, begins in one part after a rest or a longer note (an entry), and
 *      another part that begins likewise, later, has the same rhythm (the last note is free) and the same contour: each step goes the same way,
 *      by the same number of staff steps (exact) or at most two more or less, while at least half are the same (tonal).
 *   2. The follower begins before the motif has ended, or no later than one beat after: a later answer is repetition.
 *   3. Scales and repeated notes are no motif, and whoever strikes along with the leader from the beginning does not follow.
 *   4. Those that follow in turn with the same motif are told together. What lies for the most part within a weightier one of the same players
 *      is part of it.
 *   5. Strict canon: the follower keeps the same staff steps and rhythm for two bars at least and eight notes or more.
 */
import { beats, F } from '../units/index.ts';
import { noFacts, type Place, type Seam } from './model.ts';
import { idsOf } from './moments.ts';
import { barAt, strikeAt, type Music, type Strike } from './music.ts';
import { spotOf } from './spot.ts';

interface Entry {
  readonly player: number;
  readonly row: readonly Strike[];
  readonly index: number;
  readonly at: number;
}

interface Answer {
  readonly leader: Entry;
  readonly follower: Entry;
  /** Notes in common. */
  readonly count: number;
  readonly exact: boolean;
}

const leastNotes = 4;
const leastEven = 6;
const canonNotes = 8;
/** A motif is compared so far; longer agreement is canon all the same. */
const longest = 4000;

const isEntry = (row: readonly Strike[], i: number): boolean => {
  const [before, here, next] = [row[i - 1], row[i], row[i + 1]];
  if (here === undefined || next === undefined) return false;
  if (before === undefined) return true;
  return before.end < here.at || here.at - before.at >= 2 * (next.at - here.at);
};

const entriesOf = (music: Music): readonly Entry[] =>
  music.players
    .flatMap(({ index: player, voices }) => {
      const row = voices[0] ?? [];
      return row.flatMap((strike, index) =>
        isEntry(row, index) ? [{ player, row, index, at: strike.at }] : [],
      );
    })
    .sort((a, b) => a.at - b.at || a.player - b.player);

const stepAt = (row: readonly Strike[], i: number): number | null => {
  const [here, next] = [row[i]?.step ?? null, row[i + 1]?.step ?? null];
  return here === null || next === null ? null : next - here;
};

/** How far two entries go together, by rule 1. */
const common = (a: Entry, b: Entry): { count: number; exact: boolean; exactCount: number } => {
  let count = 1;
  let same = 0;
  let exactCount = 1;
  for (let k = 0; k < longest; k++) {
    const [x, y] = [stepAt(a.row, a.index + k), stepAt(b.row, b.index + k)];
    if (x === null || y === null) break;
    if (Math.sign(x) !== Math.sign(y) || Math.abs(x - y) > 2) break;
    const lengths = [a, b].map(({ row, index }) => (row[index + k + 1]?.at ?? 0) - (row[index + k]?.at ?? 0));
    if (lengths[0] !== lengths[1]) break;
    // A rest is part of the rhythm where only one of the two has it for a beat or more: sounding lengths may differ otherwise.
    if (x === y) {
      same += 1;
      if (exactCount === count) exactCount += 1;
    }
    count += 1;
    if (2 * same < count - 3) break;
  }
  return { count, exact: same === count - 1, exactCount };
};

const isMotif = ({ row, index }: Entry, count: number): boolean => {
  if (count < leastNotes) return false;
  const steps = Array.from({ length: count - 1 }, (_, k) => stepAt(row, index + k) ?? 0);
  const lengths = new Set(
    Array.from({ length: count - 1 }, (_, k) => (row[index + k + 1]?.at ?? 0) - (row[index + k]?.at ?? 0)),
  );
  const moving = steps.filter((step) => step !== 0);
  const turns = moving.filter((step, k) => k > 0 && Math.sign(step) !== Math.sign(moving[k - 1] ?? 0)).length;
  if (lengths.size === 1) return count >= leastEven && turns > 0;
  return moving.length >= 2;
};

const endOf = ({ row, index }: Entry, count: number): number => row[index + count - 1]?.at ?? 0;

/** Rule 3: the share of the motif's notes that the follower strikes too, while the leader has it. */
const mostAlong = 0.7;

const alongside = (leader: Entry, follower: Entry, count: number): boolean => {
  const motif = leader.row.slice(leader.index, leader.index + count).filter(({ at }) => at < follower.at);
  const along = motif.filter(({ at }) => strikeAt(follower.row, at) !== null).length;
  return along > mostAlong * motif.length;
};

const answersOf = (music: Music): readonly Answer[] => {
  const entries = entriesOf(music);
  const answers: Answer[] = [];
  entries.forEach((leader, i) => {
    const reach = barAt(music, leader.at);
    const horizon = leader.at + 8 * ((reach?.end ?? 0) - (reach?.start ?? 0));
    for (let j = i + 1; j < entries.length; j++) {
      const follower = entries[j];
      if (follower === undefined || follower.at > horizon) break;
      if (follower.player === leader.player || follower.at === leader.at) continue;
      if (follower.row[follower.index]?.midi === null) continue;
      const { count, exact } = common(leader, follower);
      if (!isMotif(leader, count) || alongside(leader, follower, count)) continue;
      const beat = barAt(music, follower.at)?.beat ?? 1;
      if (follower.at > endOf(leader, count) + beat) continue;
      if (
        music.stretch[barAt(music, leader.at)?.index ?? 0] !==
        music.stretch[barAt(music, follower.at)?.index ?? 0]
      )
        continue;
      answers.push({ leader, follower, count, exact });
    }
  });
  return answers;
};

const placeOf = (music: Music, chain: readonly Answer[]): Place | null => {
  const first = chain[0];
  if (first === undefined) return null;
  const { leader } = first;
  const strike = leader.row[leader.index];
  const last = chain
    .map(({ follower, count }) => follower.row[follower.index + count - 1])
    .reduce((a, b) => ((b?.at ?? 0) > (a?.at ?? 0) ? b : a));
  const lead = first.follower.row[first.follower.index];
  if (strike === undefined || last === undefined || lead === undefined) return null;
  const id = (player: number): string => music.players[player]?.part.id ?? '';
  const moments = new Map<number, Answer[]>();
  for (const answer of chain)
    moments.set(answer.follower.at, [...(moments.get(answer.follower.at) ?? []), answer]);
  let from = leader.player;
  const seams = [...moments.values()].flatMap((together): Seam[] => {
    const [one, ...rest] = [...together].sort((a, b) => a.follower.player - b.follower.player);
    const entry = one?.follower.row[one.follower.index];
    if (one === undefined || entry === undefined) return [];
    const seam = {
      ...spotOf(music, entry),
      from: id(from),
      to: id(one.follower.player),
      also: rest.map(({ follower }) => id(follower.player)),
    };
    from = one.follower.player;
    return [seam];
  });
  const bar = barAt(music, leader.at);
  const counts = chain.map(({ count }) => count);
  const strict = chain.every(
    ({ exact, count, follower }) =>
      exact &&
      count >= canonNotes &&
      endOf(follower, count) - follower.at >= 2 * ((bar?.end ?? 0) - (bar?.start ?? 0)) * 0.75,
  );
  const steps = lead.step === null || strike.step === null ? null : lead.step - strike.step;
  return {
    kind: strict ? 'canon' : 'imitation',
    value: null,
    parts: idsOf(music, [leader.player, ...chain.map(({ follower }) => follower.player)]),
    from: spotOf(music, strike),
    to: spotOf(music, last),
    seams,
    facts: { ...noFacts, count: Math.min(...counts), lag: beats(F.sub(lead.onset, strike.onset)), steps },
  };
};

/** Rule 4: how much of a place lies within another of the same players. */
const mostWithin = 0.5;

const within = (place: Place, other: Place): boolean => {
  const shared = place.parts.filter((id) => other.parts.includes(id)).length;
  const [from, to] = [F.max(place.from.at, other.from.at), F.min(place.to.at, other.to.at)];
  const common = F.toNumber(F.sub(to, from));
  return shared >= 2 && common > mostWithin * F.toNumber(F.sub(place.to.at, place.from.at));
};

const weightOf = ({ facts, seams }: Place): number => facts.count * (1 + seams.length);

/** All imitations and canons of a score, by where they begin. */
export const imitations = (music: Music): readonly Place[] => {
  const answers = answersOf(music);
  const key = ({ player, at }: Entry): string => `${player} ${at}`;
  const byLeader = new Map<string, Answer[]>();
  for (const answer of answers) {
    const list = byLeader.get(key(answer.leader));
    if (list === undefined) byLeader.set(key(answer.leader), [answer]);
    else list.push(answer);
  }
  const places = [...byLeader.values()].flatMap((first): Place[] => {
    const leader = first[0]?.leader;
    if (leader === undefined) return [];
    const chain: Answer[] = [];
    const taken = new Set([key(leader)]);
    const waiting = [leader];
    for (let entry = waiting.shift(); entry !== undefined; entry = waiting.shift())
      for (const next of byLeader.get(key(entry)) ?? []) {
        if (taken.has(key(next.follower))) continue;
        taken.add(key(next.follower));
        chain.push(next);
        waiting.push(next.follower);
      }
    const place = placeOf(
      music,
      chain.sort((a, b) => a.follower.at - b.follower.at),
    );
    return place === null ? [] : [place];
  });
  const kept: Place[] = [];
  for (const place of places.sort((a, b) => weightOf(b) - weightOf(a) || F.compare(a.from.at, b.from.at)))
    if (!kept.some((other) => within(place, other))) kept.push(place);
  return kept.sort((a, b) => F.compare(a.from.at, b.from.at));
};
