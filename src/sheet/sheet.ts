/** The page of a drill, from a worked drill to finished pictures of its pages. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { F, fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { dressed } from './dress.ts';
import { Faces, familyList } from './faces.ts';
import { headText, type HeadText } from './headText.ts';
import { composed, roomOn } from './pages.ts';
import {
  lastResort,
  margins,
  pageOf,
  staffRange,
  staffSizes,
  type Page,
  type SheetOptions,
} from './paper.ts';
import type { Engraved, Engraver, PdfMaker } from './ports.ts';
import { sheetScore, type SheetNote, type SheetScore, type SheetTick } from './sheetScore.ts';
import { allOf, svgText, type Shape } from './svg.ts';
import { cutPictures, type CutPictures, type System } from './systems.ts';
import { paginated, restAround, stackHeight, type TurnTime } from './turns.ts';

/** What the text fonts can draw, by preference. */
export type FacesFor = PdfMaker['faces'];

/** A drill's score or one of its parts, on paper. */
export interface Sheet {
  readonly title: string;
  /** "Score" or the part's name. */
  readonly name: string;
  /** Paper size in millimetres. */
  readonly page: Page;
  /** Height of a staff in millimetres. */
  readonly staff: number;
  /** SVG of each page; its unit is a hundredth of a millimetre. */
  readonly pages: readonly string[];
  /** Every written note, rest and grace note on the pages; each is exactly one element. */
  readonly notes: readonly SheetNote[];
  readonly ticks: readonly SheetTick[];
}

interface Laid {
  readonly staff: number;
  readonly cut: CutPictures;
  readonly engraved: Engraved;
  readonly groups: readonly (readonly System[])[] | null;
}

const turnTimes = (worked: WorkedDrill, sheet: SheetScore): TurnTime => {
  const pace = F.toNumber(worked.timeline.tempo.sections[0]?.from ?? F.one);
  const players = sheet.score.parts.filter(({ id }) => id !== sheet.clickPart);
  return (bar) => pace * F.toNumber(restAround(players, sheet.score.bars, bar));
};

/** Elements that are not there exactly once, told by bar. */
const lostNotes = (pages: readonly Shape[], notes: readonly SheetNote[]): readonly Problem[] => {
  const counts = new Map<string, number>();
  for (const page of pages)
    for (const { attributes } of allOf(page, ({ attributes }) => 'id' in attributes)) {
      const id = attributes['id'] ?? '';
      counts.set(id, (counts.get(id) ?? 0) + 1);
    }
  const lost = new Map<string, SheetNote[]>();
  for (const note of notes) {
    if (counts.get(note.element) === 1) continue;
    const key = `${note.part} ${note.bar}`;
    lost.set(key, [...(lost.get(key) ?? []), note]);
  }
  return [...lost.values()].flatMap((row) => {
    const [first] = row;
    if (first === undefined) return [];
    const what =
      row.length === 1 ? 'One written note or rest is' : `${row.length} written notes or rests are`;
    return [
      problem('note', 'note-not-engraved', `${what} missing from the page.`, {
        part: first.part,
        bar: first.bar,
      }),
    ];
  });
};

const layOut = async (
  worked: WorkedDrill,
  sheet: SheetScore,
  head: HeadText,
  xml: string,
  page: Page,
  staff: number,
  engraver: Engraver,
): Promise<Result<Laid>> => {
  const width = page.width - margins.left - margins.right;
  const engraved = await engraver.engrave(xml, { staff, width });
  if (!engraved.ok) return engraved;
  const notes = sheet.notes.map(({ element }) => element);
  const cut = cutPictures(
    engraved.value.pictures,
    sheet,
    {
      space: (staff * 100) / 4,
      firsts: new Set(sheet.ticks.filter(({ first }) => first).map(({ element }) => element)),
    },
    {
      ids: new Set(notes),
      grey: new Set(sheet.notes.filter(({ kept }) => !kept).map(({ element }) => element)),
    },
  );
  if (!cut.ok) return cut;
  const { systems } = cut.value;
  const alone = roomOn(page, head, false);
  const groups =
    stackHeight(systems) <= alone.first
      ? [systems]
      : paginated(systems, roomOn(page, head, true), turnTimes(worked, sheet));
  return ok({ staff, cut: cut.value, engraved: engraved.value, groups });
};

/** With more pages than this, smaller staves save no turn that matters. */
const worthTrying = 4;

/** The staff size with the fewest pages, of those the largest; where a system is higher than a page, ever smaller ones. */
const bestLayout = async (
  sizes: readonly number[],
  lay: (staff: number) => Promise<Result<Laid>>,
): Promise<Result<Laid>> => {
  let best: { readonly laid: Laid; readonly pages: number } | null = null;
  for (const staff of [...sizes, ...lastResort]) {
    if (best !== null && (lastResort.includes(staff) || best.pages === 1 || best.pages > worthTrying)) break;
    const laid = await lay(staff);
    if (!laid.ok) return laid;
    const pages = laid.value.groups?.length ?? Infinity;
    if (pages < (best?.pages ?? Infinity)) best = { laid: laid.value, pages };
  }
  return best === null
    ? fail(
        'system-too-tall',
        'The staves of all parts together are higher than the paper, even small. Choose fewer parts, or upright paper.',
      )
    : ok(best.laid);
};

/**
 * Makes the page of a drill: its score (`part` null) or one part's. `faces`: what the text fonts can draw, by
 * preference. Same drill, options and engraver: same pictures. Errors: the engraver's, `part-unknown`,
 * `staff-out-of-range`, `system-too-tall`.
 */
export const makeSheet = async (
  worked: WorkedDrill,
  part: string | null,
  options: SheetOptions,
  engraver: Engraver,
  faces: FacesFor,
): Promise<Result<Sheet>> => {
  const own = worked.parts.find(({ id }) => id === part);
  if (part !== null && own === undefined)
    return fail('part-unknown', `There is no part "${part}" in this drill.`);
  const { least, most } = staffRange;
  if (options.staff !== null && !(options.staff >= least && options.staff <= most))
    return fail(
      'staff-out-of-range',
      `A staff ${options.staff} mm high cannot be engraved: from ${least} to ${most} mm is taken.`,
    );
  const page = pageOf(options);
  const only = own ?? (worked.parts.length === 1 ? worked.parts[0] : undefined);
  const name = only === undefined ? null : only.name === '' ? only.id : only.name;
  const head = headText(worked, name, options.words);
  const sheet = sheetScore(worked, {
    parts: part === null ? null : [part],
    others: options.others,
    words: options.words?.inMusic ?? {},
  });
  const music = writeMusicXml(sheet.score);
  const xml = dressed(music.text, sheet);
  const staves = sheet.score.parts.slice(1).reduce((sum, each) => sum + each.staves, 0);
  const sizes = options.staff === null ? staffSizes(staves) : [options.staff];
  const laid = await bestLayout(sizes, (staff) => layOut(worked, sheet, head, xml, page, staff, engraver));
  if (!laid.ok) return laid;
  const { cut, engraved, groups, staff } = laid.value;
  const { family } = engraved.musicFont;
  const list = faces(engraved.musicFont);
  const texts = new Faces(list);
  const pages = composed(groups ?? [], cut.glyphs, page, head, {
    text: list[0] === undefined ? 'serif' : familyList(list[0]),
    music: family,
  }).map((one) => texts.applied(one));
  return ok(
    {
      title: head.title,
      name: head.part,
      page,
      staff,
      pages: pages.map(svgText),
      notes: sheet.notes,
      ticks: sheet.ticks,
    },
    [...music.problems, ...sheet.problems, ...lostNotes(pages, sheet.notes), ...texts.missing()],
  );
};
