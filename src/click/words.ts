/**
 * Count words as text, in six languages. Counts and "and" words are those that players say aloud in rehearsal: common
 * practice, no source. The timeline keeps the English word as the name of a count in every language.
 */

export const countLanguages = ['en', 'de', 'nl', 'fr', 'it', 'es'] as const;
export type CountLanguage = (typeof countLanguages)[number];

/** Names of the counts, as the timeline has them: one to twelve, and what is said between them. */
export const countNames = [
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
  'and',
] as const;
export type CountName = (typeof countNames)[number];

const list = (text: string): readonly string[] => text.split(' ');

const plain: Readonly<Record<CountLanguage, readonly string[]>> = {
  en: countNames,
  de: list('eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf und'),
  nl: list('een twee drie vier vijf zes zeven acht negen tien elf twaalf en'),
  fr: list('un deux trois quatre cinq six sept huit neuf dix onze douze et'),
  it: list('uno due tre quattro cinque sei sette otto nove dieci undici dodici e'),
  es: list('uno dos tres cuatro cinco seis siete ocho nueve diez once doce y'),
};

/**
 * One syllable each, for fast counting. Cutting words of two syllables to their first, or in English "seven" and "eleven" to
 * the stressed one, is what players do; how the cut words are spelt is our choice.
 */
const fast: Readonly<Record<CountLanguage, readonly string[]>> = {
  en: list('one two three four five six sev eight nine ten lev twelve and'),
  de: list('eins zwei drei vier fünf sechs sieb acht neun zehn elf zwölf und'),
  nl: list('een twee drie vier vijf zes zeev acht neeg tien elf twaalf en'),
  fr: list("un deux trois quat' cinq six sept huit neuf dix onz' douz' et"),
  it: list('un du tre quat cin sei set ot nov diec und dod e'),
  es: list('un dos tres cuat cin seis siet och nuev diez onc doc y'),
};

/** Counts that follow each other in less than this many seconds are said in one syllable. Common practice, no source. */
export const fastCount = 0.3;

/** The name of a count from a timeline's word: "sev" and "seven" are both "seven"; null for what is no such word. */
export const countName = (word: string): CountName | null => {
  const at = [countNames, fast.en].map((row) => row.findIndex((known) => known === word)).find((i) => i >= 0);
  return at === undefined ? null : (countNames[at] ?? null);
};

/**
 * How a count of the timeline ("one", "sev", "and") is said in a language; `short`: in one syllable. A word that is no
 * count, such as the figure "13", is given back as it is.
 */
export const countWordIn = (language: CountLanguage, word: string, short: boolean): string => {
  const name = countName(word);
  return name === null ? word : ((short ? fast : plain)[language][countNames.indexOf(name)] ?? word);
};
