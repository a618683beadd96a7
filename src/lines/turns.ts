/** Turns of a chain: what one player has of it from one seam to the next. */
import type { Chain, Link } from './chains.ts';

export interface Turn {
  readonly player: number;
  readonly notes: number;
  readonly links: Chain;
}

/** Notes alone at either end are no part of a line; and a first or last turn has one missing note at most. */
export const trimmed = (chain: Chain): Chain => {
  const first = chain.findIndex(({ segment }) => !segment.single);
  const last = chain.findLastIndex(({ segment }) => !segment.single);
  const kept = first < 0 ? [] : chain.slice(first, last + 1);
  const goes = (link: Link | undefined): boolean => link !== undefined && link.seam === null;
  while (kept.length > 2 && goes(kept[1]) && goes(kept[2])) kept.shift();
  while (kept.length > 2 && goes(kept.at(-1)) && goes(kept.at(-2))) kept.pop();
  return kept;
};

/** Turns: the notes between two seams, of one player, missing notes bridged. */
export const turnsOf = (chain: Chain): readonly Turn[] => {
  const turns: Turn[] = [];
  for (const link of chain) {
    const { player, notes } = link.segment;
    const last = turns.at(-1);
    if (link.seam !== null || last === undefined) turns.push({ player, notes: notes.length, links: [link] });
    else turns[turns.length - 1] = { player, notes: last.notes + notes.length, links: [...last.links, link] };
  }
  return turns;
};

/** Without single notes. */
export const multi = (chain: Chain): readonly Link[] => chain.filter(({ segment }) => !segment.single);

export const span = (chain: Chain): [number, number] => [
  chain[0]?.segment.at ?? 0,
  chain.at(-1)?.segment.last ?? 0,
];
