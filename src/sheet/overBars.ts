/** What stands over the bars of a system: arrows along bars whose tempo moves on or holds back, and the numbers of the words in the margin. */
import { markShape } from './markShape.ts';
import { pencil } from './pencil.ts';
import type { MarginWords, PaceArrow } from './readingMarks.ts';
import { freeAbove } from './room.ts';
import type { Box } from './skyline.ts';
import { figure, shape, type Shape } from './svg.ts';

/** In staff spaces; our own choice by eye. */
const sizes = {
  height: 2.2,
  text: 1.5,
  head: 0.8,
  line: 0.16,
  air: 0.3,
  ring: 1.1,
  pile: 16,
  step: 0.25,
} as const;
const meanWidth = 0.5;

export interface Over {
  readonly drawn: Shape;
  readonly box: Box;
}

/** Where there is room: all that is drawn and pencilled, and the line above which it has to stand. */
export interface Sky {
  readonly boxes: readonly Box[];
  readonly floor: number;
}

const placedOver = (
  wide: Pick<Box, 'left' | 'right'>,
  height: number,
  { boxes, floor }: Sky,
  space: number,
): Box | null => {
  const bottom = freeAbove(boxes, wide, height, floor, floor - sizes.pile * space, sizes.step * space);
  return bottom === null ? null : { ...wide, top: bottom - height, bottom };
};

/** An arrow along its bars: to the right where the tempo moves on, to the left where it holds back. */
export const paceArrow = (
  mark: PaceArrow,
  { left, right }: Pick<Box, 'left' | 'right'>,
  sky: Sky,
  space: number,
): Over | null => {
  const width = Math.max(right - left, mark.label.length * sizes.text * meanWidth * space);
  const box = placedOver({ left, right: left + width }, (sizes.height + sizes.air) * space, sky, space);
  if (box === null) return null;
  const y = box.bottom - sizes.head * space;
  const [from, to] = mark.on ? [left, right] : [right, left];
  const back = (mark.on ? -1 : 1) * sizes.head * space;
  const wing = sizes.head * 0.6 * space;
  const drawn = markShape({ ...mark, parts: '' }, [
    shape('path', {
      d: `M${figure(from)} ${figure(y)} L${figure(to)} ${figure(y)} M${figure(to + back)} ${figure(y - wing)} L${figure(to)} ${figure(y)} L${figure(to + back)} ${figure(y + wing)}`,
      fill: 'none',
      stroke: pencil,
      'stroke-width': figure(sizes.line * space),
      'stroke-linecap': 'round',
    }),
    shape(
      'text',
      {
        x: figure(left + 0.3 * space),
        y: figure(y - 0.35 * space),
        'text-anchor': 'start',
        fill: pencil,
        'font-style': 'italic',
      },
      [shape('tspan', { 'font-size': figure(sizes.text * space) }, mark.label)],
    ),
  ]);
  return { drawn, box };
};

/** The number of words in the margin, in a ring over the beginning of their bar; `before`: rings there already. */
export const wordNumber = (
  mark: MarginWords,
  bar: number,
  before: number,
  sky: Sky,
  space: number,
): Over | null => {
  const radius = sizes.ring * space;
  const left = bar + before * (2 * radius + 0.5 * space);
  const box = placedOver(
    { left: left - 0.1 * space, right: left + 2 * radius + 0.3 * space },
    2 * radius + sizes.air * space,
    sky,
    space,
  );
  if (box === null) return null;
  const [x, y] = [left + radius, box.top + radius];
  return {
    box,
    drawn: shape('g', { class: 'word-number', 'data-words': mark.id }, [
      ring(x, y, radius, sizes.line * space),
      numberText(mark.number, x, y, sizes.text * space),
    ]),
  };
};

/** A circle as a path (four arcs of Bézier curves, 0.5523 of the radius). */
export const ring = (x: number, y: number, radius: number, width: number): Shape => {
  const k = 0.5523 * radius;
  const p = (dx: number, dy: number): string => `${figure(x + dx)} ${figure(y + dy)}`;
  return shape('path', {
    d: `M${p(radius, 0)} C${p(radius, k)} ${p(k, radius)} ${p(0, radius)} C${p(-k, radius)} ${p(-radius, k)} ${p(-radius, 0)} C${p(-radius, -k)} ${p(-k, -radius)} ${p(0, -radius)} C${p(k, -radius)} ${p(radius, -k)} ${p(radius, 0)}`,
    fill: 'none',
    stroke: pencil,
    'stroke-width': figure(width),
  });
};

export const numberText = (text: string, x: number, y: number, size: number): Shape =>
  shape('text', { x: figure(x), y: figure(y + 0.34 * size), 'text-anchor': 'middle', fill: pencil }, [
    shape('tspan', { 'font-size': figure(size) }, text),
  ]);
