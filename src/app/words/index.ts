/** The languages of the page, with all that each says. */
import type { Problem } from '../../units/index.ts';
import { german } from './de/index.ts';
import { english, type Words } from './en/index.ts';
import type { Language } from './language.ts';
import { said } from './said.ts';

export { languages, type Language } from './language.ts';
export type { Words } from './en/index.ts';

const tables: Readonly<Record<Language, Words>> = { en: english, de: german };

/** What each language calls itself. */
export const languageNames: Readonly<Record<Language, string>> = { en: 'English', de: 'Deutsch' };

/** A language and its words. */
export interface Speech {
  readonly language: Language;
  readonly words: Words;
}

export const speechIn = (language: Language): Speech => ({ language, words: tables[language] });

/** What a problem says, with its bar where the sentence does not name it. */
export const problemText = (problem: Problem, { language, words }: Speech): string => {
  const text = said(problem, language);
  return problem.bar === undefined || problem.bar === '' ? text : words.page.inBar(problem.bar, text);
};
