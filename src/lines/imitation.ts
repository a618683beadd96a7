/**
 * Imitation and canon (our definition, after common practice):
 *
 *   1. A motif of four notes or more, or of three in at least two values, begins in one part after a rest or a longer note (an entry), and
 *      another part that begins likewise, later, has the same rhythm (the last note is free) and the same contour: each step goes the same way,
 *      by the same number of staff steps (exact) or at most two more or less, while at least half are the same (tonal).
 *   2. The follower begins before the motif has ended, or no later than one beat after: a later answer is repetition.
 *   3. Scales (all steps the same way by one) and repeated notes are no motif; nor is what strikes together with it.
 *   4. Those that follow in turn with the same motif are told together.
 *   5. Strict canon: the follower keeps the same staff steps and rhythm for two bars at least and eight notes or more. Notes doubled by a
 *      third player belong to it.
 */
import { beats, F } from '../units/index.ts';
import { noFacts, type Place, type Seam } from './model.ts';
import { idsOf } from './moments.ts';
import { barAt, type Music, type Strike } from './music.ts';
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
  const steps = Array.from({ length: count - 1 }, (_, k) => stepAt(row, index + k) ?? 0);
  const lengths = new Set(
    Array.from({ length: count - 1 }, (_, k) => (row[index + k + 1]?.at ?? 0) - (row[index + k]?.at ?? 0)),
  );
  if (count < 3 || (count < leastNotes && lengths.size < 2)) return false;
  const moving = steps.filter((step) => step !== 0);
  if (moving.length === 0) return false;
  const scale =
    lengths.size === 1 && steps.every((step) => step === 1) !== steps.every((step) => step === -1);
  return !scale && (moving.length >= 2 || lengths.size >= 2);
};

const endOf = ({ row, index }: Entry, count: number): number => row[index + count - 1]?.at ?? 0;

/** Rule 3: the follower only plays along with somebody who began as the leader did. */
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
      if (!isMotif(leader, count)) continue;
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

/** Chains of answers: the best follower of each leader, then who follows that one. */
export const imitations = (music: Music): readonly Place[] => {
  const answers = answersOf(music);
  const key = ({ player, at }: Entry): string => `${player} ${at}`;
  const byLeader = new Map<string, Answer[]>();
  for (const answer of answers)
    byLeader.set(key(answer.leader), [...(byLeader.get(key(answer.leader)) ?? []), answer]);
  const used = new Set<string>();
  const places: Place[] = [];
  for (const answer of answers) {
    if (used.has(key(answer.leader))) continue;
    const chain: Answer[] = [];
    const taken = new Set([key(answer.leader)]);
    const follow = (entry: Entry): void => {
      for (const next of byLeader.get(key(entry)) ?? []) {
        if (taken.has(key(next.follower)) || used.has(key(next.follower))) continue;
        taken.add(key(next.follower));
        chain.push(next);
        follow(next.follower);
      }
    };
    follow(answer.leader);
    // Entries of the same player are the motif again, no follower of its own leader.
    const inOrder = chain.sort((a, b) => a.follower.at - b.follower.at);
    const place = placeOf(music, inOrder);
    if (place === null) continue;
    for (const one of taken) used.add(one);
    places.push(place);
  }
  return places;
};
