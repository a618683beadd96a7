/** Pages of a score with the places found in it, as files: `places.pdf`, and one SVG for each page. */
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import { findBars } from '../rhythm/passage.ts';
import type { Score } from '../score/model.ts';
import {
  makePlacesSheet,
  usualSheet,
  type PlaceMark,
  type PlacesWords,
  type SheetOptions,
} from '../sheet/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { toldPlaces, type FindTexts, type FoundPlaces, type ToldPlace } from './find.ts';
import { markOf, numbered, smallKinds } from './placeMarks.ts';
import type { FileToWrite } from './ports.ts';
import { eachOnce, readPiece, type ReadPiece } from './readOnce.ts';
import { usualDrill } from './request.ts';
import type { SheetPorts } from './sheet.ts';
import type { TellingLanguage } from './words/language.ts';
import { placesTexts } from './words/sheet.ts';

/** Most places on the pages unless more are asked for: as many as the list in words tells one by one. */
export const usualMost = 30;

/** Pages that were made. */
export interface FindPages {
  readonly files: readonly FileToWrite[];
  /** Marks on the pages, and those that stand on none. */
  readonly drawn: readonly PlaceMark[];
  readonly left: readonly PlaceMark[];
}

/** Bars of a score in written order, each once, as a drill without clicks. Errors: those of `findBars` and of a drill. */
export const writtenRound = (score: Score, bars: string | null): Result<WorkedDrill> => {
  const all = bars === null || bars.trim().toLowerCase() === 'all';
  const span = all ? ok({ first: 0, last: score.bars.length - 1 }) : findBars(score, bars);
  if (!span.ok) return span;
  const straight: Score = {
    ...score,
    bars: score.bars.map((bar) => ({
      ...bar,
      repeatStart: false,
      repeatEnd: 0,
      repeatAfterJump: false,
      ending: null,
      jumps: [],
    })),
  };
  const { first, last } = span.value;
  const drill = {
    ...usualDrill,
    format: 'levare.drill/2',
    score: { sha256: '', title: score.title, file: '' },
    bars: all ? 'all' : `@${first}-@${last}`,
    click: 'none',
    countIn: 'none',
    upbeat: 'none',
    holds: 'through',
  } as const;
  return workOut(straight, drill, 48_000);
};

const languageOf = (options: SheetOptions | null): TellingLanguage =>
  options?.words?.language === 'de' ? 'de' : 'en';

const noStaves = (): Result<never> =>
  fail('places-no-staves', 'This score has bars but no parts: there is no page to pencil places on.');

/** Pages with any marks. Errors: those of `writtenRound` and of the pages, `places-no-staves`. */
export const pagesWith = async (
  score: Score,
  bars: string | null,
  marks: readonly PlaceMark[],
  said: PlacesWords,
  ports: SheetPorts,
  options: SheetOptions = usualSheet,
): Promise<Result<FindPages>> => {
  if (score.parts.length === 0) return noStaves();
  const worked = writtenRound(score, bars);
  if (!worked.ok) return worked;
  const own = languageOf(options);
  const texts = placesTexts[own];
  const sheet = await makePlacesSheet(
    worked.value,
    score,
    marks,
    said,
    options,
    ports.engraver,
    ports.pdf.faces,
  );
  if (!sheet.ok) return sheet;
  const { title, page, pages, drawn, left } = sheet.value;
  const pdf = await ports.pdf.make(
    pages.map((svg) => ({ svg })),
    { title: title === '' ? texts.title : `${title} – ${texts.places}`, language: own, ...page },
  );
  if (!pdf.ok) return pdf;
  const file = (name: string, bytes: Uint8Array): FileToWrite => ({
    name,
    chunks: [bytes],
    size: bytes.length,
  });
  const encoder = new TextEncoder();
  const digits = String(pages.length).length;
  const files = [
    file('places.pdf', pdf.value),
    ...pages.map((svg, i) => file(`places-${String(i + 1).padStart(digits, '0')}.svg`, encoder.encode(svg))),
  ];
  return ok({ files, drawn, left }, eachOnce([...sheet.problems, ...pdf.problems]));
};

/** What stands on no page, in a sentence. */
const leftOut = (left: readonly PlaceMark[]): readonly Problem[] =>
  left.length === 0
    ? []
    : [
        problem(
          'note',
          'place-not-drawn',
          `No room on the page for ${left.map(({ label }) => label).join(', ')}: the list has ${left.length === 1 ? 'it' : 'them'}; --bars, --parts or --kind chooses fewer.`,
        ),
      ];

/** A score that has been read, and its places that were asked for. */
export interface ToldPiece {
  readonly read: ReadPiece;
  /** Heaviest first. */
  readonly told: readonly ToldPlace[];
  readonly problems: readonly Problem[];
}

/** The places of a score in any known format. Errors: the readers' and those of `toldPlaces`. */
export const toldIn = (bytes: Uint8Array, asked: FindTexts): Result<ToldPiece> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const told = toldPlaces(read.value, asked);
  return told.ok ? ok({ read: read.value, told: told.value, problems: told.problems }) : told;
};

/** How many places at most, as typed; null: as usual. Error: `number-unknown`. */
export const mostOf = (text: string | undefined): Result<number | null> => {
  if (text === undefined || text.trim() === 'all') return ok(text === undefined ? null : Infinity);
  const value = /^\s*\d{1,6}\s*$/.test(text) ? Number(text) : 0;
  return value > 0
    ? ok(value)
    : fail('number-unknown', `"${text}" is not a number of places: it is written as 12, or all.`);
};

/** As `placesIn`; `most`: the heaviest so many only, null: all. */
export const foundOf = ({ told, problems }: ToldPiece, most: number | null): FoundPlaces => ({
  format: 'levare.find/1',
  places: told.slice(0, most ?? undefined).map(({ printed }) => printed),
  problems,
});

/**
 * The pages of places that were told; `most`: the heaviest so many, null: 30. Kinds of little weight stand there only where they were asked for by
 * name. `options` null: as usual. Same score and request: same bytes. Errors: those of `pagesWith`.
 */
export const findPages = async (
  { read, told }: ToldPiece,
  asked: FindTexts,
  most: number | null,
  ports: SheetPorts,
  options: SheetOptions | null = null,
): Promise<Result<FindPages>> => {
  const all = numbered(told);
  const kinds = asked.kind?.trim() ?? 'all';
  const wanted = kinds === 'all' ? all.filter(({ place }) => !smallKinds.includes(place.kind)) : all;
  const marks = wanted.slice(0, most ?? usualMost).map((place, i) => markOf(place, i, read.score));
  const rest = wanted.length - marks.length;
  const texts = placesTexts[languageOf(options)];
  const manner = rest === 0 ? texts.count(marks.length) : texts.some(marks.length, wanted.length);
  const made = await pagesWith(
    read.score,
    asked.bars,
    marks,
    { manner, key: [] },
    ports,
    options ?? usualSheet,
  );
  return made.ok ? ok(made.value, [...made.problems, ...leftOut(made.value.left)]) : made;
};
