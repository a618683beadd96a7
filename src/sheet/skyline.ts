/** What stands where in one system: its staves, its bars, its notes, and the room that is taken. In the picture's units. */
import type { SheetScore } from './sheetScore.ts';
import { extentOf, pointsOf } from './geometry.ts';
import { allOf, classesOf, isOf, numberOf, type Shape } from './svg.ts';

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Whether two boxes have room in common. */
export const meets = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

export interface StaffLines {
  /** Part id. */
  readonly part: string;
  readonly top: number;
  readonly bottom: number;
}

/** A drawn note or rest. */
export interface Stood {
  readonly left: number;
  readonly right: number;
  /** y of its head's middle; of a rest where it is drawn from. */
  readonly y: number;
  /** Index of its staff, from the top. */
  readonly staff: number;
}

export interface Measured {
  /** From the top, the click line not among them. */
  readonly staves: readonly StaffLines[];
  /** All that is drawn but staff lines and bar lines. */
  readonly boxes: readonly Box[];
  /** By element id. */
  readonly stood: ReadonlyMap<string, Stood>;
  /** Left and right end of each bar's staves. */
  readonly bars: readonly { readonly left: number; readonly right: number }[];
}

/** Boxes of what holds others, and those that say nothing of what is drawn: their contents are measured themselves. */
const holders = new Set(
  'system measure staff layer beam chord tuplet barLine slur tie mdiv score section label grpSym'.split(' '),
);

/** A note head is 1.18 staff spaces wide (SMuFL 1.4, noteheadBlack); a rest is taken to be as wide. */
const headWidth = 1.18;

/** Mean width of a character as a share of the font size, on the safe side for Latin text. */
const meanWidth = 0.52;

/** Pieces of a curve that are measured apart, as a curve's own box is mostly empty. */
const pieces = 8;

interface Point {
  readonly x: number;
  readonly y: number;
}

const around = (points: readonly Point[]): Box => ({
  left: Math.min(...points.map(({ x }) => x)),
  right: Math.max(...points.map(({ x }) => x)),
  top: Math.min(...points.map(({ y }) => y)),
  bottom: Math.max(...points.map(({ y }) => y)),
});

/** A cubic Bézier curve from its four points, in pieces. */
const curve = ([a, b, c, d]: readonly [Point, Point, Point, Point]): readonly Box[] => {
  const at = (t: number): Point => {
    const [w, x, y, z] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t ** 2 * (1 - t), t ** 3];
    return {
      x: w * a.x + x * b.x + y * c.x + z * d.x,
      y: w * a.y + x * b.y + y * c.y + z * d.y,
    };
  };
  return Array.from({ length: pieces }, (_, i) => around([at(i / pieces), at((i + 1) / pieces)]));
};

/** Boxes of a path or polygon: curves in pieces. */
const drawnBoxes = (one: Shape): readonly Box[] => {
  const points = pointsOf(one);
  const [a, b, c, d] = points;
  if (a === undefined) return [];
  if (/C/.test(one.attributes['d'] ?? '') && b !== undefined && c !== undefined && d !== undefined)
    return curve([a, b, c, d]);
  return [around(points)];
};

const rectBox = (one: Shape): readonly Box[] => {
  const [x, y, width, height] = ['x', 'y', 'width', 'height'].map((name) => numberOf(one, name));
  if (x === undefined || y === undefined || !Number.isFinite(x) || !Number.isFinite(y)) return [];
  return [{ left: x, right: x + (width ?? 0), top: y, bottom: y + (height ?? 0) }];
};

const textBoxes = (one: Shape): readonly Box[] => {
  const given = allOf(one, (s) => isOf(s, 'bounding-box')).flatMap(({ children }) =>
    children.flatMap(rectBox),
  );
  if (given.length > 0) return given;
  const { top, bottom } = extentOf(one);
  const spans = allOf(one, ({ children, text }) => children.length === 0 && text !== '');
  const size = Math.max(
    0,
    ...allOf(one, (s) => 'font-size' in s.attributes).map((s) => numberOf(s, 'font-size') || 0),
  );
  const width = spans.reduce((sum, { text }) => sum + text.length, 0) * size * meanWidth;
  const x = numberOf(one, 'x');
  const anchor = one.attributes['text-anchor'];
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  return Number.isFinite(left) && Number.isFinite(top) ? [{ left, right: left + width, top, bottom }] : [];
};

/** Lines of a staff, and bar lines, are crossed by what is pencilled. */
const boxesIn = (root: Shape): readonly Box[] => {
  const boxes: Box[] = [];
  const walk = (one: Shape, parent: Shape | null): void => {
    if (isOf(one, 'bounding-box')) {
      if (!classesOf(one).some((word) => holders.has(word)))
        for (const rect of one.children) boxes.push(...rectBox(rect));
      return;
    }
    if (isOf(one, 'barLine') || isOf(one, 'grpSym')) return;
    if (one.name === 'path' || one.name === 'polygon' || one.name === 'polyline') {
      const line = parent !== null && (isOf(parent, 'staff') || isOf(parent, 'system'));
      if (!line) boxes.push(...drawnBoxes(one));
      return;
    }
    if (one.name === 'text') {
      boxes.push(...textBoxes(one));
      return;
    }
    for (const inner of one.children) walk(inner, one);
  };
  walk(root, null);
  return boxes.filter(({ top }) => Number.isFinite(top));
};

const stavesOf = (measure: Shape): readonly Shape[] =>
  measure.children.filter((one) => one.name === 'g' && isOf(one, 'staff'));

const linesIn = (staff: Shape): readonly Point[] =>
  staff.children.filter(({ name }) => name === 'path').flatMap(pointsOf);

const headAt = (one: Shape): Point | null => {
  const [use] = allOf(one, ({ name, attributes }) => name === 'use' && 'transform' in attributes);
  const found = /translate\(([-\d.]+)[ ,]+([-\d.]+)/.exec(use?.attributes['transform'] ?? '');
  const [x, y] = [Number.parseFloat(found?.[1] ?? ''), Number.parseFloat(found?.[2] ?? '')];
  return Number.isFinite(x) && Number.isFinite(y) ? { x, y } : null;
};

/** Part ids of a sheet's staves, from the top, the click line left out. */
export const staffParts = ({ score, clickPart }: SheetScore): readonly string[] =>
  score.parts
    .filter(({ id }) => id !== clickPart)
    .flatMap(({ id, staves }) => Array.from({ length: staves }, () => id));

/** Measures a system that still has the engraver's boxes; `space` is the distance of two staff lines. */
export const measured = (system: Shape, parts: readonly string[], space: number): Measured => {
  const measures = system.children.filter((one) => isOf(one, 'measure'));
  const stood = new Map<string, Stood>();
  const bars: { left: number; right: number }[] = [];
  for (const measure of measures) {
    const staves = stavesOf(measure);
    const across = staves.flatMap(linesIn).map(({ x }) => x);
    bars.push({ left: Math.min(...across), right: Math.max(...across) });
    staves.forEach((staff, index) => {
      for (const one of allOf(staff, (s) => ['note', 'rest', 'mRest'].some((word) => isOf(s, word)))) {
        const id = one.attributes['id'];
        const heads = allOf(one, (s) => isOf(s, 'notehead'));
        const head = headAt(heads[0] ?? one);
        if (id === undefined || head === null || isOf(one, 'bounding-box')) continue;
        stood.set(id, { left: head.x, right: head.x + headWidth * space, y: head.y, staff: index });
      }
    });
  }
  const staves = (measures[0] === undefined ? [] : stavesOf(measures[0])).map((staff, i): StaffLines => {
    const ys = linesIn(staff).map(({ y }) => y);
    return { part: parts[i] ?? '', top: Math.min(...ys), bottom: Math.max(...ys) };
  });
  return { staves, boxes: boxesIn(system), stood, bars };
};
