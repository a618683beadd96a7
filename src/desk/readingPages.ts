/** The pages of a reading: the drill's own pages with what was heard pencilled on them, as SVG and as PDF. */
import { workOut } from '../drill/workOut.ts';
import { makeReadingSheet, usualSheet, type ReadingSheet, type SheetOptions } from '../sheet/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { mostFindings } from './findings/index.ts';
import { asInScore } from './fitScore.ts';
import type { HeardDrill } from './hear.ts';
import { pieceHash } from './makeDrill.ts';
import type { FileToWrite } from './ports.ts';
import type { Reading } from './reading.ts';
import { paceMarks, seamMarks, wordMarks } from './readingBarMarks.ts';
import { noteMarks } from './readingNoteMarks.ts';
import { eachOnce, readPiece } from './readOnce.ts';
import type { SheetPorts } from './sheet.ts';
import { shownNames, type TellingLanguage } from './words/index.ts';
import { pageTexts } from './words/pages.ts';
import { sheetWords } from './words/sheet.ts';

export interface ReadingPagesOptions {
  readonly language: TellingLanguage;
  /** Findings in words, at most; all seven if nothing is said. */
  readonly most?: number;
  /** As usual if nothing is said. */
  readonly sheet?: SheetOptions;
}

/** Pages that were made. */
export interface ReadingPages {
  /** The pages as SVG, with every mark that stands on them, by the id of its element, and those for which there was no room. */
  readonly sheet: ReadingSheet;
  /** "reading.pdf", and a page each as "reading-1.svg". */
  readonly files: readonly FileToWrite[];
}

/** Hz; no page depends on it. */
const anyRate = 48_000;

/**
 * The pages of a reading and its drill. Same reading and drill: same bytes. Errors: `score-changed`, those of the score's reader, of the drill, of
 * `makeReadingSheet` and of the PDF maker.
 */
export const readingPages = async (
  { bytes, drill, ...more }: HeardDrill,
  reading: Reading,
  { language, most = mostFindings, sheet: options = usualSheet }: ReadingPagesOptions,
  ports: SheetPorts,
): Promise<Result<ReadingPages>> => {
  if (pieceHash(bytes) !== drill.score.sha256)
    return fail(
      'score-changed',
      'The score is not the one that this drill was made on: there are no pages of the reading.',
    );
  const read = readPiece(bytes, { ...asInScore, ...more });
  if (!read.ok) return read;
  const worked = workOut(read.value.score, drill, anyRate);
  if (!worked.ok) return worked;
  const texts = pageTexts[language];
  const name = shownNames(reading);
  const notes = noteMarks(worked.value, reading, language);
  const made = await makeReadingSheet(
    worked.value,
    {
      notes,
      seams: seamMarks(worked.value, reading, language),
      arrows: paceMarks(reading, language),
      words: wordMarks(reading, language, most),
    },
    {
      name: texts.name,
      manner: reading.parts.length > 1 ? texts.manner : texts.mannerAlone,
      players: new Map(reading.parts.map(({ id }) => [id, name(id)])),
      unit: 'ms',
      unsure: texts.unsure,
      rough: notes.some(({ kind }) => kind === 'rough') ? texts.roughly : null,
      missing: notes.some(({ kind }) => kind === 'missing') ? texts.notFound : null,
    },
    { ...options, words: sheetWords[language] },
    ports.engraver,
    ports.pdf.faces,
  );
  if (!made.ok) return made;
  const { title, page, pages, left } = made.value;
  const pdf = await ports.pdf.make(
    pages.map((svg) => ({ svg })),
    { title: title === '' ? texts.name : `${title} – ${texts.name}`, language, ...page },
  );
  if (!pdf.ok) return pdf;
  const encoder = new TextEncoder();
  const file = (named: string, content: Uint8Array): FileToWrite => ({
    name: named,
    chunks: [content],
    size: content.length,
  });
  const crowded: readonly Problem[] =
    left.length === 0
      ? []
      : [
          problem(
            'note',
            'mark-not-drawn',
            `${left.length} mark(s) of the reading found no room on its pages; the figures have them.`,
          ),
        ];
  return ok(
    {
      sheet: made.value,
      files: [
        file('reading.pdf', pdf.value),
        ...pages.map((svg, i) => file(`reading-${i + 1}.svg`, encoder.encode(svg))),
      ],
    },
    eachOnce([...made.problems, ...pdf.problems, ...crowded]),
  );
};
