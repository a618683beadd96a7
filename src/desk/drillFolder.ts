/** The whole folder of a drill: what is heard, what other programs read, and the pages for the stand. */
import type { Drill } from '../drill/model.ts';
import { ok, problem, type Problem, type Result } from '../units/index.ts';
import { makeDrill, type DrillFolder } from './makeDrill.ts';
import type { WordsPort } from './ports.ts';
import type { DrillRequest, Making } from './request.ts';
import { makeSheets, type SheetPorts } from './sheet.ts';

export interface FolderPorts {
  readonly words: WordsPort;
  /** Null: pages are not made here. */
  readonly sheets: SheetPorts | null;
}

/** Pages that cannot be made are no reason to withhold the click. */
const withoutPages = (error: Problem): Problem =>
  problem('note', error.code, `There are no pages: ${error.message}`);

/**
 * Makes a drill with its pages and its spoken count. Errors: those of `makeDrill` and of the words; what is wrong with
 * the pages is a Problem.
 */
export const makeFolder = async (
  bytes: Uint8Array,
  request: DrillRequest,
  { sound, language, sheet }: Making,
  ports: FolderPorts,
  before: Drill | null = null,
): Promise<Result<DrillFolder>> => {
  const words = language === null ? null : await ports.words.read(language);
  if (words !== null && !words.ok) return words;
  const made = makeDrill(bytes, request, { ...sound, words: words?.value ?? null, before });
  if (!made.ok || sheet === null || ports.sheets === null || made.value.worked.parts.length === 0)
    return made;
  const pages = await makeSheets(made.value.worked, ports.sheets, sheet);
  if (!pages.ok) return ok(made.value, [...made.problems, withoutPages(pages.error)]);
  const files = [...pages.value.files, ...made.value.files];
  return ok({ ...made.value, files }, [...made.problems, ...pages.problems]);
};
