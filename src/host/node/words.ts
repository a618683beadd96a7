/** The spoken count words that come with the program, read from its assets. */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { readWords, wordFile, type WordSet, type WordsPort } from '../../desk/index.ts';
import { fail, type Result } from '../../units/index.ts';
import { causeOf } from './cause.ts';

const folder = new URL('../../../assets/words/', import.meta.url);

const read = async (language: string): Promise<Result<WordSet>> => {
  try {
    const index: unknown = JSON.parse(await readFile(new URL('index.json', folder), 'utf8'));
    const file = wordFile(index, language);
    const bytes = file === null ? new Uint8Array() : await readFile(new URL(file, folder));
    return readWords(index, language, bytes);
  } catch (error) {
    return fail(
      'words-damaged',
      `The spoken count words in ${fileURLToPath(folder)} cannot be read: ${causeOf(error)}.`,
    );
  }
};

export const nodeWords: WordsPort = { read };
