/** Pages of a score by name, for one who wants a few of them and not the whole folder. */
import { ok, type Problem, type Result } from '../units/index.ts';
import type { PieceSettings } from './fitScore.ts';
import { toldPlaces } from './find.ts';
import { holdPiece, liveDrill, type HeldPiece } from './live.ts';
import { findPages } from './placesPages.ts';
import type { FileToWrite } from './ports.ts';
import { eachOnce } from './readOnce.ts';
import type { DrillRequest } from './request.ts';
import { makeSheets, usualSheet, type SheetOptions, type SheetPorts } from './sheet.ts';
import type { TellingLanguage } from './words/language.ts';
import { sheetWords } from './words/sheet.ts';

/** The pages of all places; in the folder of `levare find`. */
const placesFile = 'places.pdf';

/** Hz; no page depends on it. */
const anyRate = 48_000;

const placesOf = async (
  { read }: HeldPiece,
  names: readonly string[],
  ports: SheetPorts,
  options: SheetOptions,
): Promise<Result<readonly FileToWrite[]>> => {
  if (!names.includes(placesFile)) return ok([]);
  const asked = { bars: null, parts: null, kind: null };
  const told = toldPlaces(read, asked);
  if (!told.ok) return told;
  const piece = { read, told: told.value, problems: told.problems };
  const made = await findPages(piece, asked, null, ports, options);
  return made.ok
    ? ok(
        made.value.files.filter(({ name }) => name === placesFile),
        made.problems,
      )
    : made;
};

const sheetsOf = async (
  piece: HeldPiece,
  request: DrillRequest,
  names: readonly string[],
  ports: SheetPorts,
  options: SheetOptions,
): Promise<Result<readonly FileToWrite[]>> => {
  if (names.every((name) => name === placesFile)) return ok([]);
  const worked = liveDrill(piece, request, anyRate);
  if (!worked.ok) return worked;
  const made = await makeSheets(worked.value.worked, ports, options, names);
  return made.ok ? ok(made.value.files, made.problems) : made;
};

/**
 * Pages of a drill ("score.pdf" and those of the parts, as `pageFiles` names them) and of the piece's places ("places.pdf"),
 * those of them that are named, in a language: the same bytes as in the folders of the command line. Errors: the readers', the drill's and the
 * pages'.
 */
export const printPages = async (
  bytes: Uint8Array,
  settings: PieceSettings,
  request: DrillRequest,
  names: readonly string[],
  ports: SheetPorts,
  language: TellingLanguage = 'en',
): Promise<Result<readonly FileToWrite[]>> => {
  const options: SheetOptions = { ...usualSheet, words: sheetWords[language] };
  const piece = holdPiece(bytes, settings);
  if (!piece.ok) return piece;
  const files: FileToWrite[] = [];
  const problems: Problem[] = [];
  for (const made of [
    await sheetsOf(piece.value, request, names, ports, options),
    await placesOf(piece.value, names, ports, options),
  ]) {
    if (!made.ok) return made;
    files.push(...made.value);
    problems.push(...made.problems);
  }
  return ok(files, eachOnce(problems));
};
