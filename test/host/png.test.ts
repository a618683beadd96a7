/** Pictures as PNG: their size, their text in the page's own font, and the same bytes each time. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { nodePng } from '../../src/host/node/png.ts';
import { openType } from '../../src/host/sfnt.ts';

const require = createRequire(import.meta.url);
const picture = (content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" font-family="Tinos, serif">${content}</svg>`;
const text = (said: string): string => `<text x="10" y="60" font-size="30">${said}</text>`;
const png = async (svg: string, width = 400): Promise<Uint8Array> => {
  const made = await nodePng.make(svg, width);
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
};

describe('a picture as PNG', () => {
  it('has the width asked for, and the height that goes with it (PNG, W3C 2003, IHDR)', async () => {
    const bytes = await png(picture(text('Takt')));
    expect([...bytes.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([400, 200]);
  });

  it('has its text drawn, letters of every piece of the font, and no letter like another', async () => {
    const empty = await png(picture(''));
    const drawn = await Promise.all(['a', 'ž', 'ω', 'ж', '♭'].map((letter) => png(picture(text(letter)))));
    for (const one of drawn) expect(one).not.toEqual(empty);
    expect(new Set(drawn.map((one) => one.join())).size).toBe(drawn.length);
  });

  it('is the same bytes each time', async () => {
    expect(await png(picture(text('Bar 12')))).toEqual(await png(picture(text('Bar 12'))));
  });

  it('of what is no picture is refused', async () => {
    const made = await nodePng.make('<svg', 100);
    expect(!made.ok && made.error.code).toBe('png-failed');
  });
});

describe('a web font unpacked', () => {
  it('has the signs and widths that another reader finds in the packed one', () => {
    const woff = new Uint8Array(
      readFileSync(require.resolve('@fontsource/tinos/files/tinos-latin-ext-400-italic.woff')),
    );
    const [packed, plain] = [create(woff), create(openType(woff))];
    expect(plain.characterSet).toEqual(packed.characterSet);
    const some = String.fromCodePoint(...packed.characterSet.slice(0, 40));
    expect(plain.layout(some).advanceWidth).toBe(packed.layout(some).advanceWidth);
    // What is no WOFF stays as it is.
    expect(openType(openType(woff))).toEqual(openType(woff));
  });
});
