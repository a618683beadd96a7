/** How Verovio is asked to engrave in a browser; its options are the same as on Node, so that both draw the same. */
import {
  textFontIn,
  textFontSample,
  verovioOptions,
  withoutStyle,
  type EngraveOptions,
} from '../../desk/sheet.ts';

/** What is used of the library, which ships no types. */
export interface Toolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void;
  loadData(data: string): boolean;
  getPageCount(): number;
  renderToSVG(page: number): string;
}

/** The font of the music signs that stand in text; null where the engraver gives none. */
export const textFontOf = (
  toolkit: Toolkit,
): { readonly family: string; readonly woff2: Uint8Array<ArrayBuffer> } | null => {
  toolkit.setOptions(verovioOptions({ staff: 7, width: 100 }));
  toolkit.loadData(textFontSample);
  const found = textFontIn(toolkit.renderToSVG(1));
  if (found === null) return null;
  return { family: found.family, woff2: Uint8Array.from(atob(found.base64), (c) => c.charCodeAt(0)) };
};

/** The pictures of a text of MusicXML; null where the engraver does not read it. */
export const engraveWith = (
  toolkit: Toolkit,
  musicXml: string,
  options: EngraveOptions,
): readonly string[] | null => {
  toolkit.setOptions(verovioOptions(options));
  if (!toolkit.loadData(musicXml)) return null;
  return Array.from({ length: toolkit.getPageCount() }, (_, i) => withoutStyle(toolkit.renderToSVG(i + 1)));
};
