/**
 * Hemiola: two bars of three beats played as three times two: at least half of the players strike the first and third beat of the one bar and
 * the second of the other, nobody strikes the second down-beat, and after them somebody does strike a down-beat. Common practice (at
 * cadences, above all before 1800); our thresholds.
 */
import { noFacts, type Place } from './model.ts';
import { idsOf } from './moments.ts';
import { strikeAt, type Music } from './music.ts';
import { spotOf } from './spot.ts';

export const hemiolas = (music: Music): readonly Place[] =>
  music.bars.flatMap((bar): Place[] => {
    const next = music.bars[bar.index + 1];
    const then = music.bars[bar.index + 2];
    if (next === undefined || then === undefined) return [];
    const [a, b] = [bar.beats, next.beats];
    if (a.length !== 3 || b.length !== 3 || music.grids[bar.index]?.compound === true) return [];
    const [one, , three] = a;
    const two = b[1];
    if (one === undefined || three === undefined || two === undefined) return [];
    if (music.players.some(({ strikes }) => strikeAt(strikes, next.start) !== null)) return [];
    const taking = music.players.filter(({ strikes }) =>
      [one, three, two].every((at) => strikeAt(strikes, at) !== null),
    );
    const goesOn = music.players.some(({ strikes }) => strikeAt(strikes, then.start) !== null);
    const playing = music.players.filter(({ strikes }) =>
      strikes.some(({ at }) => at >= bar.start && at < then.start),
    );
    const from = taking.map(({ strikes }) => strikeAt(strikes, one))[0];
    const to = taking.map(({ strikes }) => strikeAt(strikes, two))[0];
    if (!goesOn || from === null || to === null || from === undefined || to === undefined) return [];
    if (2 * taking.length < playing.length) return [];
    const parts = idsOf(
      music,
      taking.map(({ index }) => index),
    );
    const facts = { ...noFacts, count: 3 };
    return [
      {
        kind: 'hemiola',
        value: null,
        parts,
        from: spotOf(music, from),
        to: spotOf(music, to),
        seams: [],
        facts,
      },
    ];
  });
