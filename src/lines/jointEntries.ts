/**
 * Joint entries: at least two players begin together after a silence of all (a beat or more; in the midst of a bar that is felt in one, a bar), a general pause or a fermata. The beginning of
 * a movement is none. Our definition; that such entries need a cue is common practice.
 */
import { noFacts, type Place } from './model.ts';
import { idsOf, type Moment } from './moments.ts';
import { barAt, soundsOn, ticksOf, type Music } from './music.ts';
import { F } from '../units/index.ts';
import { spotOf } from './spot.ts';

/** Ticks at which a note or rest under a fermata ends, or a bar line under one stands. */
const fermataEnds = ({ score, whole }: Music): ReadonlySet<number> => {
  const ends = new Set<number>();
  for (const { written } of score.parts)
    for (const { kind, onset, duration, marks } of written)
      if (kind !== 'grace' && marks.fermata !== null) ends.add(ticksOf(whole, F.add(onset, duration)));
  for (const { fermata, start, length } of score.bars)
    if (fermata) ends.add(ticksOf(whole, F.add(start, length)));
  return ends;
};

export const jointEntries = (music: Music, moments: readonly Moment[]): readonly Place[] => {
  const ends = fermataEnds(music);
  let stretch = -1;
  return moments.flatMap(({ at, strikes, silentFrom }): Place[] => {
    const bar = barAt(music, at);
    const first = [...strikes.values()][0];
    const here = music.stretch[bar?.index ?? 0] ?? 0;
    const begins = here !== stretch;
    stretch = here;
    if (begins || strikes.size < 2 || first === undefined) return [];
    const beat = barAt(music, Math.max(0, at - 1))?.beat ?? 1;
    // Where a bar is felt in one, an entry in its midst after less than a bar is accompaniment.
    const inOne = bar !== null && bar.pulse > bar.beat && at > bar.start;
    const silent = at - silentFrom >= (inOne ? bar.end - bar.start : beat);
    const held = ends.has(at) && !music.players.some(({ strikes: row }) => soundsOn(row, at));
    if (!silent && !held) return [];
    const spot = spotOf(music, first);
    const parts = idsOf(music, strikes.keys());
    const text = silent ? 'silence' : 'fermata';
    return [
      {
        kind: 'joint-entry',
        value: null,
        parts,
        from: spot,
        to: spot,
        seams: [],
        facts: { ...noFacts, count: strikes.size, text },
      },
    ];
  });
};
