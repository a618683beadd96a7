/** Pages put together: the head, the systems in their places, the foot. In hundredths of a millimetre. */
import type { HeadText } from './headText.ts';
import { margins, systemGap, type Page } from './paper.ts';
import { allOf, figure, shape, type Shape } from './svg.ts';
import type { System } from './systems.ts';
import { heightOf, stackHeight, type Room } from './turns.ts';

/** Font sizes of head and foot in hundredths of a millimetre: the title of a part is read at a glance. Our own choice. */
const sizes = { title: 700, part: 500, line: 460, foot: 360, sign: 640 } as const;

/** Baselines below the top margin, and where the music may begin. */
const heads = { title: 560, row: 700, below: 450 } as const;

const footHeight = 600;

/** Hundredths of a millimetre; `space` stands for a staff space in what is dashed. */
const keySizes = { line: 700, gap: 120, width: 36, space: 150, row: 480 } as const;

/** Mean width of a character as a share of the font size; a guess on the safe side for Latin text. */
const meanWidth = 0.52;

/** A title in one or two lines, at the size that fits. */
const titleLines = (
  title: string,
  width: number,
): { readonly lines: readonly string[]; readonly size: number } => {
  if (title === '') return { lines: [], size: sizes.title };
  const room = (size: number): number => Math.floor(width / (size * meanWidth));
  if (title.length <= room(sizes.title)) return { lines: [title], size: sizes.title };
  const size = 520;
  const words = title.split(' ');
  const lines = [''];
  for (const word of words) {
    const last = lines.at(-1) ?? '';
    const longer = last === '' ? word : `${last} ${word}`;
    if (longer.length <= room(size) || last === '') lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  const longest = Math.max(...lines.map((line) => line.length));
  return { lines, size: Math.min(size, width / (longest * meanWidth)) };
};

const words = (
  x: number,
  y: number,
  size: number,
  anchor: 'start' | 'middle' | 'end',
  text: string,
  more: Readonly<Record<string, string>> = {},
): Shape =>
  shape('text', { x: figure(x), y: figure(y), 'text-anchor': anchor, ...more }, [
    shape('tspan', { 'font-size': figure(size) }, text),
  ]);

/** Lines and what they mean, in a row, or in several where one is too short; and the last row's baseline. */
const keyOf = (
  key: NonNullable<HeadText['key']>,
  left: number,
  right: number,
  top: number,
): { readonly shapes: readonly Shape[]; readonly y: number } => {
  let x = left;
  let y = top;
  const shapes = key.flatMap(({ words: text, line }) => {
    const row: Shape[] = [];
    const width = text.length * sizes.foot * meanWidth + (line === null ? 0 : keySizes.line + keySizes.gap);
    if (x > left && x + width > right) {
      x = left;
      y += keySizes.row;
    }
    if (line !== null) {
      const rise = sizes.foot * 0.3;
      const dashes = line.dashes.map((length) => figure(length * keySizes.space)).join(' ');
      row.push(
        shape('path', {
          d: `M${figure(x)} ${figure(y - rise)} L${figure(x + keySizes.line)} ${figure(y - rise)}`,
          fill: 'none',
          stroke: line.hue,
          'stroke-width': figure(keySizes.width),
          ...(dashes === '' ? {} : { 'stroke-dasharray': dashes }),
        }),
      );
      x += keySizes.line + keySizes.gap;
    }
    row.push(words(x, y, sizes.foot, 'start', text));
    x += text.length * sizes.foot * meanWidth + 2 * keySizes.gap;
    return row;
  });
  return { shapes, y };
};

/** The head and its height; `musicFont` is the family of the tempo's sign. */
const headOf = (
  head: HeadText,
  page: Page,
  musicFont: string,
): { readonly shape: Shape; readonly height: number } => {
  const left = margins.left * 100;
  const right = (page.width - margins.right) * 100;
  const { lines, size } = titleLines(head.title, right - left);
  let y = margins.top * 100;
  const rows: Shape[] = [];
  for (const line of lines) {
    y += lines.length > 1 ? size * 1.15 : heads.title;
    rows.push(words((left + right) / 2, y, size, 'middle', line, { 'font-weight': 'bold' }));
  }
  y += heads.row;
  rows.push(words(left, y, sizes.part, 'start', head.part, { 'font-weight': 'bold' }));
  rows.push(words(right, y, sizes.line, 'end', head.bars));
  y += heads.row;
  const { sign, figures } = head.tempo;
  rows.push(
    shape('text', { x: figure(left), y: figure(y), class: 'tempo' }, [
      ...(sign === ''
        ? []
        : [shape('tspan', { 'font-family': musicFont, 'font-size': figure(sizes.sign) }, sign)]),
      shape('tspan', { 'font-size': figure(sizes.line) }, ` ${figures}`),
    ]),
  );
  rows.push(words(right, y, sizes.line, 'end', head.manner, { 'font-style': 'italic' }));
  if (head.key !== undefined && head.key.length > 0) {
    y += heads.row;
    const key = keyOf(head.key, left, right, y);
    rows.push(...key.shapes);
    y = key.y;
  }
  return { shape: shape('g', { class: 'head' }, rows), height: y + heads.below - margins.top * 100 };
};

const footOf = (head: HeadText, page: Page, number: number, of: number): Shape => {
  const y = (page.height - margins.bottom) * 100;
  const name = [head.title, head.part, head.bars].filter((text) => text !== '').join(' · ');
  return shape('g', { class: 'foot' }, [
    words(margins.left * 100, y, sizes.foot, 'start', name),
    words((page.width - margins.right) * 100, y, sizes.foot, 'end', `${number} / ${of}`),
  ]);
};

/** The room for music on a first page and on others; `foot` where there are several. */
export const roomOn = (page: Page, head: HeadText, foot: boolean): Room => {
  const all = (page.height - margins.top - margins.bottom) * 100 - (foot ? footHeight : 0);
  return { first: all - headOf(head, page, '').height, other: all };
};

/** Systems at their places, one below the other, drawn apart where there is room. */
const placed = (systems: readonly System[], top: number, room: number): readonly Shape[] => {
  const free = Math.max(0, room - stackHeight(systems));
  const widest = (systemGap.most - systemGap.least) * 100;
  const gap = systemGap.least * 100 + Math.min(widest, free / Math.max(1, systems.length));
  let y = top;
  return systems.map((system) => {
    const shift = shape(
      'g',
      {
        ...system.shape.attributes,
        transform: `translate(${figure(margins.left * 100)}, ${figure(y - system.extent.top)})`,
      },
      system.shape.children,
    );
    y += heightOf(system) + gap;
    return shift;
  });
};

const used = (content: readonly Shape[], glyphs: ReadonlyMap<string, Shape>): readonly Shape[] => {
  const names = new Set(
    content.flatMap((one) =>
      allOf(one, ({ name }) => name === 'use').map(({ attributes }) => (attributes['href'] ?? '').slice(1)),
    ),
  );
  return [...names].sort().flatMap((name) => {
    const glyph = glyphs.get(name);
    return glyph === undefined ? [] : [{ ...glyph, attributes: { ...glyph.attributes, id: name } }];
  });
};

/** Puts the pages together. */
export const composed = (
  groups: readonly (readonly System[])[],
  glyphs: ReadonlyMap<string, Shape>,
  page: Page,
  head: HeadText,
  fonts: { readonly text: string; readonly music: string },
): readonly Shape[] =>
  groups.map((systems, i) => {
    const several = groups.length > 1;
    const top = headOf(head, page, fonts.music);
    const room = roomOn(page, head, several);
    const content = [
      ...(i === 0 ? [top.shape] : []),
      ...placed(systems, margins.top * 100 + (i === 0 ? top.height : 0), i === 0 ? room.first : room.other),
      ...(several ? [footOf(head, page, i + 1, groups.length)] : []),
    ];
    return shape(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        width: `${page.width}mm`,
        height: `${page.height}mm`,
        viewBox: `0 0 ${page.width * 100} ${page.height * 100}`,
        'font-family': fonts.text,
        'xml:space': 'preserve',
      },
      [shape('defs', {}, used(content, glyphs)), ...content],
    );
  });
