/** The spoken count words as they are handed in: an index and, for each language, one WAV file. */
import { fail, ok, type Result } from '../../units/index.ts';
import { readWav } from '../wav/read.ts';

/** One clip. Places and lengths in samples of the file. */
export interface WordEntry {
  /** The count's English name, "one" to "twelve", or "and". */
  readonly word: string;
  /** In one syllable. */
  readonly fast: boolean;
  /** As it is written in its language. */
  readonly text: string;
  readonly start: number;
  readonly length: number;
  /** Where the vowel begins, from the clip's start: this stands on the beat. */
  readonly vowel: number;
}

/** The words of one language, ready to be said. */
export interface WordSet {
  readonly language: string;
  /** Hz. */
  readonly sampleRate: number;
  /** Seconds from count to count below which the fast forms are said. */
  readonly fastBelow: number;
  readonly entries: readonly WordEntry[];
  /** The whole file, full scale 1. */
  readonly samples: Float32Array;
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

const isPlace = (value: unknown): value is number => Number.isSafeInteger(value) && Number(value) >= 0;

const entryOf = (value: unknown, frames: number): WordEntry | null => {
  if (!isObject(value)) return null;
  const { word, fast, text, start, length, vowel } = value;
  if (typeof word !== 'string' || typeof text !== 'string' || typeof fast !== 'boolean') return null;
  if (!isPlace(start) || !isPlace(length) || !isPlace(vowel)) return null;
  return vowel < length && start + length <= frames ? { word, fast, text, start, length, vowel } : null;
};

const damaged = (what: string): Result<never> =>
  fail(
    'words-damaged',
    `The spoken count words cannot be used: ${what}. The program may be installed incompletely.`,
  );

/** Name of the file that holds a language's words, from the index; null where the language is not there. */
export const wordFile = (index: unknown, language: string): string | null => {
  const languages = isObject(index) ? index['languages'] : null;
  const found = isObject(languages) ? languages[language] : null;
  const file = isObject(found) ? found['file'] : null;
  return typeof file === 'string' ? file : null;
};

const formatOf = (index: unknown): string => {
  const format = isObject(index) ? index['format'] : null;
  return typeof format === 'string' ? format : '';
};

/**
 * Reads the words of a language. `index`: the parsed index ("levare.words/1", assets/words/index.json); `wav`: the bytes
 * of the file that it names. Errors: "words-language" (not among those of the index), "words-damaged", "format-newer".
 */
export const readWords = (index: unknown, language: string, wav: Uint8Array): Result<WordSet> => {
  const version = Number(/^levare\.words\/(\d{1,9})$/.exec(formatOf(index))?.[1] ?? 0);
  if (version > 1)
    return fail(
      'format-newer',
      `These count words have format version ${version}; this Levare reads up to 1. A newer Levare wrote them: bring this one up to date.`,
    );
  if (!isObject(index) || version !== 1) return damaged('their index is of another kind');
  const { sampleRate, fastBelow, languages } = index;
  const found = isObject(languages) ? languages[language] : undefined;
  if (!isObject(languages) || !isObject(found)) {
    const known = isObject(languages) ? Object.keys(languages).join(', ') : 'none';
    return fail('words-language', `There are no count words in "${language}". There are: ${known}.`);
  }
  const file = readWav(wav);
  if (!file.ok) return damaged(`${language}.wav: ${file.error.message}`);
  const [samples] = file.value.channels;
  if (samples === undefined || file.value.sampleRate !== sampleRate)
    return damaged('the sound does not fit its index');
  const words = Array.isArray(found['words'])
    ? found['words'].map((value) => entryOf(value, samples.length))
    : [];
  const entries = words.flatMap((entry) => entry ?? []);
  if (entries.length === 0 || entries.length < words.length || typeof fastBelow !== 'number')
    return damaged('a word lies outside its file');
  return ok({ language, sampleRate, fastBelow, entries, samples });
};
