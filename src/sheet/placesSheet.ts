/** The score with places pencilled on it, in written order: each bar once, with its repeat signs, without clicks. */
import { takenBars } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Bar, Score } from '../score/model.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { pencilled, type PencilledPage } from './brackets.ts';
import { dressed } from './dress.ts';
import { Faces, familyList } from './faces.ts';
import { headText, type HeadText } from './headText.ts';
import { composed, roomOn } from './pages.ts';
import { lastResort, margins, pageOf, type Page, type SheetOptions } from './paper.ts';
import { pencil, playerLine } from './pencil.ts';
import { inWords, sheetPlaces, type PlaceMark } from './placeMarks.ts';
import type { Engraved, Engraver } from './ports.ts';
import type { FacesFor } from './sheet.ts';
import { sheetScore, type SheetNote, type SheetScore } from './sheetScore.ts';
import { englishSheet, type SheetWords } from './sheetWords.ts';
import { svgText } from './svg.ts';
import { cutPictures, type CutPictures, type System } from './systems.ts';
import { paginated, stackHeight } from './turns.ts';

/** A score with its places, on paper. */
export interface PlacesSheet {
  readonly title: string;
  /** Millimetres. */
  readonly page: Page;
  /** Height of a staff in millimetres. */
  readonly staff: number;
  /** SVG of each page; its unit is a hundredth of a millimetre. */
  readonly pages: readonly string[];
  readonly notes: readonly SheetNote[];
  readonly drawn: readonly PlaceMark[];
  /** Places for which there was no room. */
  readonly left: readonly PlaceMark[];
}

/** What the page says of itself. */
export interface PlacesWords {
  /** What the brackets are: "12 places". */
  readonly manner: string;
  /** Lines explained beside those of the players who take over. */
  readonly key: readonly { readonly words: string; readonly line: 'plain' | 'dashed' }[];
}

/** Staff heights to try: a page to look things up on may be smaller than one to play from. Our own choice. */
const staffs = (staves: number): readonly number[] => (staves <= 2 ? [6.5, 5.5] : [5.5, 5]);

/** Spaces between staves to try, in half staff spaces, until there is room for all brackets. */
const gaps = [11, 17, 24] as const;

/** Repeat signs and endings as written, where the worked bars are each written bar once. */
const withRepeats = (sheet: SheetScore, worked: WorkedDrill, written: Score): SheetScore => {
  const sources = takenBars(worked.round);
  const bars = sheet.score.bars.map((bar, i): Bar => {
    const source = written.bars[sources[i - sheet.countBars]?.source.index ?? -1];
    if (source === undefined) return bar;
    const { repeatStart, repeatEnd, ending, barline } = source;
    return { ...bar, repeatStart, repeatEnd, ending, barline };
  });
  return { ...sheet, score: { ...sheet.score, bars } };
};

interface Laid {
  readonly staff: number;
  readonly pencilled: PencilledPage;
  readonly cut: CutPictures;
  readonly engraved: Engraved;
}

const layOut = async (
  sheet: SheetScore,
  places: ReturnType<typeof sheetPlaces>,
  width: number,
  staff: number,
  engraver: Engraver,
): Promise<Result<Laid>> => {
  const xml = dressed(writeMusicXml(sheet.score).text, sheet);
  const space = (staff * 100) / 4;
  let best: Laid | null = null;
  for (const gap of gaps) {
    const engraved = await engraver.engrave(xml, { staff, width, gap });
    if (!engraved.ok) return engraved;
    const cut = cutPictures(
      engraved.value.pictures,
      sheet,
      { space, firsts: new Set() },
      { ids: new Set(sheet.notes.map(({ element }) => element)), grey: new Set() },
    );
    if (!cut.ok) return cut;
    const page = pencilled(cut.value.systems, sheet, places, space);
    if (best === null || page.left.length < best.pencilled.left.length)
      best = { staff, pencilled: page, cut: cut.value, engraved: engraved.value };
    if (page.left.length === 0) break;
  }
  return best === null ? fail('engraving-failed', 'Nothing was engraved.') : ok(best);
};

const headOf = (
  worked: WorkedDrill,
  sheet: SheetScore,
  drawn: boolean,
  said: PlacesWords,
  own: SheetWords,
): HeadText => {
  const head = headText(worked, null, own);
  const players = sheet.score.parts.filter(({ id }) => id !== sheet.clickPart);
  const names = worked.parts.map(({ id, name }) => ({ id, name: name === '' ? id : name }));
  const takers = drawn
    ? players.map(({ id }, i) => ({
        words: names.find((one) => one.id === id)?.name ?? id,
        line: playerLine(i),
      }))
    : [];
  return {
    ...head,
    manner: said.manner,
    key: [
      ...said.key.map(({ words, line }) => ({
        words,
        line: { hue: pencil, dashes: line === 'dashed' ? [0.9, 0.6] : [] },
      })),
      ...(takers.length === 0 ? [] : [{ words: own.takesOver, line: null }, ...takers]),
    ],
  };
};

/**
 * Makes pages of a score with places pencilled on it. `worked`: the bars to show, each written bar once, no clicks; `written`: the score
 * as it is, for its repeat signs. Same score, marks and engraver: same pictures. Errors: the engraver's, `system-too-tall`.
 */
export const makePlacesSheet = async (
  worked: WorkedDrill,
  written: Score,
  marks: readonly PlaceMark[],
  said: PlacesWords,
  options: SheetOptions,
  engraver: Engraver,
  faces: FacesFor,
): Promise<Result<PlacesSheet>> => {
  const page = pageOf(options);
  const width = page.width - margins.left - margins.right;
  const plain = sheetScore(worked, { parts: null, others: 'rests' });
  const sheet = withRepeats(plain, worked, written);
  const own = options.words ?? englishSheet;
  const places = sheetPlaces(
    worked,
    sheet,
    marks.map((mark) => inWords(mark, own.inMusic)),
  );
  const head = headOf(
    worked,
    sheet,
    marks.some(({ seams }) => seams.length > 0),
    said,
    own,
  );
  const staves = sheet.score.parts.slice(1).reduce((sum, part) => sum + part.staves, 0);
  const sizes = options.staff === null ? [...staffs(staves), ...lastResort] : [options.staff];
  for (const staff of sizes) {
    const laid = await layOut(sheet, places, width, staff, engraver);
    if (!laid.ok) return laid;
    const { pencilled: drawn, cut, engraved } = laid.value;
    const groups: readonly (readonly System[])[] | null =
      stackHeight(drawn.systems) <= roomOn(page, head, false).first
        ? [drawn.systems]
        : paginated(drawn.systems, roomOn(page, head, true), () => 0);
    if (groups === null) continue;
    const list = faces(engraved.musicFont);
    const texts = new Faces(list);
    const pages = composed(groups, cut.glyphs, page, head, {
      text: list[0] === undefined ? 'serif' : familyList(list[0]),
      music: engraved.musicFont.family,
    }).map((one) => texts.applied(one));
    return ok(
      {
        title: head.title,
        page,
        staff,
        pages: pages.map(svgText),
        notes: sheet.notes,
        drawn: drawn.drawn,
        left: drawn.left,
      },
      [...plain.problems, ...texts.missing()],
    );
  }
  return fail('system-too-tall', 'The staves of all parts together are higher than the paper, even small.');
};
