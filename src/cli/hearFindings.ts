/** Findings of a reading as lines: the strongest alone, the rest on request. */
import { findingText, findingWords, type Reading, type TellingLanguage } from '../desk/index.ts';
import { wrapped } from './words.ts';

const more: Readonly<Record<TellingLanguage, (count: number) => string>> = {
  en: (count) => `${count} more with --most 7. All figures: --figures.`,
  de: (count) => `${count} weitere mit --most 7. Alle Zahlen: --figures.`,
};

const setIn = (text: string, indent: number): readonly string[] => wrapped(text, indent, 96).split('\n');

/** Lines of text, none wider than a terminal. `most`: findings at most. */
export const findingLines = (
  reading: Reading,
  language: TellingLanguage,
  most: number,
): readonly string[] => {
  const words = findingWords[language];
  const heard = reading.notes.filter(({ state }) => state === 'heard').length;
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
    words.heard(heard, reading.notes.length),
    ...none.flatMap((text) => ['', text]),
    ...body,
    '',
    ...(shown.length === 0 ? [] : [words.closing]),
    ...(rest > 0 ? [more[language](rest)] : []),
  ];
};
