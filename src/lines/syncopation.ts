/**
 * Syncopations: notes that begin on a weaker place and sound over a stronger one that is a beat, weights by Longuet-Higgins & Lee
 * 1984 (Music Perception 1:424). A place is three of them in a row in one part, or two followed at once by shorter notes, for a bar or more (our definition).
 * It ends with the short notes that follow, of a beat at most: those are where one rushes.
 */
import type { Fraction } from '../units/index.ts';
import { noFacts, type Place } from './model.ts';
import { barAt, ticksOf, type BarTicks, type Music, type Player, type Strike } from './music.ts';
import { spotOf } from './spot.ts';

/** Weight of a place in a bar: 0 the bar, -1 its half (in four), then beats, halves or thirds of them, and so on. */
const weightAt = (music: Music, bar: BarTicks, at: number): number => {
  if (at === bar.start) return 0;
  const beats = bar.beats;
  const four = beats.length % 2 === 0 && beats.length > 2;
  const index = beats.indexOf(at);
  if (index >= 0) return four && 2 * index === beats.length ? -1 : four ? -2 : -1;
  const own = music.grids[bar.index]?.beats ?? [];
  const last = beats.findLastIndex((one) => one < at);
  const beat = own[Math.max(0, last)];
  let part = beat === undefined ? 1 : ticksOf(music.whole, beat.length) / beat.division;
  let weight = four ? -3 : -2;
  const into = at - (beats[last] ?? bar.start);
  while (part > 1 && into % part !== 0) {
    part /= 2;
    weight -= 1;
  }
  return weight;
};

/** By how much a strike is syncopated; 0 where it is not. */
const syncopated = (music: Music, { at, end }: Strike): number => {
  const bar = barAt(music, at);
  if (bar === null) return 0;
  const next = music.bars[bar.index + 1];
  const own = weightAt(music, bar, at);
  let heaviest = -Infinity;
  for (const beat of bar.beats)
    if (beat > at && beat < end) heaviest = Math.max(heaviest, weightAt(music, bar, beat));
  if (next !== undefined && next.start < end) heaviest = 0;
  return Math.max(0, heaviest - own);
};

const placeOf = (
  music: Music,
  player: Player,
  run: readonly Strike[],
  tail: readonly Strike[],
  sum: number,
): Place | null => {
  const [first, last] = [run[0], [...run, ...tail].at(-1)];
  const bar = barAt(music, first?.at ?? 0);
  if (first === undefined || last === undefined || bar === null) return null;
  const enough = run.length >= 3 || (run.length === 2 && tail.length >= 2);
  if (!enough || last.end - first.at < bar.end - bar.start) return null;
  return {
    kind: 'syncopation',
    value: null,
    parts: [player.part.id],
    from: spotOf(music, first),
    to: spotOf(music, last),
    seams: [],
    facts: { ...noFacts, count: run.length, sum },
  };
};

/** How far the short notes after a run go on, in pulses. */
const tailPulses = 2;

const ofPlayer = (music: Music, player: Player): readonly Place[] => {
  const places: Place[] = [];
  let run: Strike[] = [];
  let tail: Strike[] = [];
  let sum = 0;
  const close = (): void => {
    const place = placeOf(music, player, run, tail, sum);
    if (place !== null) places.push(place);
    [run, tail, sum] = [[], [], 0];
  };
  for (const strike of player.strikes) {
    const by = syncopated(music, strike);
    const last = run.at(-1);
    const before = tail.at(-1) ?? last;
    const pulse = barAt(music, strike.at)?.pulse ?? 1;
    const near = before !== undefined && strike.at <= before.end;
    if (by > 0) {
      if (before !== undefined && !near && strike.at - before.end >= pulse) close();
      run.push(strike);
      tail = [];
      sum += by;
      continue;
    }
    if (last === undefined) continue;
    const short = strike.end - strike.at < last.end - last.at;
    if (short && near && strike.at - (tail[0]?.at ?? strike.at) < tailPulses * pulse) tail.push(strike);
    else close();
  }
  close();
  return places;
};

export const syncopations = (music: Music): readonly Place[] =>
  music.players.flatMap((player) => ofPlayer(music, player));

/** A length in whole notes as ticks, for those who test weights. */
export const weightOf = (music: Music, barIndex: number, offset: Fraction): number => {
  const bar = music.bars[barIndex];
  return bar === undefined ? 0 : weightAt(music, bar, bar.start + ticksOf(music.whole, offset));
};
