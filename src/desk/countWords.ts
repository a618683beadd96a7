/** Count words by their English name in the timeline: "one", "sev", "and". */
import { countNames, countWordIn, type CountLanguage } from '../click/words.ts';

/** English counts in one syllable that differ from their names. */
const short = ['sev', 'lev'];

export const countWordsIn = (language: CountLanguage): Readonly<Record<string, string>> =>
  Object.fromEntries(
    [...countNames, ...short].map((word) => [word, countWordIn(language, word, short.includes(word))]),
  );
