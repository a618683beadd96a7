/**
 * A note's displacement pencilled below its staff: a short upright where the note stands, from there a stroke to the left where it came before, to the right where
 * it came after, as long as the milliseconds are many, in the player's hue and line; and thin ends as far as it is unsure. What is not to be told from together has
 * the thin line only. A note that was heard roughly has the sign for "about", one that was not surely heard a question mark.
 */
import { pencil, type PlayerLine } from './pencil.ts';
import { markShape } from './markShape.ts';
import { millimetresPerMs, type DisplacedNote, type UnsureNote } from './readingMarks.ts';
import { freeBelow } from './room.ts';
import type { Box, Measured, Stood } from './skyline.ts';
import { figure, shape, type Shape } from './svg.ts';

/** In staff spaces; our own choice by eye. */
const sizes = {
  upright: 0.9,
  height: 1,
  stroke: 0.42,
  thin: 0.14,
  gap: 0.35,
  air: 0.18,
  step: 0.2,
  sign: 1.7,
} as const;

/** Half a black note head (SMuFL 1.4, noteheadBlack: 1.18 staff spaces). */
const halfHead = 0.59;

/** What stands below a note of which no figure is told: about, unsure, not found. `size` and `half` its width in staff spaces, by eye. */
const signs = {
  rough: { sign: '~', size: 2.4, half: 0.65 },
  unsure: { sign: '?', size: sizes.sign, half: 0.45 },
  missing: { sign: '(?)', size: sizes.sign, half: 0.45 },
} as const;

/** Hundredths of a millimetre for each millisecond. */
const unitsPerMs = 100 * millimetresPerMs;

export interface Placed {
  readonly drawn: Shape;
  readonly box: Box;
}

const line = (
  x1: number,
  x2: number,
  y: number,
  width: number,
  more: Readonly<Record<string, string>>,
): Shape =>
  shape('path', {
    d: `M${figure(x1)} ${figure(y)} L${figure(x2)} ${figure(y)}`,
    fill: 'none',
    'stroke-width': figure(width),
    'stroke-linecap': 'butt',
    ...more,
  });

const strokesOf = (
  { value, low, high }: DisplacedNote,
  x: number,
  y: number,
  { hue, dashes }: PlayerLine,
  space: number,
): readonly Shape[] => {
  const at = (ms: number): number => x + unitsPerMs * ms;
  const told = low > 0 || high < 0;
  const half = (sizes.upright * space) / 2;
  return [
    shape('path', {
      class: 'note-place',
      d: `M${figure(x)} ${figure(y - half)} L${figure(x)} ${figure(y + half)}`,
      fill: 'none',
      stroke: hue,
      'stroke-width': figure(sizes.thin * space),
    }),
    line(at(low), at(high), y, sizes.thin * space, { class: 'unsure-by', stroke: hue }),
    ...(told
      ? [
          line(x, at(value), y, sizes.stroke * space, {
            class: 'by',
            stroke: hue,
            ...(dashes.length === 0
              ? {}
              : { 'stroke-dasharray': dashes.map((dash) => figure((dash * space) / 2)).join(' ') }),
          }),
        ]
      : []),
  ];
};

/** The mark of a note, in the first free row below its staff; null where there is no room. */
export const noteMark = (
  mark: DisplacedNote | UnsureNote,
  stood: Stood,
  { at, taken }: { readonly at: Measured; readonly taken: readonly Box[] },
  player: PlayerLine,
  space: number,
  deepest: number,
): Placed | null => {
  const staff = at.staves[stood.staff];
  if (staff === undefined) return null;
  const bottom = at.staves[stood.staff + 1]?.top ?? staff.bottom + deepest * space;
  const x = stood.left + halfHead * space;
  const sure = mark.kind === 'apart' || mark.kind === 'click';
  const reach = sure
    ? { left: Math.min(0, mark.low) * unitsPerMs, right: Math.max(0, mark.high) * unitsPerMs }
    : { left: -signs[mark.kind].half * space, right: signs[mark.kind].half * space };
  const air = sizes.air * space;
  const wide = { left: x + reach.left - air, right: x + reach.right + air };
  const height = (sure ? sizes.height : sizes.sign * 0.8) * space;
  const top = freeBelow(
    [...at.boxes, ...taken],
    wide,
    height,
    staff.bottom + sizes.gap * space,
    bottom - sizes.gap * space,
    sizes.step * space,
  );
  if (top === null) return null;
  const y = top + height / 2;
  const drawn = sure
    ? markShape({ ...mark, parts: mark.part }, strokesOf(mark, x, y, player, space), {
        'data-ms': String(mark.value),
        'data-low': String(mark.low),
        'data-high': String(mark.high),
      })
    : markShape({ ...mark, parts: mark.part }, [
        shape(
          'text',
          { x: figure(x), y: figure(top + height - 0.1 * space), 'text-anchor': 'middle', fill: pencil },
          [shape('tspan', { 'font-size': figure(signs[mark.kind].size * space) }, signs[mark.kind].sign)],
        ),
      ]);
  return { drawn, box: { ...wide, top, bottom: top + height } };
};
