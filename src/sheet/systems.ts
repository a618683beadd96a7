/** Engraved pictures cut into systems: the click line redrawn, styles written out, names put on what has any. */
import type { Bar } from '../score/model.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { extentOf, movedDown, pointsOf, type Extent } from './geometry.ts';
import { inked, type InkOptions } from './ink.ts';
import { recountId, type SheetScore } from './sheetScore.ts';
import { allOf, classesOf, isOf, readSvg, type Shape } from './svg.ts';
import {
  barNumber,
  clickRow,
  recountSign,
  redrawnClicks,
  textIn,
  tickBase,
  tickRoom,
  trimmedBarLine,
  trimmedEdge,
  trimmedEnding,
  type ClickLook,
} from './ticks.ts';

export interface System {
  readonly shape: Shape;
  /** Of all that it draws. */
  readonly extent: Extent;
  /** Index of its first bar in the sheet's score, and the number of its bars. */
  readonly first: number;
  readonly bars: number;
}

/** A system with the engraver's boxes still in it, by which one finds what stands where. */
export interface BoxedSystem extends System {
  /** y on which its ticks stand. */
  readonly base: number;
  readonly boxed: Shape;
}

export interface CutPictures {
  readonly systems: readonly BoxedSystem[];
  /** Drawings of the music signs, by id. */
  readonly glyphs: ReadonlyMap<string, Shape>;
}

/** Element id of a bar, by its index in the sheet's score. */
const barId = (index: number): string => `bar-${index}`;

const linesOf = (staff: Shape): readonly Shape[] => staff.children.filter(({ name }) => name === 'path');
const topLine = (staff: Shape | undefined): number | null => {
  const [line] = staff === undefined ? [] : linesOf(staff);
  return (line === undefined ? undefined : pointsOf(line)[0]?.y) ?? null;
};
const stavesOf = (measure: Shape): readonly Shape[] =>
  measure.children.filter((one) => one.name === 'g' && isOf(one, 'staff'));

/** Drawings are called by their code point and the picture's own name, which differs: the latter is cut off. */
const glyphName = (id: string): string => id.replace(/^#/, '').replace(/-[^-]*$/, '');

const withGlyphNames = (one: Shape): Shape => {
  const href = one.attributes['href'];
  return {
    ...one,
    attributes:
      one.name === 'use' && href !== undefined
        ? { ...one.attributes, href: `#${glyphName(href)}` }
        : one.attributes,
    children: one.children.map(withGlyphNames),
  };
};

/** Finds the signs for bars counted again, in their order: they are words of the click line, which have no ids. */
class Recounts {
  readonly #texts: readonly string[];
  readonly #first: number;
  #next = 0;

  constructor({ score, firstRecount }: SheetScore) {
    this.#texts = score.parts[0]?.directions.map(({ value }) => value) ?? [];
    this.#first = firstRecount;
  }

  /** The id of the sign that this is; null where it is another direction. */
  idOf(one: Shape): string | null {
    return this.#texts[this.#next] === textIn(one) ? recountId(this.#first + this.#next++) : null;
  }
}

interface Row {
  readonly line: number;
  readonly top: number;
  readonly base: number;
  /** How far what stands above the click line is moved. */
  readonly shift: number;
  readonly oneStaff: boolean;
}

/** What the engraver put above the click line. */
const belongsAbove = (one: Shape, { line }: Row): boolean =>
  ['tempo', 'reh', 'dir'].some((word) => isOf(one, word)) && extentOf(one).bottom <= line;

/** The left end of a bar's staves. */
const leftOf = (staff: Shape | undefined): number =>
  (staff === undefined ? [] : linesOf(staff))
    .flatMap(pointsOf)
    .reduce((least, { x }) => Math.min(least, x), Infinity);

const redrawnMeasure = (
  measure: Shape,
  { index, number }: Bar,
  opens: boolean,
  row: Row,
  look: ClickLook,
  recounts: Recounts,
): Shape => {
  const [clicks, players] = stavesOf(measure);
  const barLeft = leftOf(players);
  const children = measure.children.flatMap((one): readonly Shape[] => {
    if (one === clicks) return [redrawnClicks(one, row.base, look)];
    if (isOf(one, 'barLine')) return [trimmedBarLine(one, clickRow(row.line, look.space))];
    if (isOf(one, 'mNum')) return [];
    const recount = isOf(one, 'dir') ? recounts.idOf(one) : null;
    if (recount !== null) return [recountSign(one, recount, { base: row.base, barLeft, opens }, look.space)];
    return [belongsAbove(one, row) ? movedDown(one, row.shift) : one];
  });
  const printed = number === '' ? [] : [barNumber(number, barLeft, row.base, opens, look.space)];
  return {
    ...measure,
    attributes: { id: barId(index), class: 'measure' },
    children: [...children, ...printed],
  };
};

/** No note, slur or word stands farther from the staves than this, in staff spaces: more than ten ledger lines. */
const farthest = 24;

const reachOf = (staves: readonly Shape[], space: number): Extent => {
  const lines = staves
    .flatMap(linesOf)
    .flatMap(pointsOf)
    .map(({ y }) => y);
  return { top: Math.min(...lines) - farthest * space, bottom: Math.max(...lines) + farthest * space };
};

const cutSystem = (
  raw: Shape,
  bars: readonly Bar[],
  look: ClickLook,
  recounts: Recounts,
): { readonly shape: Shape; readonly bars: number; readonly reach: Extent; readonly base: number } | null => {
  const measures = raw.children.filter((one) => isOf(one, 'measure'));
  const staves = measures[0] === undefined ? [] : stavesOf(measures[0]);
  const line = topLine(staves[0]);
  const top = topLine(staves[1]);
  if (line === null || top === null) return null;
  const row: Row = {
    line,
    top,
    base: tickBase(line, look.space),
    shift: tickRoom(look.space),
    oneStaff: staves.length === 2,
  };
  let count = 0;
  const children = raw.children.flatMap((one): readonly Shape[] => {
    if (isOf(one, 'measure')) {
      const bar = bars[count++];
      return bar === undefined ? [] : [redrawnMeasure(one, bar, count === 1, row, look, recounts)];
    }
    if (isOf(one, 'ending')) return [trimmedEnding(one, line)];
    if (one.name === 'path') return [trimmedEdge(one, top, row.oneStaff)].filter((edge) => edge !== null);
    return [one];
  });
  return {
    shape: { ...raw, attributes: { class: 'system' }, children },
    bars: count,
    reach: reachOf(staves, look.space),
    base: row.base,
  };
};

/**
 * Boxes that say nothing of what is drawn here: those of whole systems and bars reach over the click line as it was, and
 * the box of a slur or tie that goes on in the next system lies down there. Their curves are measured themselves.
 */
const unreliable = ['system', 'measure', 'barLine', 'slur', 'tie'];

const withoutUnreliableBoxes = (one: Shape): Shape => ({
  ...one,
  children: one.children
    .filter((inner) => !(isOf(inner, 'bounding-box') && unreliable.some((word) => isOf(inner, word))))
    .map(withoutUnreliableBoxes),
});

/**
 * Cuts what the engraver drew. Error: `engraving-failed` where it is not as expected: bars missing, or a system without
 * its staves.
 */
export const cutPictures = (
  pictures: readonly string[],
  sheet: SheetScore,
  look: ClickLook,
  ink: Omit<InkOptions, 'space'>,
): Result<CutPictures> => {
  const systems: BoxedSystem[] = [];
  const glyphs = new Map<string, Shape>();
  const recounts = new Recounts(sheet);
  const recountIds = new Set(sheet.ticks.map(({ element }) => element));
  const ids = new Set([...ink.ids, ...recountIds, ...sheet.score.bars.map(({ index }) => barId(index))]);
  let next = 0;
  for (const picture of pictures) {
    const read = readSvg(picture);
    if (!read.ok) return read;
    for (const { name, children } of allOf(read.value, ({ name }) => name === 'defs'))
      if (name === 'defs') for (const one of children) glyphs.set(glyphName(one.attributes['id'] ?? ''), one);
    for (const raw of allOf(read.value, (one) => one.name === 'g' && classesOf(one).join(' ') === 'system')) {
      const cut = cutSystem(raw, sheet.score.bars.slice(next), look, recounts);
      if (cut === null) return fail('engraving-failed', 'The engraved page lacks its staves.');
      const extent = extentOf(withoutUnreliableBoxes(cut.shape), cut.reach);
      const shape = withGlyphNames(inked(cut.shape, { ...ink, ids, space: look.space }));
      systems.push({ shape, extent, first: next, bars: cut.bars, boxed: cut.shape, base: cut.base });
      next += cut.bars;
    }
  }
  if (next !== sheet.score.bars.length)
    return fail('engraving-failed', `${sheet.score.bars.length} bars were to be engraved, ${next} were.`);
  return ok({ systems, glyphs });
};
