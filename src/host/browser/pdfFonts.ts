/** The fonts of the pages on paper, as files of the app. */
import { textFontsOf, type FontFile } from '../pdfFonts.ts';

/** Addresses by path. The same old-style files that Node takes: `src/host/pdfFonts.ts` says why. */
const addresses = import.meta.glob<string>(
  [
    '../../../node_modules/@fontsource/tinos/files/tinos-*-[47]00-{normal,italic}.woff',
    '../../../node_modules/@fontsource/noto-music/files/noto-music-music-400-normal.woff',
  ],
  { query: '?url', import: 'default', eager: true, exhaustive: true },
);

/** The bytes of a file of the app. Rejects where it does not come. */
export const loaded = async (address: string): Promise<Uint8Array> => {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`a file of the app is missing (${response.status})`);
  return new Uint8Array(await response.arrayBuffer());
};

/** Loads all of them: 0.8 MB. Rejects where one does not come. */
export const browserFonts = async (): Promise<readonly FontFile[]> => {
  const files = new Map(
    await Promise.all(
      Object.entries(addresses).map(
        async ([path, address]) => [path.slice(path.lastIndexOf('/') + 1), await loaded(address)] as const,
      ),
    ),
  );
  return textFontsOf((file) => {
    const bytes = files.get(file);
    if (bytes === undefined) throw new Error(`no font ${file}`);
    return bytes;
  });
};
