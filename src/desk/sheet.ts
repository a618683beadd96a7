/** The pages of a drill: its score and one for each part, as PDF files for the drill's folder. */
import type { WorkedDrill } from '../drill/workOut.ts';
import {
  makeSheet,
  usualSheet,
  type Engraver,
  type PdfMaker,
  type Sheet,
  type SheetOptions,
} from '../sheet/index.ts';
import { ok, type Problem, type Result } from '../units/index.ts';
import { pageFiles } from './pageFiles.ts';
import type { FileToWrite } from './ports.ts';
import { eachOnce } from './readOnce.ts';

export {
  engraverStartLimit,
  engravingLimit,
  makeSheet,
  textFontIn,
  textFontSample,
  usualSheet,
  verovioOptions,
  verovioVersion,
  withoutStyle,
  type EngraveOptions,
  type Engraved,
  type Engraver,
  type FacesFor,
  type FontFace,
  type FontStyle,
  type Orientation,
  type Paper,
  type PdfMaker,
  type PdfOptions,
  type Sheet,
  type SheetNote,
  type SheetOptions,
  type SheetTick,
} from '../sheet/index.ts';

export interface SheetPorts {
  readonly engraver: Engraver;
  readonly pdf: PdfMaker;
}

/** The pages made, and their files. */
export interface SheetFolder {
  readonly sheets: readonly Sheet[];
  readonly files: readonly FileToWrite[];
}

/** A large score is no reason to withhold the parts. */
const scoreTooTall =
  'The staves of all parts together are higher than the paper, even small: there is no score.pdf, only the parts.';

/**
 * Makes `score.pdf` and, where the drill has several parts, one PDF for each; of these the `files` named only, null: all. Same
 * drill and options: same bytes. Errors: those of `makeSheet` and of the PDF maker.
 */
export const makeSheets = async (
  worked: WorkedDrill,
  ports: SheetPorts,
  options: SheetOptions = usualSheet,
  files: readonly string[] | null = null,
): Promise<Result<SheetFolder>> => {
  const all = pageFiles(worked.parts, worked.score.parts);
  const wanted = files === null ? all : all.filter(({ file }) => files.includes(file));
  const sheets: Sheet[] = [];
  const made: FileToWrite[] = [];
  const problems: Problem[] = [];
  for (const { part, file } of wanted) {
    const sheet = await makeSheet(worked, part, options, ports.engraver, ports.pdf.faces);
    if (!sheet.ok && sheet.error.code === 'system-too-tall' && wanted.length > 1 && part === null) {
      problems.push({ ...sheet.error, severity: 'note', message: scoreTooTall });
      continue;
    }
    if (!sheet.ok) return sheet;
    const { title, name, page, pages } = sheet.value;
    const pdf = await ports.pdf.make(
      pages.map((svg) => ({ svg })),
      {
        title: title === '' ? name : `${title} – ${name}`,
        language: options.words?.language ?? 'en',
        ...page,
      },
    );
    if (!pdf.ok) return pdf;
    sheets.push(sheet.value);
    made.push({ name: file, chunks: [pdf.value], size: pdf.value.length });
    problems.push(...sheet.problems, ...pdf.problems);
  }
  return ok({ sheets, files: made }, eachOnce(problems));
};
