/** The text fonts of a page: Tinos, whose letters are as wide as the engraver reckons, and signs of music. */
import { create, type Font } from 'fontkit';
import type { Engraved, FontFace, FontStyle } from '../desk/sheet.ts';

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

/** WOFF and not WOFF2: the PDF library makes wrong subsets of the latter. */
const faceOf = (family: string, fallback: string, file: (style: FontStyle) => Uint8Array): FontFile => {
  const bytes = remembered(file);
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

/**
 * Fonts whose text is text in the PDF, by preference. `read`: the bytes of a file of the packages @fontsource/tinos and
 * @fontsource/noto-music, by its plain name.
 */
export const textFontsOf = (read: (file: string) => Uint8Array): readonly FontFile[] => [
  ...tinosPieces.map((piece) =>
    faceOf(`Tinos-${piece}`, 'Tinos', (style) => read(`tinos-${piece}-${tinosStyles[style]}.woff`)),
  ),
  // One style only: sharps, flats and the like are the same in all.
  faceOf('Noto-Music', "'Noto Music'", () => read('noto-music-music-400-normal.woff')),
];

/** The engraver's own font for signs among words: drawn as shapes. */
export const musicFace = ({ family, woff2 }: Engraved['musicFont']): FontFace => {
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
