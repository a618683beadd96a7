/** Turns of a chain: what one player has of it from one seam to the next; and where a regular exchange of turns ends. */
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

/** Rule 7: so many turns make a regular exchange. */
const leastExchange = 6;

/** Whether turns are a regular exchange: two players by turns, turns of one length but for the first and the last, give or take a note. */
const regular = (turns: readonly Turn[]): boolean => {
  const like = turns[1]?.notes ?? 0;
  return (
    turns.length >= leastExchange &&
    turns.every(({ player }, i) => player === turns[i % 2]?.player) &&
    turns.slice(1, -1).every(({ notes }) => Math.abs(notes - like) <= 1)
  );
};

/** So much longer or shorter than the turns of an exchange is a turn that is none of it. */
const stretched = { least: 0.8, most: 1.4 };

/** Rule 7: first and last turns of others are left off an otherwise regular exchange, two at most on either side. */
export const exchange = (chain: Chain): Chain => {
  const turns = turnsOf(chain);
  for (let off = 0; off <= 4; off++)
    for (let head = Math.max(0, off - 2); head <= Math.min(2, off); head++) {
      const inner = turns.slice(head, turns.length - (off - head));
      const inside = new Set(inner.map(({ player }) => player));
      const others = [turns[head - 1], turns[turns.length - (off - head)]].filter(
        (turn) => turn !== undefined,
      );
      const strange = others.some(({ player }) => !inside.has(player));
      const like = inner[1]?.notes ?? 0;
      const unlike = others.every(
        ({ notes }) => notes > stretched.most * like || notes < stretched.least * like,
      );
      if (!regular(inner) || (off > 0 && !(strange && unlike))) continue;
      const links = inner.flatMap((turn) => turn.links);
      // Nor is a pair at the end, beyond a missing note.
      const tail = links.at(-1);
      if (tail !== undefined && tail.seam === null && tail.segment.notes.length === 2) links.pop();
      return links.map((link, i) => (i === 0 ? { ...link, seam: null } : link));
    }
  return chain;
};
