/** What is told of a hand-over, beside its tick between the staves: a line each for time, level, length and direction. */
import { markShape } from './markShape.ts';
import { pencil } from './pencil.ts';
import type { HandOver } from './readingMarks.ts';
import { freeBelow } from './room.ts';
import { meets, type Box, type Measured } from './skyline.ts';
import { figure, shape, type Shape } from './svg.ts';

/** In staff spaces; our own choice by eye. */
const sizes = { text: 1.45, line: 1.55, beside: 0.55, side: 0.5, step: 0.25, farthest: 9, air: 0.2 } as const;

/** Mean width of a character as a share of the font size. */
const meanWidth = 0.48;

/** The hand-over with its tick and its words; `tick` is drawn already and has its box. Null where the words have no room. */
export const seamWords = (
  mark: HandOver,
  tick: { readonly drawn: Shape; readonly box: Box },
  { at, taken }: { readonly at: Measured; readonly taken: readonly Box[] },
  space: number,
): { readonly drawn: Shape; readonly boxes: readonly Box[] } | null => {
  const data = { ...mark, parts: `${mark.from} ${mark.part}` };
  if (mark.lines.length === 0) return { drawn: markShape(data, [tick.drawn]), boxes: [tick.box] };
  const width = Math.max(...mark.lines.map(({ length }) => length)) * sizes.text * meanWidth * space;
  // A cross close before a figure reads as its sign.
  const side = sizes.side * space;
  const height = (mark.lines.length * sizes.line + sizes.air) * space;
  const above = at.staves.filter(({ bottom }) => bottom <= tick.box.top).at(-1);
  const below = at.staves.find(({ top }) => top >= tick.box.bottom);
  if (above === undefined || below === undefined) return null;
  const boxes = [...at.boxes, ...taken, tick.box];
  const end = at.bars.at(-1)?.right ?? Infinity;
  const tries: { readonly left: number; readonly top: number }[] = [];
  const offs = Array.from(
    { length: Math.ceil((sizes.farthest - sizes.beside) / (2 * sizes.step)) },
    (_, i) => sizes.beside + 2 * i * sizes.step,
  );
  for (const off of offs)
    for (const left of [tick.box.right + off * space, tick.box.left - off * space - width]) {
      if (left + width > end || left < 0) continue;
      const top = freeBelow(
        boxes,
        { left: left - side, right: left + width + side },
        height,
        above.bottom,
        below.top,
        sizes.step * space,
      );
      if (top !== null) tries.push({ left, top });
    }
  const [place] = tries;
  if (place === undefined) return null;
  const box = {
    left: place.left - side,
    right: place.left + width + side,
    top: place.top,
    bottom: place.top + height,
  };
  if (taken.some((other) => meets(other, box))) return null;
  const texts = mark.lines.map((text, i) =>
    shape(
      'text',
      {
        x: figure(place.left),
        y: figure(place.top + (i + 0.8) * sizes.line * space),
        'text-anchor': 'start',
        fill: pencil,
        'font-style': 'italic',
      },
      [shape('tspan', { 'font-size': figure(sizes.text * space) }, text)],
    ),
  );
  return { drawn: markShape(data, [tick.drawn, ...texts]), boxes: [tick.box, box] };
};
