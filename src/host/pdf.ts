/**
 * Pages as a vector PDF, its fonts embedded as subsets, with nothing in it that changes from run to run. The same for Node and
 * the browser.
 */
import { zlibSync } from 'fflate';
import PDFDocument, { type Reference } from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import type { FontStyle, PdfMaker, PdfOptions } from '../desk/sheet.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { musicFace, type FontFile } from './pdfFonts.ts';

/** PDF user space units in a millimetre: 72 to an inch of 25.4 mm (ISO 32000-1, 8.3.2.3). */
const unit = 72 / 25.4;

/** The library asks for a date, and makes the file's id of it: always the same one, so that each run's bytes agree. */
const noDate = new Date(Date.UTC(2000, 0, 1));

const styleOf = (bold: boolean, italic: boolean): FontStyle =>
  bold ? (italic ? 'bold-italic' : 'bold') : italic ? 'italic' : 'regular';

const firstFamily = (list: string): string => (list.split(',')[0] ?? '').trim().replace(/^['"]|['"]$/g, '');

const joined = (chunks: readonly Uint8Array[]): Uint8Array => {
  const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
};

const collected = (document: PDFDocument): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on('data', (chunk) => void chunks.push(chunk));
    document.on('end', () => resolve(joined(chunks)));
    document.on('error', reject);
  });

/**
 * Packs by one library everywhere. Left alone, the PDF library packs by what it finds: Node's zlib or another one, whose bytes
 * differ.
 */
const packedAlike = (document: PDFDocument): void => {
  const plain = document.ref.bind(document);
  const packed = (reference: Reference): Reference => {
    const finalize = reference.finalize.bind(reference);
    reference.finalize = () => {
      if (reference.compress && reference.buffer.length > 0) {
        reference.buffer = [zlibSync(joined(reference.buffer))];
        reference.compress = false;
      }
      finalize();
    };
    return reference;
  };
  document.ref = (data) => packed(plain(data));
};

const draw = async (
  pages: readonly { readonly svg: string }[],
  { title, language = 'en', width, height }: PdfOptions,
  fonts: readonly FontFile[],
): Promise<Result<Uint8Array>> => {
  const warnings = new Set<string>();
  const size: [number, number] = [width * unit, height * unit];
  const document = new PDFDocument({
    autoFirstPage: false,
    size,
    margin: 0,
    font: '',
    info: { Title: title, Creator: 'Levare', Producer: 'Levare', CreationDate: noDate },
    lang: language,
    displayTitle: true,
  });
  packedAlike(document);
  const bytes = collected(document);
  const known = new Set<string>();
  const fontCallback = (list: string, bold: boolean, italic: boolean): string => {
    const family = firstFamily(list);
    const style = styleOf(bold, italic);
    const name = `${family} ${style}`;
    if (!known.has(name)) {
      const file = fonts.find((one) => one.family === family) ?? fonts[0];
      if (file !== undefined) document.registerFont(name, file.bytes(style));
      known.add(name);
    }
    return name;
  };
  for (const { svg } of pages) {
    document.addPage({ size, margin: 0 });
    svgToPdf(document, svg, 0, 0, {
      width: size[0],
      height: size[1],
      assumePt: true,
      useCSS: false,
      preserveAspectRatio: 'xMinYMin',
      fontCallback,
      warningCallback: (message) => void warnings.add(message),
    });
  }
  document.end();
  const problems: readonly Problem[] = [...warnings].map((message) =>
    problem('note', 'pdf-incomplete', `Something on the page could not be put into the PDF: ${message}.`),
  );
  return ok(await bytes, problems);
};

/** A PDF maker with these text fonts by preference, at least one. */
export const pdfMaker = (fonts: readonly FontFile[]): PdfMaker => ({
  textFaces: fonts,
  faces: (musicFont) => [...fonts, musicFace(musicFont)],
  make: async (pages, options) => {
    try {
      return await draw(pages, options, fonts);
    } catch (error) {
      const why = error instanceof Error ? error.message : 'unknown';
      return fail('pdf-failed', `The PDF could not be made: ${why}.`);
    }
  },
});
