/** What a column carries with it along its paths, and on what time columns agree. */
import { F, type Fraction } from '../../../units/index.ts';
import type { Chord } from './notes.ts';
import type { Carry, Leaf } from './paths.ts';
import type { Strand } from './types.ts';

export const strands: Carry<Strand> = {
  start: () => ({
    cursor: F.zero,
    fresh: true,
    floating: [],
    resting: false,
    voice: '1',
    beams: 0,
    graceBeams: 0,
    texts: [],
    small: false,
    ossia: false,
    strophe: '',
    percussion: false,
  }),
  split: (strand) => ({ ...strand, fresh: true, floating: [], beams: 0, graceBeams: 0, texts: [] }),
  join: (all) => {
    const [first] = all;
    const kept = first ?? strands.start();
    const counted = all.filter(({ fresh, ossia }) => !fresh && !ossia);
    const cursor = counted.reduce((most: Fraction, strand) => F.max(most, strand.cursor), F.zero);
    return {
      ...kept,
      cursor: counted.length === 0 ? kept.cursor : cursor,
      fresh: counted.length === 0,
      floating: all.flatMap(({ floating }) => floating),
      texts: all.flatMap(({ texts }) => texts),
      ossia: all.every(({ ossia }) => ossia),
      strophe: '',
    };
  },
};

/** A token of notes that begins on the present line. */
export interface Beginning {
  readonly leaf: Leaf<Strand>;
  readonly chord: Chord;
}

/** The time that most columns agree on; the first of them where none has the most. Fresh columns only follow. */
export const consensus = (beginnings: readonly Beginning[]): Fraction | null => {
  const settled = beginnings.filter(({ leaf }) => !leaf.state.fresh);
  const all = settled.length > 0 ? settled : beginnings;
  const [first] = all;
  if (first === undefined) return null;
  if (all.every(({ leaf }) => F.equal(leaf.state.cursor, first.leaf.state.cursor)))
    return first.leaf.state.cursor;
  const votes = new Map<string, { readonly time: Fraction; count: number }>();
  for (const { leaf } of all) {
    const time = leaf.state.cursor;
    const vote = votes.get(F.format(time));
    if (vote === undefined) votes.set(F.format(time), { time, count: 1 });
    else vote.count += 1;
  }
  return [...votes.values()].reduce((best, vote) => (vote.count > best.count ? vote : best)).time;
};
