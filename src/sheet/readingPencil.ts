/** The marks of a reading pencilled on systems: hand-overs, arrows and numbers, notes, and the words beside. Nothing that is engraved is moved. */
import { takenBars } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { noteMark } from './displacement.ts';
import { joined, type Extent } from './geometry.ts';
import { wordsBeside } from './marginWords.ts';
import { Moments } from './moments.ts';
import { paceArrow, wordNumber, type Sky } from './overBars.ts';
import { playerLine } from './pencil.ts';
import type { MarkBars, MarkNote, ReadingMark, ReadingMarks } from './readingMarks.ts';
import { seamShape } from './seamTicks.ts';
import { seamWords } from './seamWords.ts';
import type { SheetScore } from './sheetScore.ts';
import { measured, meets, staffParts, type Box, type Measured } from './skyline.ts';
import { shape, type Shape } from './svg.ts';
import type { BoxedSystem, System } from './systems.ts';

export interface PencilledReading {
  readonly systems: readonly System[];
  readonly drawn: readonly ReadingMark[];
  /** Marks for which there was no room, or whose place is on no page. */
  readonly left: readonly ReadingMark[];
  /** Hand-overs whose tick crosses what is engraved, for want of room. */
  readonly tight: number;
}

export interface PencilOptions {
  /** Distance of two staff lines, and where the column of words begins, in hundredths of a millimetre. */
  readonly space: number;
  readonly column: number;
  /** Width of a text as a share of its font size. */
  readonly widthOf: (text: string) => number;
  /** Whether words are drawn beside the music; their numbers on it are in any case. */
  readonly beside: boolean;
}

interface Opened {
  readonly system: BoxedSystem;
  readonly at: Measured;
  readonly shapes: Shape[];
  readonly taken: Box[];
}

/** How far below the lowest staff marks may stand, in staff spaces. */
const deepest = 12;
/** Ticks reach so far above the line that they stand on, in staff spaces. */
const tickHeight = 2.6;

/** Where things of a reading stand on a sheet. */
class Places {
  readonly #elements = new Map<string, string>();
  readonly #bars = new Map<string, number>();

  constructor(worked: WorkedDrill, sheet: SheetScore) {
    for (const { element, part, note, pass } of sheet.notes) {
      const key = `${part}/${note ?? ''}/${pass}`;
      if (note !== null && !this.#elements.has(key)) this.#elements.set(key, element);
    }
    takenBars(worked.round).forEach(({ source, pass }, i) => {
      const key = `${source.index}/${pass}`;
      if (!this.#bars.has(key)) this.#bars.set(key, i + sheet.countBars);
    });
  }

  /** Id of a note's first element; null where it is on no page. */
  element({ part, note, pass }: MarkNote): string | null {
    return this.#elements.get(`${part}/${note}/${pass}`) ?? null;
  }

  /** Index of a bar of the sheet. */
  bar({ barIndex, pass }: MarkBars): number | null {
    return this.#bars.get(`${barIndex}/${pass}`) ?? null;
  }
}

/** Pencils the marks of a reading on the systems of its drill. */
export const pencilledReading = (
  systems: readonly BoxedSystem[],
  worked: WorkedDrill,
  sheet: SheetScore,
  marks: ReadingMarks,
  { space, column, widthOf, beside: drawsWords }: PencilOptions,
): PencilledReading => {
  const parts = staffParts(sheet);
  const players = worked.parts.map(({ id }) => id);
  const places = new Places(worked, sheet);
  const moments = new Moments(sheet);
  const onsets = new Map(
    sheet.score.parts.flatMap(({ written }) => written.map(({ id, onset }) => [id, onset] as const)),
  );
  const opened = systems.map((system): Opened => ({
    system,
    at: measured(system.boxed, parts, space),
    shapes: [],
    taken: [],
  }));
  const drawn: ReadingMark[] = [];
  const left: ReadingMark[] = [];
  let tight = 0;
  const put = (where: Opened, mark: ReadingMark, one: Shape, boxes: readonly Box[]): void => {
    where.shapes.push(one);
    where.taken.push(...boxes);
    drawn.push(mark);
  };
  const withNote = (element: string | null): Opened | undefined =>
    element === null ? undefined : opened.find(({ at }) => at.stood.has(element));
  const withBar = (bar: number | null): Opened | undefined =>
    bar === null
      ? undefined
      : opened.find(({ system: { first, bars } }) => first <= bar && bar < first + bars);
  const skyOf = ({ system, at, taken }: Opened): Sky => ({
    boxes: [...at.boxes, ...taken],
    floor: Math.min(at.staves[0]?.top ?? 0, system.base - tickHeight * space),
  });

  for (const mark of marks.seams) {
    const element = places.element(mark);
    const [where, onset] = [withNote(element), element === null ? undefined : onsets.get(element)];
    const tick =
      where === undefined || onset === undefined
        ? null
        : seamShape(
            { id: `${mark.id}-tick`, at: onset, from: mark.from, to: mark.part },
            where,
            moments,
            players,
            space,
          );
    const words = where === undefined || tick === null ? null : seamWords(mark, tick, where, space);
    if (where === undefined || tick === null || words === null) {
      left.push(mark);
      continue;
    }
    if (where.at.boxes.some((box) => meets(box, tick.box))) tight += 1;
    put(where, mark, words.drawn, words.boxes);
  }
  // Numbers stand lowest, arrows above them; both before the notes, whose marks are below the staves.
  const rings = new Map<number, number>();
  for (const mark of marks.words) {
    const bar = places.bar(mark);
    const where = withBar(bar);
    const box = where === undefined || bar === null ? undefined : where.at.bars[bar - where.system.first];
    const before = rings.get(bar ?? -1) ?? 0;
    const over =
      where === undefined || box === undefined
        ? null
        : wordNumber(mark, box.left, before, skyOf(where), space);
    rings.set(bar ?? -1, before + 1);
    if (where === undefined) {
      left.push(mark);
      continue;
    }
    drawn.push(mark);
    if (over === null) continue;
    where.shapes.push(over.drawn);
    where.taken.push(over.box);
  }
  for (const mark of marks.arrows) {
    const bar = places.bar(mark);
    const where = withBar(bar);
    const first = where === undefined || bar === null ? -1 : bar - where.system.first;
    const from = where?.at.bars[first];
    const to = where?.at.bars[Math.min(first + mark.bars - 1, where.system.bars - 1)];
    const over =
      where === undefined || from === undefined || to === undefined
        ? null
        : paceArrow(mark, { left: from.left, right: to.right }, skyOf(where), space);
    if (where === undefined || over === null) left.push(mark);
    else put(where, mark, over.drawn, [over.box]);
  }
  for (const mark of marks.notes) {
    const element = places.element(mark);
    const where = withNote(element);
    const stood = element === null ? undefined : where?.at.stood.get(element);
    const placed =
      where === undefined || stood === undefined
        ? null
        : noteMark(mark, stood, where, playerLine(players.indexOf(mark.part)), space, deepest);
    if (where === undefined || placed === null) left.push(mark);
    else put(where, mark, placed.drawn, [placed.box]);
  }
  return {
    systems: opened.map(({ system, shapes, taken }): System => {
      const pencilled = taken.reduce<Extent>(
        (all, { top, bottom }) => joined(all, { top, bottom }),
        system.extent,
      );
      const own = marks.words.filter((mark) => {
        const bar = places.bar(mark);
        return drawsWords && bar !== null && system.first <= bar && bar < system.first + system.bars;
      });
      const beside = wordsBeside(own, column, pencilled.top, widthOf);
      return {
        shape: {
          ...system.shape,
          children: [
            ...system.shape.children,
            shape('g', { class: 'pencil' }, shapes),
            ...(own.length === 0 ? [] : [shape('g', { class: 'margin' }, beside.shapes)]),
          ],
        },
        extent: joined(pencilled, beside.extent),
        first: system.first,
        bars: system.bars,
      };
    }),
    drawn,
    left,
    tight,
  };
};
