/**
 * The engraver's own thread. Verovio (LGPL-3.0-or-later) is loaded here and nowhere else, as a file of its own that can
 * be replaced by another build of the same library.
 */
import { fail, ok, type Result } from '../../units/index.ts';
import { answering } from './calls.ts';
import type { EngravingCalls } from './engraver.ts';
import { engraveWith, textFontOf, type Toolkit } from './verovio.ts';

interface Running {
  readonly toolkit: Toolkit;
  readonly font: { readonly family: string; readonly woff2: Uint8Array<ArrayBuffer> };
}

const start = async (): Promise<Running> => {
  const [{ default: createVerovioModule }, { enableLog, LOG_OFF, VerovioToolkit }] = await Promise.all([
    import('verovio/wasm'),
    import('verovio/esm'),
  ]);
  const library = await createVerovioModule();
  const toolkit = new VerovioToolkit(library);
  // Its doubts about our MusicXML would go to the console; what is missing is found by its ids.
  enableLog(LOG_OFF, library);
  const font = textFontOf(toolkit);
  if (font === null) throw new Error('The engraver gave no text font.');
  return { toolkit, font };
};

let running: Promise<Running> | null = null;

answering<EngravingCalls>({
  engrave: async ({ musicXml, options }) => {
    const { toolkit, font } = await (running ??= start());
    const pictures = engraveWith(toolkit, musicXml, options);
    return pictures === null
      ? fail('engraving-failed', 'The engraver gave up on this passage. Try fewer bars or parts.')
      : ok({ pictures, musicFont: font });
  },
  ready: async (): Promise<Result<null>> => {
    await (running ??= start());
    return ok(null);
  },
});
