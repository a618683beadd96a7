/** Where things lie in an engraved picture: boxes that the engraver gave, paths, polygons and text. */
import { allOf, figure, numberOf, type Shape } from './svg.ts';

/** From top to bottom; y grows downwards. */
export interface Extent {
  readonly top: number;
  readonly bottom: number;
}

const noExtent: Extent = { top: Infinity, bottom: -Infinity };

export const joined = (a: Extent, b: Extent): Extent => ({
  top: Math.min(a.top, b.top),
  bottom: Math.max(a.bottom, b.bottom),
});

const numbersIn = (text: string): readonly number[] =>
  [...text.matchAll(/-?\d+(?:\.\d+)?(?:e-?\d+)?/gi)].map(([value]) => Number(value));

/** Points of a path of absolute M, L and C commands, control points included, or of a polygon. */
export const pointsOf = (element: Shape): readonly { readonly x: number; readonly y: number }[] => {
  const row = numbersIn(element.attributes['d'] ?? element.attributes['points'] ?? '');
  const points: { x: number; y: number }[] = [];
  for (let i = 0; i + 1 < row.length; i += 2) points.push({ x: row[i] ?? 0, y: row[i + 1] ?? 0 });
  return points;
};

const drawn = new Set(['path', 'polygon', 'polyline']);

/** Largest font size among an element's text. */
const textSize = (element: Shape): number =>
  allOf(element, ({ attributes }) => 'font-size' in attributes).reduce(
    (most, inner) => Math.max(most, numberOf(inner, 'font-size') || 0),
    0,
  );

/** How high ascenders and how low descenders reach, as a share of the font size. */
const reach = { up: 0.75, down: 0.25 };

/** Everywhere. */
const everywhere: Extent = { top: -Infinity, bottom: Infinity };

/**
 * The extent of all that is drawn in an element, from the boxes in it and from what has none. What reaches out of
 * `within` does not count: the engraver gives wrong boxes for some lines that go on in the next system.
 */
export const extentOf = (element: Shape, within: Extent = everywhere): Extent => {
  let extent = noExtent;
  const add = (top: number, bottom: number): void => {
    if (top >= within.top && bottom <= within.bottom) extent = joined(extent, { top, bottom });
  };
  const walk = (inner: Shape): void => {
    if (inner.name === 'rect') {
      const top = numberOf(inner, 'y');
      const height = numberOf(inner, 'height');
      if (height > 0 || numberOf(inner, 'width') > 0) add(top, top + height);
    } else if (drawn.has(inner.name)) {
      for (const { y } of pointsOf(inner)) add(y, y);
    } else if (inner.name === 'text') {
      const size = textSize(inner);
      for (const placed of allOf(inner, ({ attributes }) => 'y' in attributes)) {
        const y = numberOf(placed, 'y');
        if (size > 0) add(y - reach.up * size, y + reach.down * size);
      }
      return;
    }
    for (const child of inner.children) walk(child);
  };
  walk(element);
  return extent;
};

const shiftedTransform = (text: string, dy: number): string =>
  text.replace(
    /translate\(([-\d.]+),\s*([-\d.]+)\)/,
    (_, x: string, y: string) => `translate(${x}, ${figure(Number(y) + dy)})`,
  );

/** Text, boxes and music signs moved down by `dy`. */
export const movedDown = (element: Shape, dy: number): Shape => {
  const { y, transform } = element.attributes;
  return {
    ...element,
    attributes: {
      ...element.attributes,
      ...(y === undefined ? {} : { y: figure(Number(y) + dy) }),
      ...(transform === undefined ? {} : { transform: shiftedTransform(transform, dy) }),
    },
    children: element.children.map((inner) => movedDown(inner, dy)),
  };
};
