/** Findings of a reading as lines: the strongest alone, the rest on request. */
import {
  findingText,
  findingWords,
  mostFindings,
  type Reading,
  type TellingLanguage,
} from '../desk/index.ts';
import { wrapped } from './words.ts';

/** What is left untold, and how to have it; the options that were given already are not offered again. */
const more: Readonly<Record<TellingLanguage, (count: number, most: boolean) => string>> = {
  en: (count, most) =>
    most
      ? `${count} more are not told.`
      : `${count} more: --most ${mostFindings} tells the strongest of them.`,
  de: (count, most) =>
    most
      ? `${count} weitere werden nicht genannt.`
      : `${count} weitere: --most ${mostFindings} nennt die stärksten davon.`,
};

const allFigures: Readonly<Record<TellingLanguage, string>> = {
  en: 'All figures: --figures.',
  de: 'Alle Zahlen: --figures.',
};

const setIn = (text: string, indent: number): readonly string[] => wrapped(text, indent, 96).split('\n');

/** Lines of text, none wider than a terminal. `most`: findings at most; `figures`: all figures follow. */
export const findingLines = (
  reading: Reading,
  language: TellingLanguage,
  most: number,
  figures: boolean,
): readonly string[] => {
  const words = findingWords[language];
  const count = (of: string): number => reading.notes.filter(({ state }) => state === of).length;
  const shown = reading.findings.slice(0, most);
  const rest = reading.findings.length - shown.length;
  const single = most === 1;
  const body = shown.flatMap((finding, i) => {
    const { sentence, tryThis, caution } = findingText(finding, reading, language);
    const indent = single ? 0 : 3;
    const lead = single ? '' : `${i + 1}. `;
    return [
      '',
      ...setIn(`${lead}${sentence}`, indent),
      ...[tryThis, ...(caution === null ? [] : [caution])].flatMap((text) =>
        wrapped(text, 0, 96 - indent)
          .split('\n')
          .map((line) => `${' '.repeat(indent)}${line}`),
      ),
    ];
  });
  const none = shown.length === 0 ? [words.tooLittle] : shown.some(({ told }) => told) ? [] : [words.nothing];
  return [
    words.bars(reading.title, reading.bars),
    words.heard(count('heard'), reading.notes.length, count('rough')),
    ...none.flatMap((text) => ['', text]),
    ...body,
    '',
    ...(shown.length === 0 ? [] : [words.closing]),
    ...(rest > 0
      ? [`${more[language](rest, most >= mostFindings)}${figures ? '' : ` ${allFigures[language]}`}`]
      : []),
  ];
};
