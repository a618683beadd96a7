/** The whole folder of a drill: what is heard, what other programs read, and the pages for the stand. */
import type { Drill } from '../drill/model.ts';
import { ok, problem, type Problem, type Result } from '../units/index.ts';
import { asInScore } from './fitScore.ts';
import { makeDrill, type DrillFolder } from './makeDrill.ts';
import { markingsFile, markingsName } from './markingsFile.ts';
import type { WordsPort } from './ports.ts';
import type { DrillRequest, Making } from './request.ts';
import { makeSheets, type SheetPorts } from './sheet.ts';
import type { Marking } from './shelf/formats.ts';
import { markingText } from './shelf/records.ts';

export interface FolderPorts {
  readonly words: WordsPort;
  /** Null: pages are not made here. */
  readonly sheets: SheetPorts | null;
}

/** Pages that cannot be made are no reason to withhold the click. */
const withoutPages = (error: Problem): Problem =>
  problem('note', error.code, `There are no pages: ${error.message}`);

const withMarkings = (
  made: Result<DrillFolder>,
  markings: readonly Marking[] | null,
): Result<DrillFolder> => {
  if (!made.ok || markings === null) return made;
  const { sha256, title } = made.value.drill.score;
  const bytes = markingsFile(sha256, title, markings);
  const file = { name: markingsName, chunks: [bytes], size: bytes.length };
  return ok({ ...made.value, files: [...made.value.files, file] }, made.problems);
};

/**
 * Makes a drill with its pages and its spoken count. `markings`: what the players wrote into the score; they are put into
 * the folder, so that whoever opens it has them. Null: no such file. Errors: those of `makeDrill` and of the words; what is wrong with
 * the pages is a Problem.
 */
export const makeFolder = async (
  bytes: Uint8Array,
  request: DrillRequest,
  { sound, language, sheet }: Making,
  ports: FolderPorts,
  before: Drill | null = null,
  markings: readonly Marking[] | null = null,
): Promise<Result<DrillFolder>> => {
  const words = language === null ? null : await ports.words.read(language);
  if (words !== null && !words.ok) return words;
  const settings = { ...asInScore, markings: (markings ?? []).map(markingText) };
  const made = withMarkings(
    makeDrill(bytes, request, { ...sound, words: words?.value ?? null, before, settings }),
    markings,
  );
  if (!made.ok || sheet === null || ports.sheets === null || made.value.worked.parts.length === 0)
    return made;
  const pages = await makeSheets(made.value.worked, ports.sheets, sheet);
  if (!pages.ok) return ok(made.value, [...made.problems, withoutPages(pages.error)]);
  const files = [...pages.value.files, ...made.value.files];
  return ok({ ...made.value, files }, [...made.problems, ...pages.problems]);
};
