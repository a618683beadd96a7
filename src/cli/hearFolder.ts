/** What `levare hear --out` puts into its folder: the reading, its words, its pages, its charts and the table of its numbers. */
import {
  chartWidth,
  readingCharts,
  readingCsv,
  readingPages,
  type FileToWrite,
  type HeardDrill,
  type Reading,
  type TellingLanguage,
} from '../desk/index.ts';
import { nodePng } from '../host/node/index.ts';
import type { Problem } from '../units/index.ts';
import type { Io } from './io.ts';

export interface HearFolder {
  readonly files: readonly FileToWrite[];
  /** What was noticed of the pages; where none could be made, why. The rest of the folder is there all the same. */
  readonly problems: readonly Problem[];
}

/** Pixels of a page's width, some 200 to an inch of A4. */
const pageWidth = 1654;

interface Picture {
  readonly name: string;
  readonly svg: string;
  /** Of the PNG, in pixels. */
  readonly width: number;
}

/** `texts`: reading.json and reading.txt, finished. `png`: every picture as PNG too. */
export const hearFolder = async (
  opened: HeardDrill,
  reading: Reading,
  language: TellingLanguage,
  texts: { readonly json: string; readonly text: string },
  io: Io,
  png: boolean,
): Promise<HearFolder> => {
  const encoder = new TextEncoder();
  const file = (name: string, content: string): FileToWrite => ({
    name,
    chunks: [encoder.encode(content)],
    size: null,
  });
  const pages = io.sheets === null ? null : await readingPages(opened, reading, { language }, io.sheets);
  const charts = readingCharts(reading, language);
  const problems: Problem[] =
    pages === null ? [] : pages.ok ? [...pages.problems] : [{ ...pages.error, severity: 'note' }];
  const pictures: readonly Picture[] = [
    ...(pages?.ok === true
      ? pages.value.sheet.pages.map((svg, i) => ({ name: `reading-${i + 1}`, svg, width: pageWidth }))
      : []),
    ...charts.map(({ name, svg }) => ({ name, svg, width: chartWidth({ svg }) })),
  ];
  const drawn: FileToWrite[] = [];
  for (const { name, svg, width } of png ? pictures : []) {
    const made = await nodePng.make(svg, width);
    if (made.ok) drawn.push({ name: `${name}.png`, chunks: [made.value], size: made.value.length });
    else problems.push({ ...made.error, severity: 'note' });
  }
  return {
    files: [
      file('reading.json', texts.json),
      file('reading.txt', texts.text),
      file('reading.csv', readingCsv(reading)),
      ...(pages?.ok === true ? pages.value.files : []),
      ...charts.map(({ name, svg }) => file(`${name}.svg`, svg)),
      ...drawn,
    ],
    problems,
  };
};
