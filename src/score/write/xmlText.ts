/**
 * Text fit for XML 1.0 (fifth edition, https://www.w3.org/TR/xml/) and a writer of indented elements. Lines are
 * gathered in one array and joined once, so that the cost grows with the length of the document and no faster.
 */

/** What XML 1.0 forbids (production 2, Char): most control characters, lone surrogates, U+FFFE and U+FFFF. */
const forbidden = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

/** The text without the characters that no XML document may hold, and how many were taken out. */
export const cleanText = (text: string): { readonly text: string; readonly removed: number } => {
  const removed = text.match(forbidden)?.length ?? 0;
  return { text: removed === 0 ? text : text.replace(forbidden, ''), removed };
};

const references: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

/** Escapes character data. A carriage return becomes a reference: a reader would take a bare one for a line feed. */
const escapeText = (text: string): string =>
  text.replace(/[&<>\r]/g, (character) => references[character] ?? character);

/** Escapes an attribute's value, white space included: a reader would turn it into plain spaces. */
const escapeAttribute = (text: string): string =>
  text.replace(/[&<>"\t\n\r]/g, (character) => references[character] ?? character);

/** Attributes in the order in which they are written; those that are undefined are left out. */
export type Attributes = Readonly<Record<string, string | number | bigint | undefined>>;

const attributeText = (attributes: Attributes): string => {
  let text = '';
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined) text += ` ${name}="${escapeAttribute(String(value))}"`;
  return text;
};

/** Collects the lines of a document, two spaces of indentation for each level. */
export class XmlLines {
  readonly #lines: string[] = [];
  readonly #open: string[] = [];

  /** A line as it is, such as the XML declaration. */
  raw(line: string): void {
    this.#lines.push(line);
  }

  open(name: string, attributes: Attributes = {}): void {
    this.#lines.push(`${this.#indent()}<${name}${attributeText(attributes)}>`);
    this.#open.push(name);
  }

  /** Closes the element opened last. */
  close(): void {
    const name = this.#open.pop() ?? '';
    this.#lines.push(`${this.#indent()}</${name}>`);
  }

  /** An element that holds text only. */
  leaf(name: string, text: string | number | bigint, attributes: Attributes = {}): void {
    const content = escapeText(String(text));
    this.#lines.push(
      content === ''
        ? `${this.#indent()}<${name}${attributeText(attributes)}/>`
        : `${this.#indent()}<${name}${attributeText(attributes)}>${content}</${name}>`,
    );
  }

  empty(name: string, attributes: Attributes = {}): void {
    this.leaf(name, '', attributes);
  }

  /** An element around what `content` writes. */
  within(name: string, attributes: Attributes, content: () => void): void {
    this.open(name, attributes);
    content();
    this.close();
  }

  toString(): string {
    return `${this.#lines.join('\n')}\n`;
  }

  #indent(): string {
    return '  '.repeat(this.#open.length);
  }
}
