/** The spoken count words in the browser: files of the app, a language loaded when it is first to be heard. */
import { readWords, type WordSet, type WordsPort } from '../../desk/index.ts';
import { fail, type Result } from '../../units/index.ts';

/** Addresses by path. Languages of the page only: the others would be kept on every device for nobody. */
const addresses = import.meta.glob<string>('../../../assets/words/{index.json,en.wav,de.wav}', {
  query: '?url',
  import: 'default',
  eager: true,
  exhaustive: true,
});

const loaded = async (name: string): Promise<Response> => {
  const address = Object.entries(addresses).find(([path]) => path.endsWith(`/${name}`))?.[1];
  if (address === undefined) throw new Error(`no file ${name}`);
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return response;
};

const load = async (language: string): Promise<Result<WordSet>> => {
  try {
    const [index, wav] = await Promise.all([loaded('index.json'), loaded(`${language}.wav`)]);
    const bytes = new Uint8Array(await wav.arrayBuffer());
    const parsed: unknown = await index.json();
    return readWords(parsed, language, bytes);
  } catch {
    return fail(
      'words-damaged',
      'The spoken count words did not come: counts are clicked. Without a network they are there once all of Levare is on this device.',
    );
  }
};

const held = new Map<string, WordSet>();

/** Keeps what has come; what has not is asked for again the next time. */
export const browserWords: WordsPort = {
  read: async (language) => {
    const known = held.get(language);
    if (known !== undefined) return { ok: true, value: known, problems: [] };
    const words = await load(language);
    if (words.ok) held.set(language, words.value);
    return words;
  },
};
