/** Pictures as PNG, drawn by one program everywhere: the same SVG gives the same bytes on every machine. */
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { fail, ok, type Result } from '../units/index.ts';
import { openType } from './sfnt.ts';

export interface PngMaker {
  /** An SVG picture on white, `width` pixels wide. Error: `png-failed`. */
  readonly make: (svg: string, width: number) => Promise<Result<Uint8Array>>;
}

/** `wasm`: the program's bytes; `fonts`: files of the fonts that the pictures name (OpenType or WOFF). Both are asked for with the first picture. */
export const pngMaker = (
  wasm: () => Promise<Uint8Array> | Uint8Array,
  fonts: () => readonly Uint8Array[],
): PngMaker => {
  let started: Promise<readonly Uint8Array[]> | null = null;
  const start = async (): Promise<readonly Uint8Array[]> => {
    const bytes = await wasm();
    // A copy: the library wants a buffer of its own.
    await initWasm(Uint8Array.from(bytes).buffer);
    return fonts().map(openType);
  };
  return {
    make: async (svg, width) => {
      try {
        started ??= start();
        const drawing = new Resvg(svg, {
          fitTo: { mode: 'width', value: width },
          background: '#fff',
          font: { fontBuffers: [...(await started)], defaultFontFamily: 'Tinos', serifFamily: 'Tinos' },
        });
        const picture = drawing.render();
        const png = picture.asPng();
        picture.free();
        drawing.free();
        return ok(png);
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        return fail('png-failed', `The picture could not be drawn as PNG: ${why}.`);
      }
    },
  };
};
