/** What can be touched on a system of a screen: its bars, and the beats on which its ticks stand or could stand. */
import { barPlaces } from '../drill/barPlaces.ts';
import { notePlaces, type NotePlace } from '../drill/notePlaces.ts';
import { takenBars, type Taken } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { F, type Beats } from '../units/index.ts';
import { pointsOf } from './geometry.ts';
import type { SheetScore } from './sheetScore.ts';
import { measured, type Measured } from './skyline.ts';
import { allOf, isOf, type Shape } from './svg.ts';
import type { BoxedSystem } from './systems.ts';

/** A beat of a bar, or another place in it where it clicks. */
export interface ScreenBeat {
  /** As players count it: "2", "2+1/2". */
  readonly beat: string;
  /** From the picture's left edge, in hundredths of a millimetre. */
  readonly x: number;
  readonly clicked: boolean;
}

export interface ScreenBar {
  /** In the score, from 0. */
  readonly barIndex: number;
  /** As printed. */
  readonly number: string;
  /** From the picture's left edge, in hundredths of a millimetre. */
  readonly left: number;
  readonly right: number;
  /** From left to right. */
  readonly beats: readonly ScreenBeat[];
}

/** Half the width of a black note head in staff spaces (SMuFL 1.4, noteheadBlack). */
const headMiddle = 0.59;

/** A note or a rest that can be touched. Of a chord one, which stands for all. */
export interface ScreenNote extends NotePlace {
  /** Id of its element in the picture. */
  readonly element: string;
  readonly part: string;
  /** Staff and voice, as a marking names them: "1/2". */
  readonly note: string;
  readonly rest: boolean;
  /** Index of its staff on the page, from the top. */
  readonly staff: number;
  /** Middle of its head from the picture's left edge, and from the top of the system's own axis; hundredths of a millimetre. */
  readonly x: number;
  readonly y: number;
}

interface Anchor {
  /** On the sheet's axis. */
  readonly at: F.Fraction;
  readonly x: number;
}

/** x of a moment between those that are known. */
const between = (anchors: readonly Anchor[], at: F.Fraction): number => {
  const after = anchors.findIndex((one) => F.atMost(at, one.at));
  const right = anchors[after < 0 ? anchors.length - 1 : after];
  const left = anchors[after - 1];
  if (right === undefined) return 0;
  if (left === undefined || F.equal(left.at, right.at)) return right.x;
  const share = F.toNumber(F.div(F.sub(at, left.at), F.sub(right.at, left.at)));
  return left.x + share * (right.x - left.x);
};

/** Ticks of a bar: their places as counted, and where they stand. */
const ticksIn = (
  measure: Shape | undefined,
  { timeline }: WorkedDrill,
): readonly { beat: string; x: number }[] =>
  (measure === undefined ? [] : allOf(measure, (one) => one.name === 'g' && isOf(one, 'tick'))).flatMap(
    (tick) => {
      const [stroke] = tick.children;
      const click = timeline.clicks[Number((tick.attributes['id'] ?? '').replace('tick-', ''))];
      const x = stroke === undefined ? undefined : pointsOf(stroke)[0]?.x;
      return click === undefined || x === undefined || click.kind === 'count-in'
        ? []
        : [{ beat: click.beat, x }];
    },
  );

/** Notes and rests that stand alone or first in their chord, by element. */
const touchable = (
  worked: WorkedDrill,
  { notes }: SheetScore,
): ReadonlyMap<string, Omit<ScreenNote, 'x' | 'y' | 'staff'>> => {
  const placeOf = notePlaces(worked);
  const written = new Map(
    worked.score.parts.flatMap((part) => part.written.map((one) => [one.id, one] as const)),
  );
  return new Map(
    notes.flatMap(({ element, part, written: id }) => {
      const one = written.get(id);
      if (one === undefined || one.kind === 'grace' || one.chord || !one.printed) return [];
      const place = placeOf(one);
      if (place === null) return [];
      const note = { element, part, note: `${one.staff}/${one.voice}`, ...place, rest: one.kind === 'rest' };
      return [[element, note] as const];
    }),
  );
};

/** Finds the bars of systems again; bars of the count-in are no bars of the music. */
export class Touchables {
  readonly #worked: WorkedDrill;
  readonly #sheet: SheetScore;
  readonly #space: number;
  readonly #taken: readonly Taken[];
  readonly #onsets: ReadonlyMap<string, Beats>;
  readonly #notes: ReadonlyMap<string, Omit<ScreenNote, 'x' | 'y' | 'staff'>>;

  constructor(worked: WorkedDrill, sheet: SheetScore, space: number) {
    this.#worked = worked;
    this.#sheet = sheet;
    this.#space = space;
    this.#taken = takenBars(worked.round);
    this.#onsets = new Map(
      sheet.score.parts
        .filter(({ id }) => id !== sheet.clickPart)
        .flatMap(({ written }) => written)
        .filter(({ kind, wholeBar }) => kind !== 'grace' && !wholeBar)
        .map(({ id, onset }) => [id, onset]),
    );
    this.#notes = touchable(worked, sheet);
  }

  /** By staff, from left to right. */
  notes(system: BoxedSystem): readonly ScreenNote[] {
    const { stood } = measured(system.boxed, [], this.#space);
    return [...stood]
      .flatMap(([id, { left, y, staff }]): readonly ScreenNote[] => {
        const note = this.#notes.get(id);
        // The click line is the first staff.
        return note === undefined
          ? []
          : [{ ...note, staff: staff - 1, x: left + headMiddle * this.#space, y }];
      })
      .sort((a, b) => a.staff - b.staff || a.x - b.x);
  }

  bars(system: BoxedSystem): readonly ScreenBar[] {
    const at = measured(system.boxed, [], this.#space);
    const measures = system.boxed.children.filter((one) => isOf(one, 'measure'));
    return at.bars.flatMap(({ left, right }, i): readonly ScreenBar[] => {
      const taken = this.#taken[system.first + i - this.#sheet.countBars];
      const grid = taken === undefined ? undefined : this.#worked.grids[taken.source.index];
      if (taken === undefined || grid === undefined) return [];
      const ticks = ticksIn(measures[i], this.#worked);
      const anchors = this.#anchors(system.first + i, at, { left, right });
      const start = this.#sheet.score.bars[system.first + i]?.start ?? taken.start;
      const found = barPlaces(
        taken,
        grid,
        ticks.map(({ beat }) => beat),
      ).map(({ beat, offset }): ScreenBeat => {
        const tick = ticks.find((one) => one.beat === beat);
        const moment = F.add(start, F.sub(offset, taken.offset));
        return { beat, x: tick?.x ?? between(anchors, moment), clicked: tick !== undefined };
      });
      const { index, number } = taken.source;
      return [{ barIndex: index, number, left, right, beats: found }];
    });
  }

  /** What begins in a bar and where it stands, by time, between the bar's edges. */
  #anchors(index: number, { stood }: Measured, edge: { left: number; right: number }): readonly Anchor[] {
    const bar = this.#sheet.score.bars[index];
    if (bar === undefined) return [];
    const end = F.add(bar.start, bar.length);
    const byTime = new Map<string, Anchor>();
    for (const [id, { left }] of stood) {
      const at = this.#onsets.get(id);
      if (at === undefined || F.less(at, bar.start) || !F.less(at, end)) continue;
      const x = left + headMiddle * this.#space;
      const known = byTime.get(F.format(at));
      if (known === undefined || x < known.x) byTime.set(F.format(at), { at, x });
    }
    const inside = [...byTime.values()].sort((a, b) => F.compare(a.at, b.at));
    const begins = inside.some(({ at }) => F.equal(at, bar.start));
    const first: readonly Anchor[] = begins ? [] : [{ at: bar.start, x: edge.left + this.#space }];
    return [...first, ...inside, { at: end, x: edge.right }];
  }
}
