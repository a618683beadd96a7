/** The thread that makes pages as PDF. The PDF library and its fonts are loaded here and nowhere else. */
import { printPages } from '../../desk/printPages.ts';
import { ok } from '../../units/index.ts';
import { pdfMaker } from '../pdf.ts';
import { answering } from './calls.ts';
import { browserEngraver } from './engraver.ts';
import { gathered } from './gathered.ts';
import { browserFonts } from './pdfFonts.ts';
import type { PrintCalls } from './print.ts';

const engraver = browserEngraver();

answering<PrintCalls>({
  pages: async ({ bytes, settings, request, names, language }) => {
    const pdf = pdfMaker(await browserFonts());
    const made = await printPages(bytes, settings, request, names, { engraver, pdf }, language);
    if (!made.ok) return made;
    const files = made.value.map(({ name, chunks }) => ({ name, bytes: gathered(chunks) }));
    return ok(files, made.problems);
  },
});
