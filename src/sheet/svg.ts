/** An SVG picture as a tree that can be searched and written again. No white space is added: text stays as it is. */
import { parseXml, type XmlElement } from '../score/read/xml.ts';
import { ok, type Result } from '../units/index.ts';

/** An element of a picture. Holds either children or text. */
export interface Shape {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Shape[];
  readonly text: string;
}

export const shape = (
  name: string,
  attributes: Readonly<Record<string, string | number>> = {},
  content: readonly Shape[] | string = [],
): Shape => ({
  name,
  attributes: Object.fromEntries(Object.entries(attributes).map(([key, value]) => [key, String(value)])),
  children: typeof content === 'string' ? [] : content,
  text: typeof content === 'string' ? content : '',
});

const plain = ({ name, attributes, children, text }: XmlElement): Shape => ({
  name,
  attributes,
  children: children.map(plain),
  // Between elements there is only white space; beside them no text ever stands in what the engraver writes.
  text: children.length > 0 ? '' : text,
});

/** Reads a picture. Errors: those of `parseXml`. */
export const readSvg = (text: string): Result<Shape> => {
  const parsed = parseXml(text);
  return parsed.ok ? ok(plain(parsed.value)) : parsed;
};

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (c) => escapes[c] ?? c);

/** Writes a picture. The same tree gives the same text. */
export const svgText = ({ name, attributes, children, text }: Shape): string => {
  const list = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(value)}"`)
    .join('');
  const content = children.length > 0 ? children.map(svgText).join('') : escaped(text);
  return content === '' ? `<${name}${list}/>` : `<${name}${list}>${content}</${name}>`;
};

/** The words of a class attribute. */
export const classesOf = ({ attributes }: Shape): readonly string[] =>
  (attributes['class'] ?? '').split(' ').filter((word) => word !== '');

export const isOf = (element: Shape, name: string): boolean => classesOf(element).includes(name);

/** All elements for which `wanted` holds, in document order; what lies inside one that was found is searched too. */
export const allOf = (root: Shape, wanted: (element: Shape) => boolean): readonly Shape[] => {
  const found: Shape[] = [];
  const walk = (element: Shape) => {
    if (wanted(element)) found.push(element);
    for (const inner of element.children) walk(inner);
  };
  walk(root);
  return found;
};

/** An attribute as a number; NaN where it is none. */
export const numberOf = ({ attributes }: Shape, name: string): number =>
  Number.parseFloat(attributes[name] ?? '');

/** Rounded to a thousandth of a millimetre's tenth: pictures are in hundredths of a millimetre. */
export const figure = (value: number): string => String(Math.round(value * 10) / 10);
