/**
 * How loud each note of a player is against that player's others. Which partials stand clear of the others differs from note to note, so that their
 * energies are not comparable as they are: each is taken as the note's level plus what that partial has on the whole, which may change with the
 * register (an additive model in dB, by alternating least squares).
 */
import type { PartialLevel } from './ends.ts';

export interface Measured {
  /** Sounding key. */
  readonly midi: number;
  readonly partials: readonly PartialLevel[];
}

const rounds = 12;
/** Partials below which nothing is said of a note. */
const fewest = 2;
/** Octaves of register that weigh as much as what is seen, against a slope by register. */
const ridge = 4;

interface Shape {
  readonly middle: number;
  readonly slope: number;
}

/** A line by least squares, its slope drawn to none. */
const lineOf = (points: readonly { readonly x: number; readonly y: number }[]): Shape => {
  const n = Math.max(1, points.length);
  const [mx, my] = [points.reduce((s, { x }) => s + x, 0) / n, points.reduce((s, { y }) => s + y, 0) / n];
  let [xx, xy] = [ridge, 0];
  for (const { x, y } of points) [xx, xy] = [xx + (x - mx) ** 2, xy + (x - mx) * (y - my)];
  const slope = xy / xx;
  return { middle: my - slope * mx, slope };
};

/** Levels in dB of one player's notes; null where too few partials stand clear. */
export const levelsOf = (notes: readonly Measured[]): readonly (number | null)[] => {
  const usable = notes.map(({ partials }) => partials.length >= fewest);
  const keys = notes.flatMap(({ midi }, i) => (usable[i] === true ? [midi] : []));
  const centre = keys.reduce((sum, key) => sum + key, 0) / Math.max(1, keys.length);
  const shapes = new Map<number, Shape>();
  const expected = (h: number, midi: number): number => {
    const shape = shapes.get(h);
    return shape === undefined ? 0 : shape.middle + (shape.slope * (midi - centre)) / 12;
  };
  const level = ({ midi, partials }: Measured): number => {
    // What is far softer than it should be is noise or was cut off: it counts less than the others.
    const own = partials.map(({ h, db }) => db - expected(h, midi)).sort((a, b) => a - b);
    const inner = own.length >= 4 ? own.slice(1, -1) : own;
    return inner.reduce((sum, value) => sum + value, 0) / Math.max(1, inner.length);
  };
  let levels = notes.map(() => 0);
  for (let round = 0; round < rounds; round += 1) {
    const points = new Map<number, { x: number; y: number }[]>();
    notes.forEach(({ midi, partials }, i) => {
      if (usable[i] !== true) return;
      for (const { h, db } of partials) {
        const list = points.get(h) ?? [];
        list.push({ x: (midi - centre) / 12, y: db - (levels[i] ?? 0) });
        points.set(h, list);
      }
    });
    for (const [h, list] of points) shapes.set(h, lineOf(list));
    levels = notes.map((note, i) => (usable[i] === true ? level(note) : 0));
    const all = levels.filter((_, i) => usable[i] === true);
    const middle = all.reduce((sum, value) => sum + value, 0) / Math.max(1, all.length);
    levels = levels.map((value) => value - middle);
  }
  // As a level of the whole: what all partials have together.
  let whole = 0;
  for (const { middle } of shapes.values()) whole += 10 ** (middle / 10);
  return levels.map((value, i) => (usable[i] === true ? value + 10 * Math.log10(whole + 1e-12) : null));
};
