/**
 * Places pencilled on the systems of a page: a bracket over the music from the first note to the last, above the uppermost staff
 * concerned, with its label; and a short slanting tick for each hand-over between the two staves, towards the note that takes over.
 *
 * A bracket stands as near to its staff as there is room over its whole length in a system, and above those that came before; where there is no room the
 * place is left out, all of it, and told. Nothing that is engraved is moved.
 */
import { F, type Beats } from '../units/index.ts';
import { joined } from './geometry.ts';
import { Moments, standing } from './moments.ts';
import { pencil } from './pencil.ts';
import type { PlaceMark, SheetPlace } from './placeMarks.ts';
import { freeAbove } from './room.ts';
import { seamShape } from './seamTicks.ts';
import type { SheetScore } from './sheetScore.ts';
import { measured, staffParts, type Box, type Measured, type Stood } from './skyline.ts';
import { figure, shape, type Shape } from './svg.ts';
import type { BoxedSystem, System } from './systems.ts';

/** Sizes in staff spaces; our own choice by eye. */
const sizes = {
  label: 1.7,
  labelDrop: 0.35,
  /** Of a bracket with its label, from the ends of its hooks. */
  height: 2.5,
  hook: 0.8,
  /** Air around it. */
  air: 0.35,
  beyond: 0.25,
  line: 0.16,
  step: 0.25,
  /** How far above a system brackets may pile up. */
  pile: 14,
} as const;

/** Mean width of a character as a share of the font size. */
const meanWidth = 0.5;

interface Opened {
  readonly system: System;
  readonly at: Measured;
  /** On the sheet's axis. */
  readonly start: Beats;
  readonly end: F.Fraction;
  /** What was pencilled so far, and its boxes. */
  readonly shapes: Shape[];
  readonly taken: Box[];
}

export interface PencilledPage {
  readonly systems: readonly System[];
  /** Marks drawn on these systems, and for each system those that are seen on it. */
  readonly drawn: readonly PlaceMark[];
  readonly seen: readonly (readonly PlaceMark[])[];
  /** Marks for which there was no room. */
  readonly left: readonly PlaceMark[];
}

/** Left and right end in a system of a place that reaches into it. */
const across = (
  { mark, from, to, opens, stays }: SheetPlace,
  { at, start, end }: Opened,
  moments: Moments,
  space: number,
): { readonly left: number; readonly right: number; readonly begins: boolean; readonly ends: boolean } => {
  const parts = mark.parts.length === 0 ? at.staves.map(({ part }) => part) : mark.parts;
  const here = (moment: Beats): readonly Stood[] => {
    const own = standing(moments.notes(parts, moment), at);
    return own.length > 0 ? own : standing(moments.all(moment), at);
  };
  const comes = F.atMost(start, from);
  const begins = !opens && comes;
  const ends = !stays && F.less(to, end);
  const music = Math.min(...[...at.stood.values()].map(({ left }) => left));
  const first = comes ? here(from) : [];
  const last = ends ? here(to) : [];
  const left = first.length > 0 ? Math.min(...first.map((one) => one.left)) : music;
  const right = last.length > 0 ? Math.max(...last.map((one) => one.right)) : (at.bars.at(-1)?.right ?? left);
  const beyond = sizes.beyond * space;
  return {
    left: left - (begins ? beyond : 0),
    right: Math.max(right, left) + (ends ? beyond : 0),
    begins,
    ends,
  };
};

const bracketShape = (
  { mark }: SheetPlace,
  { left, right, begins, ends }: ReturnType<typeof across>,
  bottom: number,
  first: boolean,
  space: number,
): Shape => {
  const line = bottom - sizes.hook * space;
  const hooked = [
    begins
      ? `M${figure(left)} ${figure(bottom)} L${figure(left)} ${figure(line)}`
      : `M${figure(left)} ${figure(line)}`,
    `L${figure(right)} ${figure(line)}`,
    ...(ends ? [`L${figure(right)} ${figure(bottom)}`] : []),
  ].join(' ');
  const dashes =
    mark.line === 'dashed' ? { 'stroke-dasharray': [0.9, 0.6].map((d) => figure(d * space)).join(' ') } : {};
  const text = first ? mark.label : `(${mark.label})`;
  return shape('g', { ...(first ? { id: mark.id } : {}), class: first ? 'place' : 'place more' }, [
    shape('path', {
      d: hooked,
      fill: 'none',
      stroke: pencil,
      'stroke-width': figure(sizes.line * space),
      'stroke-linecap': 'round',
      ...dashes,
    }),
    shape(
      'text',
      {
        x: figure(left),
        y: figure(line - sizes.labelDrop * space),
        'text-anchor': 'start',
        fill: pencil,
        'font-style': 'italic',
      },
      [shape('tspan', { 'font-size': figure(sizes.label * space) }, text)],
    ),
  ]);
};

interface Fitted {
  readonly opened: Opened;
  readonly box: Box;
  readonly drawn: Shape;
}

/** A place fitted into all systems that it reaches into; null where one of them has no room. */
const fitted = (
  place: SheetPlace,
  systems: readonly Opened[],
  moments: Moments,
  space: number,
): readonly Fitted[] | null => {
  const row: Fitted[] = [];
  const { mark } = place;
  for (const opened of systems) {
    if (F.less(place.to, opened.start) || !F.less(place.from, opened.end)) continue;
    // A place that goes on behind the page ends where the page does.
    if (place.stays && F.equal(place.to, opened.start)) continue;
    const { staves, boxes } = opened.at;
    const found = staves.findIndex(({ part }) => mark.parts.includes(part));
    const index = Math.max(0, found);
    const staff = staves[index];
    if (staff === undefined) return null;
    const ends = across(place, opened, moments, space);
    const text = (mark.label.length + (row.length > 0 ? 2 : 0)) * sizes.label * meanWidth * space;
    const wide = { left: ends.left, right: Math.max(ends.right, ends.left + text) };
    const air = sizes.air * space;
    const above = staves[index - 1];
    const bottom = freeAbove(
      [...boxes, ...opened.taken],
      { left: wide.left - air, right: wide.right + air },
      (sizes.height + 2 * sizes.air) * space,
      staff.top,
      above === undefined ? opened.system.extent.top - sizes.pile * space : above.bottom,
      sizes.step * space,
    );
    if (bottom === null) return null;
    const foot = bottom - air;
    row.push({
      opened,
      box: { ...wide, top: foot - sizes.height * space, bottom: foot },
      drawn: bracketShape(place, ends, foot, row.length === 0, space),
    });
  }
  return row;
};

/** Pencils places on systems, those that come first nearest to the staves. `space`: the distance of two staff lines. */
export const pencilled = (
  systems: readonly BoxedSystem[],
  sheet: SheetScore,
  places: readonly SheetPlace[],
  space: number,
): PencilledPage => {
  if (places.length === 0) return { systems, drawn: [], seen: systems.map(() => []), left: [] };
  const parts = staffParts(sheet);
  const players = [...new Set(parts)];
  const moments = new Moments(sheet);
  const { bars } = sheet.score;
  const opened = systems.map((system): Opened => {
    const [first, last] = [bars[system.first], bars[system.first + system.bars - 1]];
    const start = first?.start ?? (F.zero as Beats);
    return {
      system,
      at: measured(system.boxed, parts, space),
      start,
      end: last === undefined ? start : F.add(last.start, last.length),
      shapes: [],
      taken: [],
    };
  });
  const left: PlaceMark[] = [];
  const drawn: PlaceMark[] = [];
  const seen = new Map<Opened, PlaceMark[]>();
  const shown: SheetPlace[] = [];
  for (const place of places) {
    const row = fitted(place, opened, moments, space);
    if (row === null || row.length === 0) {
      left.push(place.mark);
      continue;
    }
    drawn.push(place.mark);
    shown.push(place);
    for (const { opened: where, box, drawn: bracket } of row) {
      where.shapes.push(bracket);
      where.taken.push(box);
      seen.set(where, [...(seen.get(where) ?? []), place.mark]);
    }
  }
  const told = new Set<string>();
  for (const { seams } of shown)
    for (const seam of seams) {
      const key = `${F.format(seam.at)} ${seam.from} ${seam.to}`;
      if (told.has(key)) continue;
      told.add(key);
      const where = opened.find(({ start, end }) => F.atMost(start, seam.at) && F.less(seam.at, end));
      const tick = where === undefined ? null : seamShape(seam, where, moments, players, space);
      if (where === undefined || tick === null) continue;
      where.shapes.push(tick.drawn);
      where.taken.push(tick.box);
    }
  return {
    systems: opened.map(({ system, shapes, taken }) => ({
      shape: {
        ...system.shape,
        children: [...system.shape.children, shape('g', { class: 'pencil' }, shapes)],
      },
      extent: taken.reduce((all, { top, bottom }) => joined(all, { top, bottom }), system.extent),
      first: system.first,
      bars: system.bars,
    })),
    drawn,
    seen: opened.map((one) => seen.get(one) ?? []),
    left,
  };
};
