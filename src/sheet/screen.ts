/** The music of a drill for a screen: its systems one by one, without the head and the paper of a printed page. */
import { drillStretch, type PageStretch } from '../drill/drillStretch.ts';
import { takenBars } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Score } from '../score/model.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { F, ok, type Problem, type Result } from '../units/index.ts';
import { asStretch } from './asStretch.ts';
import { dressed } from './dress.ts';
import { pencilled, type PencilledPage } from './brackets.ts';
import { inWords, sheetPlaces, type PlaceMark } from './placeMarks.ts';
import type { Engraved, Engraver } from './ports.ts';
import {
  recountId,
  sheetScore,
  type PageWords,
  type SheetNote,
  type SheetScore,
  type SheetScoreOptions,
} from './sheetScore.ts';
import { tickId } from './clickLine.ts';
import { figure, shape, svgText, type Shape } from './svg.ts';
import { cutPictures, type BoxedSystem, type System } from './systems.ts';
import { goesOnInMetre, withoutFirstMetre, withSigns } from './written.ts';
import { Touchables, type ScreenBar, type ScreenNote } from './touch.ts';

/** How the music is engraved for a screen; millimetres, which the screen draws at a scale of its own. */
export interface ScreenOptions {
  /** Height of a staff, 3.6 to 9.6. */
  readonly staff: number;
  /** Width of a system with the parts' names. */
  readonly width: number;
  /** Count words, and words in the labels of places, in the players' language; English ones that are not here stay. */
  readonly words?: PageWords;
}

/** One system as a picture of its own, in hundredths of a millimetre. */
export interface ScreenSystem {
  /** Its signs are drawn with those of `Screen.signs`. */
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** Printed numbers of its first and last bar; empty where it holds nothing but the count-in. */
  readonly from: string;
  readonly to: string;
  /** Its bars, the count-in's not among them. */
  readonly bars: readonly ScreenBar[];
  /** Its notes and rests, by staff, from left to right; y from the picture's top. */
  readonly heads: readonly ScreenNote[];
  /** From the picture's top to where its ticks stand. */
  readonly tickLine: number;
  /** Ids of the places that are pencilled on it. */
  readonly places: readonly string[];
}

export interface Screen {
  /** A picture that shows nothing and holds the music signs of all systems, by id. */
  readonly signs: string;
  readonly systems: readonly ScreenSystem[];
  readonly notes: readonly SheetNote[];
  /** Ids of places for which there was no room. */
  readonly left: readonly string[];
  readonly musicFont: Engraved['musicFont'];
}

/** Air around what a system draws. */
const air = 60;

const xmlns = 'http://www.w3.org/2000/svg';

/**
 * For each of the timeline's clicks the id of its tick on the page. Later repetitions pass over the ticks of the first: a click
 * belongs to the tick that stands as far from the beginning of the music as it does. Null where it stands on no page.
 */
export const ticksOf = ({ timeline }: WorkedDrill): readonly (string | null)[] => {
  const begins = new Map<number, F.Fraction>();
  for (const { kind, rep, start } of timeline.bars)
    if (kind === 'bar' && !begins.has(rep)) begins.set(rep, start);
  const place = (at: F.Fraction, rep: number): string => F.format(F.sub(at, begins.get(rep) ?? F.zero));
  const holds = timeline.bars.filter(({ kind, rep }) => kind === 'hold' && rep === 1);
  const drawn = (at: F.Fraction, click: number): string => {
    const hold = holds.findIndex(
      ({ start, length }) => F.atMost(start, at) && F.less(at, F.add(start, length)),
    );
    return hold < 0 ? tickId(click) : recountId(hold);
  };
  const ofFirst = new Map<string, string>();
  for (const [i, { at, rep }] of timeline.clicks.entries())
    if (rep === 1) ofFirst.set(place(at, rep), drawn(at, i));
  return timeline.clicks.map(({ at, rep }) => ofFirst.get(place(at, rep)) ?? null);
};

/** A system as a picture of its own: `height` and `top` in hundredths of a millimetre, `width` as given. */
export const picture = (
  { shape: drawn, extent }: System,
  width: number,
): { svg: Shape; height: number; top: number } => {
  const top = extent.top - air;
  const height = extent.bottom + air - top;
  const svg = shape('svg', { xmlns, viewBox: `0 ${figure(top)} ${figure(width)} ${figure(height)}` }, [
    drawn,
  ]);
  return { svg, height, top };
};

interface Drawn {
  readonly cut: readonly BoxedSystem[];
  readonly page: PencilledPage;
  readonly glyphs: ReadonlyMap<string, Shape>;
  readonly musicFont: Engraved['musicFont'];
}

/** Space between staves where brackets need more, in half staff spaces; our own choice by eye. */
const widerGap = 17;

/** A drill's sheet and its MusicXML, and which drill is on it. */
interface Prepared {
  readonly worked: WorkedDrill;
  readonly sheet: SheetScore;
  readonly xml: string;
  readonly problems: readonly Problem[];
}

const prepared = (
  worked: WorkedDrill,
  options: Partial<SheetScoreOptions>,
  shown: (sheet: SheetScore) => SheetScore,
  sameMetre: boolean,
): Prepared => {
  const sheet = shown(sheetScore(worked, { parts: null, others: 'grey', ...options }));
  const music = writeMusicXml(sheet.score);
  const xml = dressed(music.text, sheet);
  return {
    worked,
    sheet,
    xml: sameMetre ? withoutFirstMetre(xml) : xml,
    problems: [...music.problems, ...sheet.problems],
  };
};

/**
 * Engraves a drill for a screen; notes that the line filter leaves out are small and grey; `marks` are pencilled in.
 * Same drill, options and engraver: same pictures. Errors: the engraver's, and `engraving-failed` where its picture is not
 * as expected.
 */
export const makeScreen = (
  worked: WorkedDrill,
  options: ScreenOptions,
  engraver: Engraver,
  marks: readonly PlaceMark[] = [],
): Promise<Result<Screen>> =>
  engravedScreen(
    prepared(worked, { words: options.words ?? {} }, (sheet) => sheet, false),
    options,
    engraver,
    marks,
  );

/** Engraves some bars of a drill's page, as `makeScreen` engraves all; ticks keep the ids that they have on the whole page. */
export const makeScreenStretch = (
  whole: WorkedDrill,
  bars: PageStretch,
  options: ScreenOptions,
  engraver: Engraver,
  marks: readonly PlaceMark[] = [],
): Promise<Result<Screen>> => {
  const stretch = drillStretch(whole, bars);
  const { firstRecount, newTempo: openingTempo, sameMetre } = stretch;
  const own = { words: options.words ?? {}, firstRecount, openingTempo };
  const shown = (sheet: SheetScore): SheetScore => asStretch(sheet, whole, bars, stretch);
  return engravedScreen(prepared(stretch.worked, own, shown, sameMetre), options, engraver, marks);
};

/** Engraves a stretch of a score as it is written (`workOutStretch`), with the signs that `written` has there. */
export const makeWrittenScreen = (
  worked: WorkedDrill,
  options: ScreenOptions,
  engraver: Engraver,
  written: Score,
): Promise<Result<Screen>> => {
  const from = takenBars(worked.round)[0]?.source.index ?? 0;
  const shown = (sheet: SheetScore): SheetScore => withSigns(sheet, worked, written);
  return engravedScreen(prepared(worked, {}, shown, goesOnInMetre(written, from)), options, engraver, []);
};

const engravedScreen = async (
  { worked, sheet, xml, problems }: Prepared,
  { staff, width, words = {} }: ScreenOptions,
  engraver: Engraver,
  marks: readonly PlaceMark[],
): Promise<Result<Screen>> => {
  const places = sheetPlaces(
    worked,
    sheet,
    marks.map((mark) => inWords(mark, words)),
  );
  const drawOnce = async (gap?: number): Promise<Result<Drawn>> => {
    const size = gap === undefined ? { staff, width } : { staff, width, gap };
    const engraved = await engraver.engrave(xml, size);
    if (!engraved.ok) return engraved;
    const space = (staff * 100) / 4;
    const cut = cutPictures(
      engraved.value.pictures,
      sheet,
      {
        space,
        firsts: new Set(sheet.ticks.filter(({ first }) => first).map(({ element }) => element)),
      },
      {
        ids: new Set(sheet.notes.map(({ element }) => element)),
        grey: new Set(sheet.notes.filter(({ kept }) => !kept).map(({ element }) => element)),
      },
    );
    if (!cut.ok) return cut;
    const page = pencilled(cut.value.systems, sheet, places, space);
    return ok({
      cut: cut.value.systems,
      page,
      glyphs: cut.value.glyphs,
      musicFont: engraved.value.musicFont,
    });
  };
  const close = await drawOnce();
  if (!close.ok) return close;
  const wide = close.value.page.left.length === 0 ? null : await drawOnce(widerGap);
  if (wide !== null && !wide.ok) return wide;
  const { cut, page, glyphs, musicFont } = wide?.value ?? close.value;
  const { systems, seen, left } = page;
  const signs = [...glyphs].map(([id, glyph]) => ({
    ...glyph,
    attributes: { ...glyph.attributes, id },
  }));
  const touchables = new Touchables(worked, sheet, (staff * 100) / 4);
  return ok(
    {
      signs: svgText(shape('svg', { xmlns }, [shape('defs', {}, signs)])),
      systems: systems.map((system, i) => {
        const { svg, height, top } = picture(system, width * 100);
        const boxed = cut[i];
        const own = sheet.score.bars.slice(system.first, system.first + system.bars);
        const numbers = own.filter(({ index }) => index >= sheet.countBars).map(({ number }) => number);
        return {
          svg: svgText(svg),
          width: width * 100,
          height,
          from: numbers[0] ?? '',
          to: numbers.at(-1) ?? '',
          bars: boxed === undefined ? [] : touchables.bars(boxed),
          heads:
            boxed === undefined ? [] : touchables.notes(boxed).map((one) => ({ ...one, y: one.y - top })),
          tickLine: (boxed?.base ?? top) - top,
          places: (seen[i] ?? []).map(({ id }) => id),
        };
      }),
      notes: sheet.notes,
      left: left.map(({ id }) => id),
      musicFont,
    },
    problems,
  );
};
