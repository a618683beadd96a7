/**
 * Imitation and canon (our definition, after common practice):
 *
 *   1. A motif of four notes or more in at least two values, or of six even ones that turn, begins in one part, and another part that begins
 *      later has the same rhythm (the last note is free) and the same contour: each step goes the same way, by the same number of staff steps
 *      (exact) or at most two more or less. A motif begins (an entry) after a rest or a longer note, or on a bar line after an upbeat from a
 *      rest; who leads may also be in the midst of a phrase, if the follower enters from a rest a bar later.
 *   2. The follower begins before the motif has ended, four bars later at most; or no later than one beat after it has ended (a bar, where bars
 *      are felt in one), two bars later at most (four where they are felt in one). So two bars given back at once are imitation; more is a
 *      phrase given back.
 *   3. No motif is: a scale, a repeated note, a figure of three notes or fewer over and over. Nobody follows who goes along from the
 *      beginning; nor where somebody at least as high has the motif both times (it is repeated, the other joins).
 *   4. Those that follow in turn with the same motif are told together; once it has been taken up, one that comes at the same distance may
 *      differ in its last step, and others may join. What lies for the most part within a weightier one of the same players, or begins with
 *      it, is part of it.
 *   5. Strict canon: the follower keeps the same staff steps and rhythm for two bars at least and eight notes or more.
 */
import { beats, F } from '../units/index.ts';
import { answersOf, type Answer } from './answers.ts';
import { noFacts, type Place, type Seam } from './model.ts';
import { idsOf } from './moments.ts';
import { lastOnset, type Entry } from './motifs.ts';
import { barAt, type Music } from './music.ts';
import { spotOf } from './spot.ts';

/** Rule 5. */
const canonNotes = 8;

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
      lastOnset(follower, count) - follower.at >= 2 * ((bar?.end ?? 0) - (bar?.start ?? 0)) * 0.75,
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
  const together = F.equal(place.from.at, other.from.at);
  const shared = together ? 2 : place.parts.filter((id) => other.parts.includes(id)).length;
  const [from, to] = [F.max(place.from.at, other.from.at), F.min(place.to.at, other.to.at)];
  const common = F.toNumber(F.sub(to, from));
  return shared >= 2 && common > mostWithin * F.toNumber(F.sub(place.to.at, place.from.at));
};

const weightOf = ({ facts, seams }: Place): number => facts.count * (1 + seams.length);

const lag = ({ leader, follower }: Answer): number => follower.at - leader.at;

/** Whether an answer comes from the one before as that one came from its own leader. */
const asBefore = (chain: readonly Answer[], next: Answer): boolean =>
  chain.some(
    ({ follower, ...before }) => follower.at === next.leader.at && lag({ ...before, follower }) === lag(next),
  );

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
        if (taken.has(key(next.follower)) || (!next.strong && !asBefore(chain, next))) continue;
        taken.add(key(next.follower));
        chain.push(next);
        waiting.push(next.follower);
      }
    if (!chain.some(({ strong }) => strong)) return [];
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
