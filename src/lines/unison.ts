/**
 * Rhythmic unison: all players (of four or more, one may be silent or hold) strike together and nobody strikes otherwise, for two bars
 * (bars of three: about four), in at least two different lengths. Our definition.
 */
import { noFacts, type Place } from './model.ts';
import { idsOf, type Moment } from './moments.ts';
import { barAt, type Music, type Strike } from './music.ts';
import { spotOf } from './spot.ts';

/** Bars from the first strike to the end of the last; in three a little less than is meant: an upbeat or a rest may be missing. */
const leastBars = { usual: 2, ofThree: 3.5 };

const strikeOf = (moment: Moment | undefined): Strike | null =>
  moment === undefined ? null : ([...moment.strikes.values()][0] ?? null);

const placeOf = (music: Music, run: readonly Moment[]): Place | null => {
  const [first, last] = [strikeOf(run[0]), strikeOf(run.at(-1))];
  const bar = barAt(music, run[0]?.at ?? 0);
  if (first === null || last === null || bar === null) return null;
  const three = music.grids[bar.index]?.beats.length === 3;
  const least = (bar.end - bar.start) * (three ? leastBars.ofThree : leastBars.usual);
  const lengths = new Set(run.slice(1).map(({ at }, i) => at - (run[i]?.at ?? 0)));
  if (last.end - first.at < least || lengths.size < 2) return null;
  return {
    kind: 'rhythmic-unison',
    value: null,
    parts: idsOf(
      music,
      run.flatMap(({ strikes }) => [...strikes.keys()]),
    ),
    from: spotOf(music, first),
    to: spotOf(music, last),
    seams: [],
    facts: { ...noFacts, count: run.length },
  };
};

/** A silence so long parts two unisons: a beat, in three a bar. */
const restAt = (music: Music, tick: number): number => {
  const bar = barAt(music, tick);
  if (bar === null) return 1;
  return music.grids[bar.index]?.beats.length === 3 ? bar.end - bar.start : bar.beat;
};

export const unisons = (music: Music, moments: readonly Moment[]): readonly Place[] => {
  const count = music.players.length;
  if (count < 2) return [];
  const needed = count >= 4 ? count - 1 : count;
  const places: Place[] = [];
  let run: Moment[] = [];
  let missing: number | null = null;
  const close = (next: Moment | null): void => {
    // Within a beat of the last one somebody else moves on: it is no more of the unison.
    const last = run.at(-1);
    if (last !== undefined && next !== null && next.at - last.at <= (barAt(music, last.at)?.beat ?? 1))
      run.pop();
    const place = placeOf(music, run);
    if (place !== null) places.push(place);
    run = [];
    missing = null;
  };
  for (const moment of moments) {
    const away = music.players.find(({ index }) => !moment.strikes.has(index))?.index ?? null;
    const before = run.at(-1);
    const far = before !== undefined && moment.at - moment.silentFrom >= restAt(music, moment.at);
    if (moment.strikes.size < needed) close(moment);
    else if (far) close(null);
    if (moment.strikes.size < needed) continue;
    if (missing !== null && away !== null && away !== missing) close(null);
    missing ??= away;
    run.push(moment);
  }
  close(null);
  return places;
};
