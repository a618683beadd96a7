/** The PDF maker on Node: its fonts are files of packages. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pdfMaker } from '../pdf.ts';
import { textFontsOf } from '../pdfFonts.ts';

const require = createRequire(import.meta.url);

const fontBytes = (file: string): Uint8Array => {
  const family = file.startsWith('tinos') ? 'tinos' : 'noto-music';
  return new Uint8Array(readFileSync(require.resolve(`@fontsource/${family}/files/${file}`)));
};

export const nodePdf = pdfMaker(textFontsOf(fontBytes));
