/** The PNG maker in the browser: its program and its fonts are files of the app. Loaded with the first picture that is asked for. */
import { pngMaker } from '../png.ts';
import { browserFonts, loaded } from './pdfFonts.ts';

/** One address, by path. */
const addresses = import.meta.glob<string>('../../../node_modules/@resvg/resvg-wasm/index_bg.wasm', {
  query: '?url',
  import: 'default',
  eager: true,
  exhaustive: true,
});

let fonts: readonly Uint8Array[] = [];

/** Error: `png-failed`, also where a file of it does not come. */
export const browserPng = pngMaker(
  async () => {
    const [address = ''] = Object.values(addresses);
    const [program, faces] = await Promise.all([loaded(address), browserFonts()]);
    fonts = [
      ...new Set(
        faces.flatMap(({ bytes }) => (['regular', 'italic', 'bold', 'bold-italic'] as const).map(bytes)),
      ),
    ];
    return program;
  },
  () => fonts,
);
