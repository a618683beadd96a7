/** Languages of the page. */

/** As ISO 639-1 names them. */
export const languages = ['en', 'de'] as const;

export type Language = (typeof languages)[number];

export const isLanguage = (text: unknown): text is Language =>
  languages.some((language) => language === text);

/** The first of the languages that a reader prefers ("de-AT", "fr") in which the page is written; English where none is. */
export const preferredLanguage = (wanted: readonly string[]): Language =>
  wanted.map((tag) => tag.toLowerCase().split('-')[0]).find(isLanguage) ?? 'en';
