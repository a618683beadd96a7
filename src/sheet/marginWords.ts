/** Words in the margin beside a system: numbered as on the music, one below the other. In hundredths of a millimetre. */
import { markShape } from './markShape.ts';
import { numberText, ring } from './overBars.ts';
import type { Extent } from './geometry.ts';
import type { MarginWords } from './readingMarks.ts';
import { figure, shape, type Shape } from './svg.ts';

/** Width of the column and what keeps it off the music, in millimetres; our own choice: some forty letters a line. */
export const column = { width: 52, gap: 5 } as const;

/** Of a letter, of a line, between paragraphs and between words of two numbers; the number's ring. Our own choice by eye. */
const sizes = { text: 285, line: 350, paragraph: 90, between: 320, ring: 200, indent: 560 } as const;

/** Text in lines no wider than `room`, in the font's measure (a share of the font size for each text). */
const linesOf = (text: string, room: number, widthOf: (text: string) => number): readonly string[] => {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && widthOf(longer) <= room) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
};

/** The words beside a system from `top` down, with `left` the column's edge. */
export const wordsBeside = (
  words: readonly MarginWords[],
  left: number,
  top: number,
  widthOf: (text: string) => number,
): { readonly shapes: readonly Shape[]; readonly extent: Extent } => {
  const room = (column.width * 100 - sizes.indent) / sizes.text;
  let y = top;
  const shapes = words.map((mark) => {
    const start = y;
    const texts = mark.texts.flatMap((text, i) => {
      if (i > 0) y += sizes.paragraph;
      return linesOf(text, room, widthOf).map((line) => {
        y += sizes.line;
        return shape('text', { x: figure(left + sizes.indent), y: figure(y - 90), 'text-anchor': 'start' }, [
          shape('tspan', { 'font-size': figure(sizes.text) }, line),
        ]);
      });
    });
    y += sizes.between;
    const at = [left + sizes.ring, start + sizes.line - 190] as const;
    return markShape({ ...mark, parts: '' }, [
      ring(at[0], at[1], sizes.ring, 18),
      numberText(mark.number, at[0], at[1], sizes.text),
      ...texts,
    ]);
  });
  return { shapes, extent: { top, bottom: words.length === 0 ? top : y - sizes.between } };
};
