/**
 * Cross-rhythm: triplets in one part against duplets in another (3 : 2, 4 : 3) for a bar at least: in each beat somebody strikes a third of
 * it and somebody else its half. Dots against triplets: a dotted figure (the last quarter of the beat, not its half) against triplets for half
 * a bar at least. Whether the dots are then assimilated to the triplets is for the players to settle (practice differs with time and place).
 */
import { noFacts, type Place, type PlaceKind } from './model.ts';
import { idsOf } from './moments.ts';
import { strikesIn, type Music, type Strike } from './music.ts';
import { spotOf } from './spot.ts';

interface Beat {
  readonly bar: number;
  readonly inBar: number;
  readonly triple: readonly number[];
  readonly duple: readonly number[];
  readonly dotted: readonly number[];
  readonly strikes: readonly Strike[];
}

const beatsIn = (music: Music): readonly Beat[] =>
  music.bars.flatMap((bar) => {
    const starts = bar.beats;
    return starts.map((start, i): Beat => {
      const end = starts[i + 1] ?? bar.end;
      const rows = music.players.map(({ strikes }) => strikesIn(strikes, start, end));
      const has = (row: readonly Strike[], n: number, d: number): boolean =>
        row.some(({ at }) => (at - start) * d === (end - start) * n);
      const players = rows.map((_, index) => index);
      const triple = players.filter((p) => has(rows[p] ?? [], 1, 3) || has(rows[p] ?? [], 2, 3));
      const others = players.filter((p) => !triple.includes(p));
      const duple = others.filter((p) => has(rows[p] ?? [], 1, 2));
      const dotted = others.filter(
        (p) => has(rows[p] ?? [], 3, 4) && has(rows[p] ?? [], 0, 1) && !duple.includes(p),
      );
      const taking = [...triple, ...duple, ...dotted];
      const strikes = taking.flatMap((p) => rows[p] ?? []).sort((a, b) => a.at - b.at);
      return { bar: bar.index, inBar: starts.length, triple, duple, dotted, strikes };
    });
  });

const runs = (music: Music, kind: PlaceKind, side: 'duple' | 'dotted', share: number): readonly Place[] => {
  const places: Place[] = [];
  let run: Beat[] = [];
  const close = (): void => {
    const all = run.flatMap(({ strikes }) => strikes);
    const [first, last] = [all[0], all.at(-1)];
    const players = run.flatMap((beat) => [...beat.triple, ...beat[side]]);
    if (first !== undefined && last !== undefined && run.length >= Math.max(2, (run[0]?.inBar ?? 0) * share))
      places.push({
        kind,
        value: null,
        parts: idsOf(music, players),
        from: spotOf(music, first),
        to: spotOf(music, last),
        seams: [],
        facts: { ...noFacts, count: run.length },
      });
    run = [];
  };
  for (const beat of beatsIn(music)) {
    if (beat.triple.length > 0 && beat[side].length > 0) run.push(beat);
    else close();
  }
  close();
  return places;
};

export const crossRhythms = (music: Music): readonly Place[] => runs(music, 'cross-rhythm', 'duple', 1);
export const dotsAgainstTriplets = (music: Music): readonly Place[] =>
  runs(music, 'dots-against-triplets', 'dotted', 0.5);
