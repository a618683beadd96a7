/** SVG as text: elements that are written, never read. The same picture gives the same text. */

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
export const escaped = (text: string): string => text.replace(/[&<>"]/g, (c) => escapes[c] ?? c);

/** Hundredths of a pixel are enough. */
const rounded = (value: number): string => String(Math.round(value * 100) / 100 + 0);

type Attributes = Readonly<Record<string, string | number>>;

/** `content` is SVG already; text has to be escaped. */
export const element = (name: string, attributes: Attributes, content = ''): string => {
  const list = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? rounded(value) : escaped(value)}"`)
    .join('');
  return content === '' ? `<${name}${list}/>` : `<${name}${list}>${content}</${name}>`;
};

export const label = (text: string, attributes: Attributes): string =>
  element('text', attributes, escaped(text));
