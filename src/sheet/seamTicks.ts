/**
 * A hand-over pencilled: a short tick in the gap between the staff of the note that takes over and the next staff on the giver's side. It leans from
 * earlier at the giver's end to the very note at the taker's, in the hue and line of the player who takes over.
 */
import { playerLine } from './pencil.ts';
import type { SheetSeam } from './placeMarks.ts';
import { standing, type Moments } from './moments.ts';
import { meets, type Box, type Measured } from './skyline.ts';
import { figure, shape, type Shape } from './svg.ts';

/** In staff spaces; our own choice by eye. `ends`: room above and below, for what all but touches a word reads as one sign with it. */
const sizes = { tick: 2.4, lean: 0.9, line: 0.3, air: 0.2, ends: 0.4, step: 0.25 } as const;

/** Half a black note head (SMuFL 1.4, noteheadBlack: 1.18 staff spaces). */
const halfHead = 0.59;

/** The hand-over at a moment, drawn; null where its note stands elsewhere. */
export const seamShape = (
  { id, at: moment, from, to }: SheetSeam,
  { at, taken }: { readonly at: Measured; readonly taken: readonly Box[] },
  moments: Moments,
  players: readonly string[],
  space: number,
): { readonly drawn: Shape; readonly box: Box } | null => {
  const [note] = standing(moments.notes([to], moment), at);
  const givers = at.staves.flatMap(({ part }, i) => (part === from ? [i] : []));
  if (note === undefined || givers.length === 0) return null;
  const down = (givers[0] ?? 0) < note.staff;
  const upper = at.staves[down ? note.staff - 1 : note.staff];
  const lower = at.staves[down ? note.staff : note.staff + 1];
  if (upper === undefined || lower === undefined) return null;
  const x = note.left + halfHead * space;
  const lean = sizes.lean * space;
  const height = sizes.tick * space;
  const wide = { left: x - lean - sizes.air * space, right: x + sizes.air * space };
  const near = [...at.boxes, ...taken].filter((box) => box.left < wide.right && wide.left < box.right);
  const middle = (upper.bottom + lower.top) / 2;
  const room = Math.max(0, (lower.top - upper.bottom - height) / 2);
  // The free place nearest to the middle, with room at its ends if there is any; where there is none, the middle.
  const freeWith = (more: number): number | null => {
    for (let off = 0; off <= room; off += sizes.step * space) {
      const free = [middle - height / 2 - off, middle - height / 2 + off].find(
        (y) => !near.some((box) => meets(box, { ...wide, top: y - more, bottom: y + height + more })),
      );
      if (free !== undefined) return free;
    }
    return null;
  };
  const top = freeWith(sizes.ends * space) ?? freeWith(0) ?? middle - height / 2;
  const [giving, taking] = down ? [top, top + height] : [top + height, top];
  const { hue, dashes } = playerLine(players.indexOf(to));
  return {
    box: { ...wide, top, bottom: top + height },
    drawn: shape('path', {
      id,
      class: 'seam',
      d: `M${figure(x - lean)} ${figure(giving)} L${figure(x)} ${figure(taking)}`,
      fill: 'none',
      stroke: hue,
      'stroke-width': figure(sizes.line * space),
      'stroke-linecap': 'butt',
      ...(dashes.length === 0 ? {} : { 'stroke-dasharray': dashes.map((d) => figure(d * space)).join(' ') }),
    }),
  };
};
