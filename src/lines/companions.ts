/** Those who run together (thirds, octaves): one voice of several players. */
import type { Stream } from './handOver.ts';
import { lastAt } from './music.ts';
import type { Segment } from './segments.ts';

/** The share of a segment's notes that a companion strikes too. */
const together = 0.6;

/** Those who run together with a segment, itself included. */
export const companions = ({ rows }: Stream, segment: Segment): readonly Segment[] => {
  const times = new Set(segment.notes.map(({ at }) => at));
  const others = rows.flatMap((row, player) => {
    if (player === segment.player) return [];
    const found: Segment[] = [];
    for (let i = lastAt(row, segment.last); i >= 0; i--) {
      const one = row[i];
      if (one === undefined || one.last < segment.at) break;
      const shared = one.notes.filter(({ at }) => times.has(at)).length;
      const most = together * segment.notes.length;
      if (!one.single && shared >= 2 && shared >= most && shared >= together * one.notes.length)
        found.push(one);
    }
    return found.slice(0, 1);
  });
  return [segment, ...others];
};

const height = ({ notes }: Segment): number =>
  notes.reduce((sum, { midi }) => sum + (midi ?? 0), 0) / notes.length;

export const highestFirst = (voice: readonly Segment[]): readonly Segment[] =>
  [...voice].sort((a, b) => height(b) - height(a) || a.player - b.player);
