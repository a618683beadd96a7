/**
 * Text split into runs by the fonts that can draw them. What none can draw is told, never drawn as empty boxes in
 * silence. Signs of the music font among words become shapes, so that the page needs text fonts only.
 */
import { problem, type Problem } from '../units/index.ts';
import type { FontFace, FontStyle } from './ports.ts';
import { figure, numberOf, shape, type Shape } from './svg.ts';

/** Characters that draw nothing of their own: joiners, direction marks, variation selectors, soft hyphen. */
const silent = /[\u00ad\u034f\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2064\ufe00-\ufe0f\ufeff]/gu;

/** Text as it is drawn: composed, so that a letter and its accent are one sign where there is such a one. */
const drawable = (text: string): string => text.normalize('NFC').replace(silent, '').replace(/\s+/gu, ' ');

const styleOf = (bold: boolean, italic: boolean): FontStyle =>
  bold ? (italic ? 'bold-italic' : 'bold') : italic ? 'italic' : 'regular';

export const familyList = ({ family, fallback }: FontFace): string => `${family}, ${fallback}, serif`;

/** A piece of text in one face. */
interface Run {
  readonly face: FontFace;
  readonly style: FontStyle;
  readonly size: number;
  readonly text: string;
}

const widthOf = ({ face, text, style, size }: Run): number => face.width(text, style) * size;

/** Shapes of a run in a face that is drawn, from its left end. */
const outlined = ({ face, text, size }: Run, x: number, y: number): readonly Shape[] => {
  let at = x;
  return Array.from(text).flatMap((character) => {
    const outline = face.outline?.(character.codePointAt(0) ?? 0);
    const left = at;
    at += face.width(character, 'regular') * size;
    if (outline === undefined || outline.path === '') return [];
    const scale = size / outline.unitsPerEm;
    const factor = String(Math.round(scale * 1e5) / 1e5);
    return [
      shape('path', {
        class: 'glyph',
        transform: `translate(${figure(left)}, ${figure(y)}) scale(${factor}, -${factor})`,
        d: outline.path,
      }),
    ];
  });
};

/** Runs in a line that starts at its own place. */
interface Line {
  readonly x: number;
  readonly y: number;
  readonly runs: Run[];
}

/** Attributes that place a text: said anew for each line. */
const placing = ['font-size', 'x', 'y', 'text-anchor'];

const optional = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** Splits pages' text; afterwards `missing` tells what no face draws. */
export class Faces {
  readonly #faces: readonly FontFace[];
  readonly #missing = new Set<string>();

  /** `faces` by preference; at least one. */
  constructor(faces: readonly FontFace[]) {
    this.#faces = faces;
  }

  /** The picture with every run of text in a face that has its characters. */
  applied(root: Shape): Shape {
    const walk = (one: Shape, bold: boolean, italic: boolean): Shape => {
      const [isBold, isItalic] = styled(one, bold, italic);
      if (one.name === 'text') return this.#text(one, isBold, isItalic);
      return one.children.length === 0
        ? one
        : { ...one, children: one.children.map((inner) => walk(inner, isBold, isItalic)) };
    };
    return walk(root, false, false);
  }

  /** One Problem for all characters that no face draws; none where all are drawn. */
  missing(): readonly Problem[] {
    if (this.#missing.size === 0) return [];
    const list = [...this.#missing].sort();
    const named = list.slice(0, 20).map((c) => `${c} (U+${codeOf(c)})`);
    const more = list.length > named.length ? ` and ${list.length - named.length} more` : '';
    const [these, their] = list.length === 1 ? ['this character', 'its'] : ['these characters', 'their'];
    return [
      problem(
        'note',
        'glyph-missing',
        `The fonts of the page lack ${these}: ${named.join(', ')}${more}. An empty box stands in ${their} place on paper.`,
      ),
    ];
  }

  #text(element: Shape, bold: boolean, italic: boolean): Shape {
    const lines: Line[] = [{ x: numberOf(element, 'x'), y: numberOf(element, 'y'), runs: [] }];
    const walk = (one: Shape, isBold: boolean, isItalic: boolean, size: number, family: string): void => {
      const own = numberOf(one, 'font-size');
      const now = Number.isFinite(own) && own > 0 ? own : size;
      const [b, i] = styled(one, isBold, isItalic);
      const named = one.attributes['font-family'] ?? family;
      const [x, y] = [optional(numberOf(one, 'x')), optional(numberOf(one, 'y'))];
      const last = lines.at(-1);
      if (one !== element && last !== undefined && (x !== null || y !== null))
        lines.push({ x: x ?? last.x, y: y ?? last.y, runs: [] });
      for (const inner of one.children) walk(inner, b, i, now, named);
      if (one.children.length === 0 && one.text !== '')
        lines.at(-1)?.runs.push(...this.#runs(drawable(one.text), styleOf(b, i), now, named));
    };
    walk(element, bold, italic, 0, '');
    const anchor = element.attributes['text-anchor'] ?? 'start';
    const drawn = lines.filter(({ runs }) => runs.length > 0);
    const kept = Object.fromEntries(
      Object.entries(element.attributes).filter(([name]) => !placing.includes(name)),
    );
    const placed = drawn.flatMap((line) => this.#line(line, anchor));
    const [only] = placed;
    return placed.length === 1 && only !== undefined
      ? { ...only, attributes: { ...only.attributes, ...kept } }
      : shape('g', kept, placed);
  }

  /** One text element where all is text; else each run in its own place. */
  #line({ x, y, runs }: Line, anchor: string): readonly Shape[] {
    const spans = (row: readonly Run[]): readonly Shape[] =>
      row.map(({ face, size, text }) =>
        shape(
          'tspan',
          {
            'font-size': figure(size),
            ...(face === this.#faces[0] ? {} : { 'font-family': familyList(face) }),
          },
          text,
        ),
      );
    if (runs.every(({ face }) => face.outline === null))
      return [shape('text', { x: figure(x), y: figure(y), 'text-anchor': anchor }, spans(runs))];
    const width = runs.reduce((sum, run) => sum + widthOf(run), 0);
    let at = x - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
    return runs.flatMap((run) => {
      const left = at;
      at += widthOf(run);
      return run.face.outline === null
        ? [shape('text', { x: figure(left), y: figure(y), 'text-anchor': 'start' }, spans([run]))]
        : outlined(run, left, y);
    });
  }

  #runs(text: string, style: FontStyle, size: number, family: string): readonly Run[] {
    const named = this.#faces.find((face) => face.outline !== null && face.family === family);
    if (named !== undefined) return [{ face: named, style, size, text }];
    const runs: { face: FontFace; text: string }[] = [];
    const [first] = this.#faces;
    if (first === undefined) return [];
    for (const character of text) {
      const code = character.codePointAt(0) ?? 0;
      const last = runs.at(-1);
      const keeps = last !== undefined && (character === ' ' || last.face.covers(code, style));
      const face = keeps ? last.face : this.#faces.find(({ covers }) => covers(code, style));
      if (face === undefined) this.#missing.add(character);
      if (last !== undefined && (face === undefined || face === last.face)) last.text += character;
      else runs.push({ face: face ?? first, text: character });
    }
    return runs.map((run) => ({ ...run, style, size }));
  }
}

/** Whether text is bold and italic in an element. */
const styled = ({ attributes }: Shape, bold: boolean, italic: boolean): readonly [boolean, boolean] => {
  const weight = attributes['font-weight'];
  const slant = attributes['font-style'];
  return [weight === undefined ? bold : weight === 'bold', slant === undefined ? italic : slant === 'italic'];
};

const codeOf = (character: string): string =>
  (character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
