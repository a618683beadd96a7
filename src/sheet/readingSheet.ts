/** The pages of a drill with a reading pencilled on them: its clicks, its count-in, its first time through; words in a margin to the right. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { fail, ok, type Problem, type Result } from '../units/index.ts';
import { dressed } from './dress.ts';
import { Faces, familyList } from './faces.ts';
import { headText, type HeadText } from './headText.ts';
import { column } from './marginWords.ts';
import { composed, roomOn } from './pages.ts';
import { lastResort, margins, pageOf, type Page, type SheetOptions } from './paper.ts';
import { pencil, playerLine } from './pencil.ts';
import type { Engraved, Engraver, FontFace } from './ports.ts';
import { scaleMs, type ReadingMark, type ReadingMarks } from './readingMarks.ts';
import { pencilledReading, type PencilledReading } from './readingPencil.ts';
import type { FacesFor } from './sheet.ts';
import { sheetScore, type SheetNote, type SheetScore } from './sheetScore.ts';
import { svgText } from './svg.ts';
import { cutPictures, type CutPictures, type System } from './systems.ts';
import { paginated, stackHeight } from './turns.ts';

/** A reading on paper. */
export interface ReadingSheet {
  readonly title: string;
  /** Millimetres. */
  readonly page: Page;
  /** Height of a staff in millimetres. */
  readonly staff: number;
  /** SVG of each page; its unit is a hundredth of a millimetre. Each mark is an element with its id, a title and a desc. */
  readonly pages: readonly string[];
  readonly notes: readonly SheetNote[];
  readonly drawn: readonly ReadingMark[];
  readonly left: readonly ReadingMark[];
}

/** What the page says of itself. */
export interface ReadingPageWords {
  /** "Reading", where a part's name stands else. */
  readonly name: string;
  /** "early to the left, late to the right ..." */
  readonly manner: string;
  /** Names of the players, by part id. */
  readonly players: ReadonlyMap<string, string>;
  /** The unit of the scale: "ms". */
  readonly unit: string;
  /** What the question mark says; and, where there is one, the signs of what was heard roughly and of what was not found. */
  readonly unsure: string;
  readonly rough: string | null;
  readonly missing: string | null;
}

/** Staff heights to try. Our own choice: a page to look at may be smaller than one to play from. */
const staffs = (staves: number): readonly number[] => (staves <= 2 ? [6, 5] : [5.5, 5]);

/** Spaces between staves to try, in half staff spaces, until there is room for all marks. */
const gaps = [15, 20, 26, 32] as const;

/** Systems with their marks. */
export interface Laid {
  readonly pencilled: PencilledReading;
  readonly cut: CutPictures;
  readonly engraved: Engraved;
}

/** Width of a text in the faces that have its characters; half a font size for what none has. */
const widthIn =
  (faces: readonly FontFace[]) =>
  (text: string): number =>
    Array.from(text).reduce((sum, character) => {
      const code = character.codePointAt(0) ?? 0;
      const face = faces.find(({ covers }) => covers(code, 'regular'));
      return sum + (face?.width(character, 'regular') ?? 0.5);
    }, 0);

const headOf = (
  worked: WorkedDrill,
  said: ReadingPageWords,
  { words }: Pick<SheetOptions, 'words'>,
): HeadText => {
  const head = headText(worked, null, words);
  const players = worked.parts.flatMap(({ id }, i) => {
    const name = said.players.get(id);
    return name === undefined ? [] : [{ words: name, line: playerLine(i) }];
  });
  return {
    ...head,
    part: said.name,
    key: [
      ...players,
      { words: `${scaleMs} ${said.unit}`, line: { hue: pencil, dashes: [] } },
      { words: said.manner, line: null },
      { words: said.unsure, line: null },
      ...[said.rough, said.missing].flatMap((words) => (words === null ? [] : [{ words, line: null }])),
    ],
  };
};

/**
 * Makes the pages. Same drill, marks, options and engraver: same pictures. Errors: the engraver's, `system-too-tall`.
 */
export const makeReadingSheet = async (
  worked: WorkedDrill,
  marks: ReadingMarks,
  said: ReadingPageWords,
  options: SheetOptions,
  engraver: Engraver,
  faces: FacesFor,
): Promise<Result<ReadingSheet>> => {
  const page = pageOf(options);
  const width = page.width - margins.left - margins.right - column.width - column.gap;
  const sheet = sheetScore(worked, {
    parts: null,
    others: options.others,
    words: options.words?.inMusic ?? {},
  });
  const xml = dressed(writeMusicXml(sheet.score).text, sheet);
  const head = headOf(worked, said, options);
  const staves = sheet.score.parts.slice(1).reduce((sum, part) => sum + part.staves, 0);
  const sizes = options.staff === null ? [...staffs(staves), ...lastResort] : [options.staff];
  for (const staff of sizes) {
    const laid = await layOut(worked, sheet, xml, marks, {
      staff,
      width,
      engraver,
      widthOf: (musicFont) => widthIn(faces(musicFont)),
    });
    if (!laid.ok) return laid;
    const { pencilled, cut, engraved } = laid.value;
    const groups: readonly (readonly System[])[] | null =
      stackHeight(pencilled.systems) <= roomOn(page, head, false).first
        ? [pencilled.systems]
        : paginated(pencilled.systems, roomOn(page, head, true), () => 0);
    if (groups === null) continue;
    const list = faces(engraved.musicFont);
    const texts = new Faces(list);
    const pages = composed(groups, cut.glyphs, page, head, {
      text: list[0] === undefined ? 'serif' : familyList(list[0]),
      music: engraved.musicFont.family,
    }).map((one) => texts.applied(one));
    const problems: readonly Problem[] = [...sheet.problems, ...texts.missing()];
    return ok(
      {
        title: head.title,
        page,
        staff,
        pages: pages.map(svgText),
        notes: sheet.notes,
        drawn: pencilled.drawn,
        left: pencilled.left,
      },
      problems,
    );
  }
  return fail('system-too-tall', 'The staves of all parts together are higher than the paper, even small.');
};

export interface Laying {
  /** Height of a staff, and width of a system with the parts' names; millimetres. */
  readonly staff: number;
  readonly width: number;
  readonly engraver: Engraver;
  /** Width of a text, for words beside the music; null: none are drawn there. */
  readonly widthOf: ((musicFont: Engraved['musicFont']) => (text: string) => number) | null;
}

/** A mark that is left out is worse than any number of ticks that cross something. */
const crowding = ({ left, tight }: PencilledReading): number => 1000 * left.length + tight;

/** The tightest staves between which all marks have room; where none have, those that leave out fewest. */
export const layOut = async (
  worked: WorkedDrill,
  sheet: SheetScore,
  xml: string,
  marks: ReadingMarks,
  { staff, width, engraver, widthOf }: Laying,
): Promise<Result<Laid>> => {
  const space = (staff * 100) / 4;
  let best: Laid | null = null;
  for (const gap of gaps) {
    const engraved = await engraver.engrave(xml, { staff, width, gap });
    if (!engraved.ok) return engraved;
    const cut = cutPictures(
      engraved.value.pictures,
      sheet,
      { space, firsts: new Set(sheet.ticks.filter(({ first }) => first).map(({ element }) => element)) },
      {
        ids: new Set(sheet.notes.map(({ element }) => element)),
        grey: new Set(sheet.notes.filter(({ kept }) => !kept).map(({ element }) => element)),
      },
    );
    if (!cut.ok) return cut;
    const pencilled = pencilledReading(cut.value.systems, worked, sheet, marks, {
      space,
      column: (width + column.gap) * 100,
      widthOf: widthOf?.(engraved.value.musicFont) ?? (() => 0),
      beside: widthOf !== null,
    });
    if (best === null || crowding(pencilled) < crowding(best.pencilled))
      best = { pencilled, cut: cut.value, engraved: engraved.value };
    if (crowding(pencilled) === 0) break;
  }
  return best === null ? fail('engraving-failed', 'Nothing was engraved.') : ok(best);
};
