/** How much a frame sounds like all pitches of an event: worked out once for events of the same pitches, and kept for the frames around. */
import type { Coarse } from './likeness.ts';

export interface Likenesses {
  /** For each list of columns a number, the same for the same columns. */
  readonly kinds: Int32Array;
  /** 0 to 1; frames beyond the ends are as the first and the last. */
  readonly at: (frame: number, kind: number) => number;
}

/** Where nothing is to be heard at a pitch, as of drums. */
const unpitched = 0.45;
/** Frames that are kept: more than lie between those that are asked for together. */
const kept = 4;

/** `lists`: of columns of the coarse view. */
export const likenesses = (
  { frames, pitches, likeness }: Pick<Coarse, 'frames' | 'pitches' | 'likeness'>,
  lists: readonly (readonly number[])[],
): Likenesses => {
  const known = new Map<string, { readonly kind: number; readonly columns: readonly number[] }>();
  const kinds = Int32Array.from(lists, (columns) => {
    const name = columns.join();
    const there = known.get(name) ?? { kind: known.size, columns };
    known.set(name, there);
    return there.kind;
  });
  const columnsOf = Array.from(known.values(), ({ columns }) => columns);
  const values = new Float64Array(kept * known.size);
  const of = new Int32Array(kept * known.size).fill(-1);
  const worked = (frame: number, kind: number): number => {
    const own = columnsOf[kind] ?? [];
    if (own.length === 0) return unpitched;
    const row = frame * pitches.length;
    if (own.length === 1) return likeness[row + (own[0] ?? 0)] ?? 0;
    let sum = 0;
    for (const column of own) sum += (likeness[row + column] ?? 0) ** 2;
    return Math.min(1, Math.sqrt(sum));
  };
  return {
    kinds,
    at: (frame, kind) => {
      const bounded = Math.min(frames - 1, Math.max(0, frame));
      const place = kept * kind + (bounded % kept);
      if (of[place] === bounded) return values[place] ?? 0;
      const value = worked(bounded, kind);
      of[place] = bounded;
      values[place] = value;
      return value;
    },
  };
};
