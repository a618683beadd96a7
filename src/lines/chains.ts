/**
 * Chains of segments that hand over to each other: of all ways through the segments of one value those that cover most notes with fewest
 * hand-overs (longest path; each segment counts its notes less one, so that no pair of chance notes is drawn in).
 */
import { goesOn, seamBetween, type Stream } from './handOver.ts';
import type { Segment } from './segments.ts';

export interface Link {
  readonly segment: Segment;
  /** Tick at which this segment takes over; null for the first, and where the same player goes on. */
  readonly seam: number | null;
}

export type Chain = readonly Link[];

/** What it costs, in notes, that a note is missing inside a segment or at a seam, or that two overlap there. */
const cost = { inside: 0.75, between: 1, overlap: 1.5 };

interface Best {
  readonly total: number;
  readonly from: number;
  readonly seam: number | null;
}

/** Segments by the tick at which they begin. */
const byStart = (segments: readonly Segment[]): ReadonlyMap<number, readonly number[]> => {
  const map = new Map<number, number[]>();
  segments.forEach(({ at }, index) => {
    const list = map.get(at);
    if (list === undefined) map.set(at, [index]);
    else list.push(index);
  });
  return map;
};

const worth = ({ notes, single }: Segment): number => (single ? 0.25 : notes.length - 1);

/** All chains of at least two segments, none sharing a segment with another, best first. */
export const chainsOf = (stream: Stream): readonly Chain[] => {
  const { value, rows } = stream;
  const segments = rows.flat().sort((a, b) => a.at - b.at || a.last - b.last || a.player - b.player);
  const starts = byStart(segments);
  const best: Best[] = segments.map((segment) => ({ total: worth(segment), from: -1, seam: null }));
  segments.forEach((a, i) => {
    for (const steps of [-1, 0, 1, 2])
      for (const j of starts.get(a.last + steps * value) ?? []) {
        const b = segments[j];
        const reached = best[i];
        if (b === undefined || reached === undefined || j <= i) continue;
        // A single between two runs of one player stands in their gap: they go on, it is not their line.
        const before = a.single && !b.single ? segments[reached.from] : undefined;
        if (before !== undefined && !before.single && before.player === b.player) continue;
        const seam = seamBetween(stream, a, b);
        const on = seam === null && goesOn(stream, a, b);
        if (seam === null && !on) continue;
        const total =
          reached.total +
          worth(b) -
          (on ? cost.inside : steps === 2 ? cost.between : steps < 0 ? cost.overlap : 0);
        if (total > (best[j]?.total ?? 0)) best[j] = { total, from: i, seam };
      }
  });
  const order = best.map((_, i) => i).sort((a, b) => (best[b]?.total ?? 0) - (best[a]?.total ?? 0) || a - b);
  const used = new Set<number>();
  const chains: Chain[] = [];
  for (const end of order) {
    const links: Link[] = [];
    for (let i = end; i >= 0 && !used.has(i); i = best[i]?.from ?? -1) {
      const segment = segments[i];
      const from = best[i]?.from ?? -1;
      if (segment === undefined) break;
      const open = from >= 0 && !used.has(from);
      links.unshift({ segment, seam: open ? (best[i]?.seam ?? null) : null });
      used.add(i);
    }
    if (links.length > 1) chains.push(links);
  }
  return chains;
};
