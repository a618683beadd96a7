/** Pages as a vector PDF, its fonts embedded as subsets, with nothing in it that changes from run to run. */
import PDFDocument from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import type { FontStyle, PdfMaker, PdfOptions } from '../../desk/sheet.ts';
import { fail, ok, problem, type Problem, type Result } from '../../units/index.ts';
import { facesFor, textFonts } from './pdfFonts.ts';

/** PDF user space units in a millimetre: 72 to an inch of 25.4 mm (ISO 32000-1, 8.3.2.3). */
const unit = 72 / 25.4;

/** The library asks for a date, and makes the file's id of it: always the same one, so that each run's bytes agree. */
const noDate = new Date(Date.UTC(2000, 0, 1));

const styleOf = (bold: boolean, italic: boolean): FontStyle =>
  bold ? (italic ? 'bold-italic' : 'bold') : italic ? 'italic' : 'regular';

const firstFamily = (list: string): string => (list.split(',')[0] ?? '').trim().replace(/^['"]|['"]$/g, '');

const collected = (document: PDFKit.PDFDocument): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    document.on('data', (chunk: Buffer) => void chunks.push(chunk));
    document.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    document.on('error', reject);
  });

const draw = async (
  pages: readonly { readonly svg: string }[],
  { title, width, height }: PdfOptions,
): Promise<Result<Uint8Array>> => {
  const warnings = new Set<string>();
  const size: [number, number] = [width * unit, height * unit];
  const document = new PDFDocument({
    autoFirstPage: false,
    size,
    margin: 0,
    font: '',
    info: { Title: title, Creator: 'Levare', Producer: 'Levare', CreationDate: noDate },
    lang: 'en',
    displayTitle: true,
  });
  const bytes = collected(document);
  const known = new Set<string>();
  const fontCallback = (list: string, bold: boolean, italic: boolean): string => {
    const family = firstFamily(list);
    const style = styleOf(bold, italic);
    const name = `${family} ${style}`;
    if (!known.has(name)) {
      const file = textFonts.find((one) => one.family === family) ?? textFonts[0];
      if (file !== undefined) document.registerFont(name, Buffer.from(file.bytes(style)));
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

/** The PDF maker on Node. */
export const nodePdf: PdfMaker = {
  faces: facesFor,
  make: async (pages, options) => {
    try {
      return await draw(pages, options);
    } catch (error) {
      const why = error instanceof Error ? error.message : 'unknown';
      return fail('pdf-failed', `The PDF could not be made: ${why}.`);
    }
  },
};
