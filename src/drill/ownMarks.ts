/** What players wrote into their parts, as a drill has it: which time through it counts, and how it is written down. */
import type { Direction, Part } from '../score/model.ts';
import { F } from '../units/index.ts';
import type { Drill, NoteEvent } from './model.ts';
import type { Round } from './round.ts';

interface Timed {
  readonly drill: Drill;
  readonly round: Round;
}

/**
 * The time through in which a bar of the passage is played, as far as the passage itself says it: where it holds the
 * bar more than once, plays it a later time, or was asked for a certain time. Null: the repetition says it.
 */
export const writtenTime = ({ drill, round }: Timed): ((barIndex: number, pass: number) => number | null) => {
  const passes = new Map<number, Set<number>>();
  for (const stretch of round.bars) {
    if (stretch.kind !== 'bar') continue;
    const { bar, visit } = stretch;
    passes.set(bar.index, (passes.get(bar.index) ?? new Set()).add(visit.pass));
  }
  return (barIndex, pass) =>
    drill.pass !== null || pass > 1 || (passes.get(barIndex)?.size ?? 0) > 1 ? pass : null;
};

/** Which time through a note of the timeline is played, from 1. At each tempo the repetitions count anew. */
export const timeThrough = (worked: Timed): ((event: NoteEvent) => number) => {
  const written = writtenTime(worked);
  const { times } = worked.drill;
  return ({ barIndex, pass, rep }) => written(barIndex, pass) ?? (times > 1 ? ((rep - 1) % times) + 1 : rep);
};

/** Times through for which some part has a marking of its own. */
export const timesNamed = (parts: readonly Part[]): ReadonlySet<number> =>
  new Set(parts.flatMap(({ directions }) => directions.flatMap(({ time }) => time ?? [])));

/** What concerns all players, once: over the uppermost of these parts; dynamics stay in each. */
export const sharedOnce = (parts: readonly Part[]): readonly Part[] =>
  parts.map((part, i) =>
    i === 0 || !part.directions.some(({ shared }) => shared === true)
      ? part
      : {
          ...part,
          directions: part.directions.filter(({ shared, kind }) => shared !== true || kind === 'dynamics'),
        },
  );

/** En space: the times stand apart, where two plain spaces would be drawn as one. */
const apart = '\u2002';

/** Dynamics that count in some times only, as musicians write them: "1. p  2. f", those of one place together. */
export const withTimes = (part: Part): Part => {
  if (!part.directions.some(({ time }) => time !== undefined)) return part;
  const done = new Set<string>();
  const directions = part.directions.flatMap((one): readonly Direction[] => {
    const { time: first, ...each } = one;
    if (first === undefined) return [one];
    const key = `${F.format(one.at)} ${one.staff}`;
    if (done.has(key)) return [];
    done.add(key);
    const value = part.directions
      .filter(({ time, staff, at }) => time !== undefined && staff === one.staff && F.equal(at, one.at))
      .sort((a, b) => (a.time ?? 0) - (b.time ?? 0))
      .map(({ time, value: letters }) => `${time ?? 0}. ${letters}`)
      .join(apart);
    return [{ ...each, value }];
  });
  return { ...part, directions };
};
