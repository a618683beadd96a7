/** What `levare hear --out` puts into its folder: the reading, its words, its pages, its charts and the table of its numbers. */
import {
  readingCharts,
  readingCsv,
  readingPages,
  type FileToWrite,
  type HeardDrill,
  type Reading,
  type TellingLanguage,
} from '../desk/index.ts';
import type { Problem } from '../units/index.ts';
import type { Io } from './io.ts';

export interface HearFolder {
  readonly files: readonly FileToWrite[];
  /** What was noticed of the pages; where none could be made, why. The rest of the folder is there all the same. */
  readonly problems: readonly Problem[];
}

/** `texts`: reading.json and reading.txt, finished. */
export const hearFolder = async (
  opened: HeardDrill,
  reading: Reading,
  language: TellingLanguage,
  texts: { readonly json: string; readonly text: string },
  io: Io,
): Promise<HearFolder> => {
  const encoder = new TextEncoder();
  const file = (name: string, content: string): FileToWrite => ({
    name,
    chunks: [encoder.encode(content)],
    size: null,
  });
  const pages = io.sheets === null ? null : await readingPages(opened, reading, { language }, io.sheets);
  const problems: readonly Problem[] =
    pages === null ? [] : pages.ok ? pages.problems : [{ ...pages.error, severity: 'note' }];
  return {
    files: [
      file('reading.json', texts.json),
      file('reading.txt', texts.text),
      file('reading.csv', readingCsv(reading)),
      ...(pages?.ok === true ? pages.value.files : []),
      ...readingCharts(reading, language).map(({ name, svg }) => file(`${name}.svg`, svg)),
    ],
    problems,
  };
};
