/** Which marks are seen: by kind, by player, and by how much has been told. */
import type { ShownMark, ShownReading } from '../../desk/index.ts';

/** What is shown of the marks, by the kinds that a mark can have. */
const kinds = {
  notes: ['apart', 'click'],
  unsure: ['rough', 'unsure', 'missing'],
  seams: ['seam'],
  pace: ['pace'],
} as const;
export type Layer = keyof typeof kinds;
export const layers: readonly Layer[] = ['notes', 'unsure', 'seams', 'pace'];

export interface Hidden {
  readonly layers: ReadonlySet<Layer>;
  readonly parts: ReadonlySet<string>;
}

export const toggled = <T>(set: ReadonlySet<T>, one: T): ReadonlySet<T> =>
  set.has(one) ? new Set([...set].filter((other) => other !== one)) : new Set([...set, one]);

const layerOf = ({ kind }: ShownMark): Layer | null =>
  layers.find((layer) => kinds[layer].some((one) => one === kind)) ?? null;

export const seenOf = (
  { marks, findings }: ShownReading,
  hidden: Hidden,
  told: number,
): ReadonlyMap<string, ShownMark> => {
  const words = new Set(findings.slice(0, told).map(({ mark }) => mark));
  return new Map(
    marks.flatMap((mark): [string, ShownMark][] => {
      const layer = layerOf(mark);
      const seen =
        layer === null
          ? words.has(mark.id)
          : !hidden.layers.has(layer) &&
            (mark.parts.length === 0 || mark.parts.some((part) => !hidden.parts.has(part)));
      return seen ? [[mark.id, mark]] : [];
    }),
  );
};
