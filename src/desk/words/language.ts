/** Languages in which a reading is told. */
import { fail, ok, type Result } from '../../units/index.ts';

/** As ISO 639-1 names them. */
export const tellingLanguages = ['en', 'de'] as const;
export type TellingLanguage = (typeof tellingLanguages)[number];

/** Error: `language-unknown`. */
export const tellingLanguage = (text: string): Result<TellingLanguage> => {
  const found = tellingLanguages.find((one) => one === text);
  return found === undefined
    ? fail(
        'language-unknown',
        `A reading is not told in "${text}"; there are ${tellingLanguages.join(' and ')}.`,
      )
    : ok(found);
};
