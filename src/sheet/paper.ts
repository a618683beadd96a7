/** Paper, margins and staff sizes. Lengths in millimetres. */
import type { SheetWords } from './sheetWords.ts';

export type Paper = 'a4' | 'letter';
export type Orientation = 'portrait' | 'landscape';

/** ISO 216 A4; ANSI/ASME Y14.1 size A (Letter, 8.5 by 11 inches of 25.4 mm). Width and height upright. */
const papers: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
};

export interface SheetOptions {
  readonly paper: Paper;
  readonly orientation: Orientation;
  /** Staff height; null: the size that suits the number of staves, smaller if that saves a page turn. 4 to 9.5. */
  readonly staff: number | null;
  /** Notes that the line filter leaves out: as rests, or small and grey. */
  readonly others: 'rests' | 'grey';
  /** What the page says by itself; English where it is left out. */
  readonly words?: SheetWords;
}

export const usualSheet: SheetOptions = {
  paper: 'a4',
  orientation: 'portrait',
  staff: null,
  others: 'rests',
};

export interface Page {
  readonly width: number;
  readonly height: number;
}

export const pageOf = ({ paper, orientation }: Pick<SheetOptions, 'paper' | 'orientation'>): Page => {
  const { width, height } = papers[paper];
  return orientation === 'portrait' ? { width, height } : { width: height, height: width };
};

/** Most desktop printers reach within 5 mm of the edge; 12 mm leave room for a thumb. Our own choice. */
export const margins = { left: 12, right: 12, top: 11, bottom: 11 } as const;

/** Space between what two systems draw: at least, and at most where a page has room. */
export const systemGap = { least: 4, most: 14 } as const;

/** Staff sizes that the engraver takes. */
export const staffRange = { least: 4, most: 9.5 } as const;

/**
 * Staff heights to try, largest first; the one with the fewest pages is taken.
 *
 * At 1.5 m one minute of arc, the detail that a normal eye resolves (visual acuity 1.0, ISO 8596), is 0.44 mm, and the
 * optotype read at acuity 1.0 is five times as high, 2.2 mm. A note head as high as a space of an 8 mm staff is 2 mm,
 * of a 7 mm staff 1.75 mm: an eye of acuity 1.1 to 1.3, which most corrected eyes have, still tells a line from a
 * space. Printed parts stand between 6.5 mm and 8 mm (rastral sizes 4 to 1; E. Gould, Behind Bars, 2011; from
 * memory), so a single part is at the large end; a score gives a little for fewer turns.
 */
export const staffSizes = (staves: number): readonly number[] => {
  if (staves <= 1) return [8, 7.5, 7];
  if (staves <= 2) return [7.5, 7, 6.5];
  if (staves <= 4) return [7, 6.5];
  return [6.5, 6];
};

/** What is tried where one system is higher than a page. */
export const lastResort: readonly number[] = [5, 4.5, 4];
