/** The PNG maker on Node: its program and its fonts are files of packages. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pngMaker } from '../png.ts';

const require = createRequire(import.meta.url);

const bytes = (file: string): Uint8Array => new Uint8Array(readFileSync(require.resolve(file)));

/** Pieces of the text font; what a page lacks here falls to any of the others. */
const pieces = ['latin', 'latin-ext', 'greek', 'cyrillic', 'vietnamese'];
const styles = ['400-normal', '400-italic', '700-normal', '700-italic'];

export const nodePng = pngMaker(
  () => bytes('@resvg/resvg-wasm/index_bg.wasm'),
  () => [
    ...pieces.flatMap((piece) =>
      styles.map((style) => bytes(`@fontsource/tinos/files/tinos-${piece}-${style}.woff`)),
    ),
    bytes('@fontsource/noto-music/files/noto-music-music-400-normal.woff'),
  ],
);
