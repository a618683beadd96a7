/** The page of a drill. */
export { usualSheet, type Orientation, type Page, type Paper, type SheetOptions } from './paper.ts';
export { engraverStartLimit, engravingLimit } from './engravingLimit.ts';
export type {
  EngraveOptions,
  Engraved,
  Engraver,
  FontFace,
  FontStyle,
  PageToPrint,
  PdfMaker,
  PdfOptions,
} from './ports.ts';
export { makeSheet, type FacesFor, type Sheet } from './sheet.ts';
export { type SheetNote, type SheetTick } from './sheetScore.ts';
export { englishSheet, type HeadWords, type SheetWords } from './sheetWords.ts';
export { textFontIn, textFontSample, verovioOptions, verovioVersion, withoutStyle } from './verovio.ts';
export { makePlacesSheet, type PlacesSheet, type PlacesWords } from './placesSheet.ts';
export { type MarkSeam, type MarkSpot, type PlaceMark } from './placeMarks.ts';
export { makeReadingScreen, type ReadingScreen, type ReadingSystem } from './readingScreen.ts';
export { makeReadingSheet, type ReadingPageWords, type ReadingSheet } from './readingSheet.ts';
export type {
  DisplacedNote,
  HandOver,
  MarginWords,
  MarkBars,
  MarkNote,
  PaceArrow,
  ReadingMark,
  ReadingMarks,
  UnsureNote,
} from './readingMarks.ts';
