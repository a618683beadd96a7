/**
 * XML 1.0 to a light tree of elements. Strict: what is not well formed is an error with its line. Nothing outside the
 * text is ever fetched; a document type declaration is accepted and not followed; entities of one's own are refused.
 */
import { SaxesParser } from 'saxes';
import { ok, Refusal, refusable, type Result } from '../../units/index.ts';

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** The text directly inside, pieces joined. */
  readonly text: string;
  /** How many characters of its parent's text stand before it; missing in elements that no file holds. */
  readonly at?: number;
  /** Line of its start tag, from 1. */
  readonly line: number;
}

/** Limits that no score comes near: they bound memory and recursion for hostile files. */
const xmlLimits = { characters: 64 * 1024 * 1024, depth: 200, elements: 3_000_000 } as const;

interface Growing extends XmlElement {
  children: Growing[];
  text: string;
}

const none: Growing[] = [];

/** Plain words for what the parser found; the parser's own words start with "line:column: ". */
const broken = (message: string, line: number, column: number): Refusal => {
  const what = message.replace(/^\d+:\d+: /, '').replace(/\.$/, '');
  return new Refusal(
    'xml-broken',
    `The XML is not well formed at line ${line}, column ${column}: ${what}. The file may be damaged or cut off.`,
    { line, column },
  );
};

/**
 * Parses a whole document. Errors: `xml-broken` with line and column, `xml-entities`, `file-too-large`, `xml-too-deep`.
 */
export const parseXml = (text: string): Result<XmlElement> =>
  refusable(() => {
    if (text.length > xmlLimits.characters)
      throw new Refusal(
        'file-too-large',
        'The XML is longer than 64 million characters; no score is that long.',
      );
    const parser = new SaxesParser({ xmlns: false, position: true });
    const open: Growing[] = [];
    const roots: Growing[] = [];
    let count = 0;
    parser.on('error', (error) => {
      throw broken(error.message, parser.line, parser.column + 1);
    });
    parser.on('doctype', (doctype) => {
      if (/<!ENTITY/.test(doctype))
        throw new Refusal(
          'xml-entities',
          'The file declares XML entities of its own. They can fetch or blow up content and are not read; no score needs them.',
          { line: parser.line },
        );
    });
    parser.on('opentag', (tag) => {
      count += 1;
      if (count > xmlLimits.elements)
        throw new Refusal('file-too-large', `The XML has more than ${xmlLimits.elements} elements.`);
      if (open.length >= xmlLimits.depth)
        throw new Refusal('xml-too-deep', `The XML is nested more than ${xmlLimits.depth} levels deep.`, {
          line: parser.line,
        });
      const { name, attributes } = tag;
      const parent = open.at(-1);
      const at = parent === undefined ? 0 : parent.text.length;
      const element: Growing = { name, attributes, children: none, text: '', at, line: parser.line };
      if (parent === undefined) roots.push(element);
      else if (parent.children === none) parent.children = [element];
      else parent.children.push(element);
      open.push(element);
    });
    parser.on('closetag', () => void open.pop());
    const append = (piece: string): void => {
      const parent = open.at(-1);
      if (parent !== undefined) parent.text += piece;
    };
    parser.on('text', append);
    parser.on('cdata', append);
    parser.write(text).close();
    const [root] = roots;
    if (root === undefined) throw broken('there is no element', 1, 1);
    return ok<XmlElement>(root);
  });

/** First child of that name. */
export const child = (element: XmlElement, name: string): XmlElement | undefined => {
  for (const candidate of element.children) if (candidate.name === name) return candidate;
  return undefined;
};

export const childrenOf = (element: XmlElement, name: string): readonly XmlElement[] =>
  element.children.filter((candidate) => candidate.name === name);

/** White space as XML Schema collapses it for tokens. */
export const collapse = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** Text of the first child of that name, trimmed; empty where there is none. */
export const childText = (element: XmlElement, name: string): string =>
  child(element, name)?.text.trim() ?? '';

/** The attribute, trimmed; empty where there is none. */
export const attribute = (element: XmlElement, name: string): string =>
  element.attributes[name]?.trim() ?? '';
