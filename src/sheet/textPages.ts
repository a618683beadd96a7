/** Pages of plain words on paper: headings, paragraphs, rows with a column of figures. In hundredths of a millimetre. */
import { ok, type Problem, type Result } from '../units/index.ts';
import { Faces, familyList } from './faces.ts';
import { margins, pageOf, type Page, type SheetOptions } from './paper.ts';
import type { FontFace } from './ports.ts';
import { figure, shape, svgText, type Shape } from './svg.ts';

export type TextLine =
  | { readonly kind: 'title' | 'head' | 'text' | 'small'; readonly text: string }
  /** A row of a list: what stands in front in a column of its own, and the words. */
  | { readonly kind: 'row'; readonly lead: string; readonly text: string };

export interface TextPages {
  /** Paper size in millimetres. */
  readonly page: Page;
  /** SVG of each page. */
  readonly pages: readonly string[];
}

/** Font size and the space above, for each kind; read at arm's length, title and rows from a stand. Our choice. */
const looks: Readonly<
  Record<TextLine['kind'], { readonly size: number; readonly above: number; readonly bold: boolean }>
> = {
  title: { size: 700, above: 0, bold: true },
  head: { size: 480, above: 350, bold: true },
  text: { size: 420, above: 120, bold: false },
  small: { size: 350, above: 100, bold: false },
  row: { size: 440, above: 200, bold: false },
};

/** Line height over font size, and the width of the column in front of rows. */
const leading = 1.3;
const leadColumn = 2600;
const sideMargin = 2000;

interface Placed {
  readonly line: TextLine;
  readonly texts: readonly string[];
  readonly height: number;
}

/** Long words are cut where they do not fit, so that nothing runs off the page. */
const wrapped = (text: string, room: number, widthOf: (text: string) => number): readonly string[] => {
  const lines: string[] = [];
  let line = '';
  const cut = (word: string): string => {
    let rest = word;
    while (widthOf(rest) > room && rest.length > 1) {
      let end = rest.length - 1;
      while (end > 1 && widthOf(rest.slice(0, end)) > room) end -= 1;
      lines.push(rest.slice(0, end));
      rest = rest.slice(end);
    }
    return rest;
  };
  for (const word of text.split(/\s+/u)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthOf(longer) <= room) line = longer;
    else {
      if (line !== '') lines.push(line);
      line = cut(word);
    }
  }
  return [...lines, line];
};

/** Lays lines out on pages of paper. `faces`: text fonts by preference, at least one. Problem: `glyph-missing`. */
export const textPages = (
  lines: readonly TextLine[],
  options: Pick<SheetOptions, 'paper' | 'orientation'>,
  faces: readonly FontFace[],
): Result<TextPages> => {
  const page = pageOf(options);
  const texts = new Faces(faces);
  const [left, right] = [sideMargin, page.width * 100 - sideMargin];
  const widthIn =
    (size: number, bold: boolean) =>
    (text: string): number =>
      Array.from(text).reduce((sum, character) => {
        const style = bold ? 'bold' : 'regular';
        const face = faces.find(({ covers }) => covers(character.codePointAt(0) ?? 0, style)) ?? faces[0];
        return sum + (face?.width(character, style) ?? 0.6) * size;
      }, 0);
  const placed = lines.map((line): Placed => {
    const { size, above, bold } = looks[line.kind];
    const room = right - left - (line.kind === 'row' ? leadColumn : 0);
    const broken = wrapped(line.text.normalize('NFC'), room, widthIn(size, bold));
    return { line, texts: broken, height: above + broken.length * size * leading };
  });
  const bottom = (page.height - margins.bottom) * 100;
  const groups: Placed[][] = [[]];
  let y = 0;
  for (const one of placed) {
    if (y > 0 && y + one.height > bottom - 2 * margins.top * 100) {
      groups.push([]);
      y = 0;
    }
    groups.at(-1)?.push(one);
    y += one.height;
  }
  const [first] = faces;
  const pages = groups.map((group) => {
    let at = 2 * margins.top * 100;
    const rows = group.flatMap(({ line, texts: broken }): Shape[] => {
      const { size, above, bold } = looks[line.kind];
      at += above;
      return broken.flatMap((text, i) => {
        at += size * leading;
        const word = (x: number, content: string, weight: boolean): Shape =>
          shape(
            'text',
            {
              x: figure(x),
              y: figure(at),
              'text-anchor': 'start',
              ...(weight ? { 'font-weight': 'bold' } : {}),
            },
            [shape('tspan', { 'font-size': figure(size) }, content)],
          );
        return line.kind === 'row'
          ? [...(i === 0 ? [word(left, line.lead, true)] : []), word(left + leadColumn, text, false)]
          : [word(left, text, bold)];
      });
    });
    return shape(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        width: `${page.width}mm`,
        height: `${page.height}mm`,
        viewBox: `0 0 ${page.width * 100} ${page.height * 100}`,
        ...(first === undefined ? {} : { 'font-family': familyList(first) }),
      },
      rows,
    );
  });
  const drawn = pages.map((one) => svgText(texts.applied(one)));
  const problems: readonly Problem[] = texts.missing();
  return ok({ page, pages: drawn }, problems);
};
