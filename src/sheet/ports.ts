/** What a page needs from outside the core: an engraver, and to know which characters the fonts can draw. */
import type { Result } from '../units/index.ts';

export interface EngraveOptions {
  /** Height of a five-line staff, in millimetres: 3.6 to 9.6. */
  readonly staff: number;
  /** Width of the systems with the parts' names, in millimetres. */
  readonly width: number;
  /** Least space between two staves, in half staff spaces; 11 where it is left out. */
  readonly gap?: number;
}

/** Systems one below the other, in pictures of any height; in units of a hundredth of a millimetre. */
export interface Engraved {
  /** SVG with the ids of the MusicXML's notes, and with the boxes that elements take up. */
  readonly pictures: readonly string[];
  /** The font of the music signs that stand in text, such as the note of a tempo mark. */
  readonly musicFont: { readonly family: string; readonly woff2: Uint8Array };
}

export interface Engraver {
  /** What engraves, with its version: the same version gives the same pictures. */
  readonly version: string;
  /**
   * Engraves MusicXML. The same text and options give the same pictures. Errors: `engraving-failed` where the engraver
   * gives up, `engraving-timeout` where it takes longer than it may.
   */
  readonly engrave: (musicXml: string, options: EngraveOptions) => Promise<Result<Engraved>>;
}

export type FontStyle = 'regular' | 'italic' | 'bold' | 'bold-italic';

/** A font file, or one piece of a font that comes in several. */
export interface FontFace {
  /** As it stands in the pages' font-family; the family that a browser would look for comes after it. */
  readonly family: string;
  readonly fallback: string;
  /** Whether it draws a character. */
  readonly covers: (codePoint: number, style: FontStyle) => boolean;
  /** Width of a text, as a share of the font size. */
  readonly width: (text: string, style: FontStyle) => number;
  /**
   * For fonts whose signs are drawn on the page as shapes and not as text: path data with y upwards, and its units in
   * a font size. Null where the face is written as text.
   */
  readonly outline: ((codePoint: number) => { readonly path: string; readonly unitsPerEm: number }) | null;
}

/** A finished page: a picture of the whole sheet of paper, in hundredths of a millimetre. */
export interface PageToPrint {
  readonly svg: string;
}

export interface PdfOptions {
  /** For the file's own description. */
  readonly title: string;
  /** Of its texts, by its tag (BCP 47); English where it is left out. */
  readonly language?: string;
  /** Millimetres. */
  readonly width: number;
  readonly height: number;
}

export interface PdfMaker {
  /** Its text fonts by preference, at least one: for pages of words. */
  readonly textFaces: readonly FontFace[];
  /** Its fonts by preference; the engraver's music font comes last. */
  readonly faces: (musicFont: Engraved['musicFont']) => readonly FontFace[];
  /** A vector PDF with its fonts embedded; same pages, same bytes. Error: `pdf-failed`. */
  readonly make: (pages: readonly PageToPrint[], options: PdfOptions) => Promise<Result<Uint8Array>>;
}
