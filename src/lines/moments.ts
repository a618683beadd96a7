/** The moments at which anybody strikes, with who does: what several rules walk over. */
import type { Music, Strike } from './music.ts';

export interface Moment {
  readonly at: number;
  /** By player index; those who do not strike are absent. */
  readonly strikes: ReadonlyMap<number, Strike>;
  /** When everything struck before it has ended; 0 at the first. */
  readonly silentFrom: number;
}

export const momentsOf = ({ players }: Music): readonly Moment[] => {
  const map = new Map<number, Map<number, Strike>>();
  for (const { index, strikes } of players)
    for (const strike of strikes) {
      const here = map.get(strike.at) ?? new Map<number, Strike>();
      here.set(index, strike);
      map.set(strike.at, here);
    }
  let end = 0;
  return [...map]
    .sort(([a], [b]) => a - b)
    .map(([at, strikes]) => {
      const moment = { at, strikes, silentFrom: end };
      for (const strike of strikes.values()) end = Math.max(end, strike.end);
      return moment;
    });
};

/** The ids of players, in score order. */
export const idsOf = ({ players }: Music, indices: Iterable<number>): readonly string[] =>
  [...new Set(indices)].sort((a, b) => a - b).map((index) => players[index]?.part.id ?? '');
