/** The text fonts of a page on Node: Tinos, whose letters are as wide as the engraver reckons, and signs of music. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create, type Font } from 'fontkit';
import type { Engraved, FontFace, FontStyle } from '../../desk/sheet.ts';

const require = createRequire(import.meta.url);

/** A face with its file. */
export interface FontFile extends FontFace {
  readonly bytes: (style: FontStyle) => Uint8Array;
}

/** Remembers what a function gave for each argument. */
const remembered = <K, T>(make: (key: K) => T): ((key: K) => T) => {
  const made = new Map<K, T>();
  return (key) => {
    const known = made.get(key);
    if (known !== undefined) return known;
    const fresh = make(key);
    made.set(key, fresh);
    return fresh;
  };
};

/** A face of a package's files, by style. WOFF and not WOFF2: the PDF library makes wrong subsets of the latter. */
const faceOf = (family: string, fallback: string, file: (style: FontStyle) => string): FontFile => {
  const bytes = remembered((style: FontStyle) => new Uint8Array(readFileSync(require.resolve(file(style)))));
  const font = remembered((style: FontStyle) => create(bytes(style)));
  const characters = remembered((style: FontStyle) => new Set(font(style).characterSet));
  return {
    family,
    fallback,
    bytes,
    covers: (code, style) => characters(style).has(code),
    width: (text, style) => font(style).layout(text).advanceWidth / font(style).unitsPerEm,
    outline: null,
  };
};

const tinosStyles: Readonly<Record<FontStyle, string>> = {
  regular: '400-normal',
  italic: '400-italic',
  bold: '700-normal',
  'bold-italic': '700-italic',
};

/** The pieces that the package cuts the font into. */
const tinosPieces = [
  'latin',
  'latin-ext',
  'greek',
  'greek-ext',
  'cyrillic',
  'cyrillic-ext',
  'hebrew',
  'vietnamese',
];

/** Fonts whose text is text in the PDF, by preference. */
export const textFonts: readonly FontFile[] = [
  ...tinosPieces.map((piece) =>
    faceOf(
      `Tinos-${piece}`,
      'Tinos',
      (style) => `@fontsource/tinos/files/tinos-${piece}-${tinosStyles[style]}.woff`,
    ),
  ),
  // One style only: sharps, flats and the like are the same in all.
  faceOf('Noto-Music', "'Noto Music'", () => '@fontsource/noto-music/files/noto-music-music-400-normal.woff'),
];

/** The engraver's own font for signs among words: drawn as shapes. */
const musicFace = ({ family, woff2 }: Engraved['musicFont']): FontFace => {
  const font: Font = create(woff2);
  const characters = new Set(font.characterSet);
  return {
    family,
    fallback: family,
    covers: (code) => characters.has(code) && !(code >= 0xe000 && code <= 0xf8ff),
    width: (text) => font.layout(text).advanceWidth / font.unitsPerEm,
    outline: (code) => ({ path: font.glyphForCodePoint(code).path.toSVG(), unitsPerEm: font.unitsPerEm }),
  };
};

/** All faces by preference. */
export const facesFor = (musicFont: Engraved['musicFont']): readonly FontFace[] => [
  ...textFonts,
  musicFace(musicFont),
];
