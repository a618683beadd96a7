/**
 * The click line redrawn: where the engraver put a note for each click, a small upright tick, taller on first beats,
 * with its count word below. Everything else of that staff goes.
 */
import { extentOf, pointsOf, type Extent } from './geometry.ts';
import { allOf, figure, isOf, numberOf, shape, type Shape } from './svg.ts';

export interface ClickLook {
  /** Distance of two staff lines, in the picture's units. */
  readonly space: number;
  /** Ids of ticks on the first beat of a bar. */
  readonly firsts: ReadonlySet<string>;
}

/**
 * Sizes in staff spaces. A tick stands over the middle of a black note head, which is 1.18 spaces wide (SMuFL 1.4,
 * bounding box of noteheadBlack in its reference font); heights and gaps are our own choice by eye.
 */
const sizes = {
  headMiddle: 0.59,
  tick: 1.3,
  first: 2.1,
  drop: 0.4,
  room: 1.2,
  width: 0.26,
  firstWidth: 0.36,
  word: 2,
  wordDrop: 2,
  number: 1.8,
  numberIndent: 0.6,
  signRise: 2.5,
} as const;

/** What the click line takes up around its line, to find the pieces of bar lines that belong to it. */
export const clickRow = (line: number, space: number): Extent => ({
  top: line - 1.1 * space,
  bottom: line + 1.1 * space,
});

/** All text in an element. */
export const textIn = (one: Shape): string =>
  allOf(one, ({ name, children, text }) => name === 'tspan' && children.length === 0 && text !== '')
    .map(({ text }) => text)
    .join('');

/** x of the engraved head; null where there is none. */
const headX = (tick: Shape): number | null => {
  const [head] = allOf(tick, ({ name, attributes }) => name === 'use' && 'transform' in attributes);
  const x = Number.parseFloat(/translate\(([-\d.]+)/.exec(head?.attributes['transform'] ?? '')?.[1] ?? '');
  return Number.isFinite(x) ? x : null;
};

const tickShape = (tick: Shape, base: number, { space, firsts }: ClickLook): readonly Shape[] => {
  const id = tick.attributes['id'] ?? '';
  const head = headX(tick);
  if (head === null) return [];
  const x = head + sizes.headMiddle * space;
  const first = firsts.has(id);
  const top = base - (first ? sizes.first : sizes.tick) * space;
  const stroke = shape('path', {
    d: `M${figure(x)} ${figure(top)} L${figure(x)} ${figure(base)}`,
    'stroke-width': figure((first ? sizes.firstWidth : sizes.width) * space),
  });
  const word = textIn(tick);
  const size = { 'font-size': figure(sizes.word * space) };
  const text =
    word === ''
      ? []
      : [
          shape('text', { x: figure(x), y: figure(base + sizes.wordDrop * space), 'text-anchor': 'middle' }, [
            shape('tspan', size, word),
          ]),
        ];
  return [shape('g', { id, class: first ? 'tick first' : 'tick' }, [stroke, ...text])];
};

const ticksIn = (staff: Shape): readonly Shape[] =>
  allOf(staff, (one) => isOf(one, 'note') && (one.attributes['id'] ?? '').startsWith('tick-'));

/** The click staff of one bar, redrawn on a base line. */
export const redrawnClicks = (staff: Shape, base: number, look: ClickLook): Shape =>
  shape(
    'g',
    { class: 'clicks' },
    ticksIn(staff).flatMap((tick) => tickShape(tick, base, look)),
  );

/** Where the ticks stand: as low as the engraver keeps clear for the head of a note on its line. */
export const tickBase = (line: number, space: number): number => line + sizes.drop * space;

/** How far what stands above the line is moved up, to make room for ticks where there were heads. */
export const tickRoom = (space: number): number => -sizes.room * space;

/** The printed number of a bar, in front of its first tick; at a system's beginning it begins with the staff. */
export const barNumber = (text: string, x: number, base: number, opens: boolean, space: number): Shape =>
  shape(
    'text',
    {
      class: 'number',
      x: figure(opens ? x : x + sizes.numberIndent * space),
      y: figure(base),
      'text-anchor': opens ? 'start' : 'end',
    },
    [shape('tspan', { 'font-size': figure(sizes.number * space) }, text)],
  );

/**
 * The sign for a bar counted again, as the engraver set it over the note on which the music goes on: moved in front of
 * that note, or of the bar line before it, just above the ticks.
 */
export const recountSign = (
  sign: Shape,
  id: string,
  { base, barLeft, opens }: { readonly base: number; readonly barLeft: number; readonly opens: boolean },
  space: number,
): Shape => {
  const [text] = allOf(sign, ({ name }) => name === 'text');
  const x = text === undefined ? barLeft : numberOf(text, 'x');
  const atBarLine = x - barLeft < 8 * space;
  const indent = sizes.numberIndent * space;
  return shape('g', { id, class: 'recount' }, [
    shape(
      'text',
      {
        x: figure(atBarLine ? barLeft + (opens ? 0 : indent) : x - indent),
        y: figure(base - sizes.signRise * space),
        'text-anchor': atBarLine && opens ? 'start' : 'end',
      },
      [shape('tspan', { 'font-size': figure(sizes.word * space) }, textIn(sign))],
    ),
  ]);
};

/** y of a music sign; NaN where it has none. */
const signY = ({ attributes }: Shape): number =>
  Number.parseFloat(/translate\([-\d.]+, *([-\d.]+)/.exec(attributes['transform'] ?? '')?.[1] ?? '');

/** A bar line without its piece in the click row, and without the dots of a repeat there. */
export const trimmedBarLine = (barLine: Shape, row: Extent): Shape => ({
  ...barLine,
  children: barLine.children.filter((one) => {
    const ys = one.name === 'path' ? pointsOf(one).map(({ y }) => y) : one.name === 'use' ? [signY(one)] : [];
    return ys.length === 0 || ys.some((y) => !(y >= row.top && y <= row.bottom));
  }),
});

/** The bracket of an ending without the one that belongs to the click line: the players' topmost staff has its own. */
export const trimmedEnding = (ending: Shape, line: number): Shape => ({
  ...ending,
  children: ending.children.filter((one) => !isOf(one, 'voltaBracket') || extentOf(one).bottom > line),
});

/** The line at a system's left edge without the click row; none where there is one staff. */
export const trimmedEdge = (edge: Shape, top: number, oneStaff: boolean): Shape | null => {
  const points = pointsOf(edge);
  const x = points[0]?.x ?? 0;
  const bottom = Math.max(...points.map(({ y }) => y));
  return oneStaff
    ? null
    : {
        ...edge,
        attributes: { ...edge.attributes, d: `M${figure(x)} ${figure(top)} L${figure(x)} ${figure(bottom)}` },
      };
};
