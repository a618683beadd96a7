/**
 * The file's tree made plain before the music is read: namespace prefixes dropped, one reading chosen wherever the
 * edition offers several, references to other elements followed. Sources: MEI Guidelines 5, chapters "Scholarly
 * editing" (app, lem, rdg, choice, subst, del, restore) and "Linking data" (copyof, sameas).
 */
import { Refusal, type Place } from '../../../units/index.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { attribute, type XmlElement } from '../xml.ts';

/** Wrappers that say something of their content and leave it as it is. */
const transparent = new Set([
  'add',
  'abbr',
  'corr',
  'damage',
  'expan',
  'handShift',
  'lem',
  'orig',
  'rdg',
  'reg',
  'restore',
  'retain',
  'sic',
  'subst',
  'supplied',
  'unclear',
]);

/** Of the two sides of a choice, the one that is played: what the editor says is right. */
const preferred = ['corr', 'reg', 'expan', 'sic', 'orig', 'abbr', 'unclear', 'choice'];

/** Elements made by following references, and how deep they may lie: bounds no score comes near. */
const limits = { copies: 1_000_000, depth: 400 } as const;

const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

/** The id that a reference such as "#note1" names; empty for what lies outside the file. */
export const referred = (uri: string): string => (uri.startsWith('#') ? uri.slice(1) : '');

/** Every element by its `xml:id`; the first of two with the same id. */
const indexOf = (root: XmlElement): ReadonlyMap<string, XmlElement> => {
  const byId = new Map<string, XmlElement>();
  const open: XmlElement[] = [root];
  for (let element = open.pop(); element !== undefined; element = open.pop()) {
    const id = attribute(element, 'xml:id');
    if (id !== '' && !byId.has(id)) byId.set(id, element);
    for (let index = element.children.length - 1; index >= 0; index -= 1) {
      const child = element.children[index];
      if (child !== undefined) open.push(child);
    }
  }
  return byId;
};

interface Walk {
  readonly byId: ReadonlyMap<string, XmlElement>;
  readonly log: Log;
  /** Ids whose copies are being made, so that a circle is seen. */
  readonly following: Set<string>;
  copies: number;
  /** Number of the bar that is being made plain. */
  bar: string;
  copying: number;
}

const placeOf = (walk: Walk, element: XmlElement): Place =>
  walk.bar === '' ? { line: element.line } : { bar: walk.bar };

const chosenReading = (element: XmlElement, walk: Walk): readonly XmlElement[] => {
  const readings = element.children.filter(({ name }) => ['lem', 'rdg', 'rdgGrp'].includes(localName(name)));
  const first = readings.find(({ name }) => localName(name) === 'lem') ?? readings[0];
  if (first === undefined) return [];
  if (readings.length > 1)
    walk.log.tally(
      'assumption',
      'reading-chosen',
      'app',
      (many) =>
        `The edition gives different readings of a place (${many}); the one that the editor prefers is read, else the first.`,
      placeOf(walk, element),
    );
  return localName(first.name) === 'rdgGrp' ? chosenReading(first, walk) : [first];
};

const chosenSide = (element: XmlElement, walk: Walk): readonly XmlElement[] => {
  for (const name of preferred) {
    const side = element.children.filter((one) => localName(one.name) === name);
    if (side.length === 0) continue;
    if (side.length < element.children.length)
      walk.log.tally(
        'assumption',
        'reading-chosen',
        'choice',
        (many) =>
          `The edition gives a place as it stands and as it should be (${many}); what the editor says is right is read.`,
        placeOf(walk, element),
      );
    return side.slice(0, name === 'unclear' ? 1 : side.length);
  }
  return element.children;
};

/** The children of an ossia that sound: staves and layers of the main text. */
const mainText = (element: XmlElement, walk: Walk): readonly XmlElement[] => {
  const numbered = (one: XmlElement): boolean =>
    !['oStaff', 'oLayer'].includes(localName(one.name)) && attribute(one, 'n') !== '';
  notKept(walk.log, 'ossia', 'An ossia (another way to play a place)', placeOf(walk, element));
  return element.children.filter(numbered);
};

/** What an element stands for, or null where it stands for itself. */
const inner = (name: string, element: XmlElement, walk: Walk): readonly XmlElement[] | null => {
  // A wrapper around words keeps them; one around music steps aside.
  if (transparent.has(name)) return element.text.trim() === '' ? element.children : null;
  switch (name) {
    case 'app':
      return chosenReading(element, walk);
    case 'choice':
      return chosenSide(element, walk);
    case 'ossia':
      return mainText(element, walk);
    case 'del':
      notKept(walk.log, 'del', 'A passage that is struck out', placeOf(walk, element));
      return [];
    case 'gap':
      notKept(walk.log, 'gap', 'A gap in the source', placeOf(walk, element));
      return [];
    default:
      return null;
  }
};

/** The element that `copyof` or `sameas` names, told where there is none or it leads in a circle. */
const targetOf = (element: XmlElement, walk: Walk): { id: string; target: XmlElement } | null => {
  const uri = attribute(element, 'copyof') || attribute(element, 'sameas');
  if (uri === '') return null;
  const id = referred(uri);
  const target = walk.byId.get(id);
  const what = uri.slice(0, 60);
  if (target === undefined || localName(target.name) !== localName(element.name)) {
    walk.log.say(
      'repair',
      'reference-broken',
      `The file refers to "${what}" for the content of this "${localName(element.name)}", but no such element is there; it is read as it stands.`,
      placeOf(walk, element),
    );
    return null;
  }
  if (walk.following.has(id)) {
    walk.log.say(
      'repair',
      'reference-broken',
      `The file refers to "${what}" in a circle; the reference is not followed.`,
      placeOf(walk, element),
    );
    return null;
  }
  return { id, target };
};

/** `at`: where it stands in the text of the element that it comes to stand in. */
const plain = (
  element: XmlElement,
  walk: Walk,
  depth: number,
  ownId: boolean,
  at = element.at ?? 0,
): XmlElement => {
  const name = localName(element.name);
  if (depth > limits.depth)
    throw new Refusal(
      'xml-too-deep',
      `With its references followed the file is nested more than ${limits.depth} levels deep.`,
      { line: element.line },
    );
  if (walk.copying > 0 && (walk.copies += 1) > limits.copies)
    throw new Refusal(
      'file-too-large',
      `With its references followed the file has more than ${limits.copies} copied elements; no score has.`,
      { line: element.line },
    );
  const barBefore = walk.bar;
  if (name === 'measure') walk.bar = attribute(element, 'n');
  let { attributes, children } = element;
  const found = targetOf(element, walk);
  let made: readonly XmlElement[];
  if (found !== null && (children.length === 0 || attribute(element, 'copyof') !== '')) {
    walk.following.add(found.id);
    walk.copying += 1;
    const copy = plain(found.target, walk, depth + 1, false);
    walk.copying -= 1;
    walk.following.delete(found.id);
    attributes = { ...copy.attributes, ...attributes };
    made = children.length === 0 ? copy.children : plainChildren(children, walk, depth, ownId);
  } else made = plainChildren(children, walk, depth, ownId);
  children = made;
  if (!ownId && 'xml:id' in element.attributes) {
    // A copy is another element: what refers to the id means the one that bears it.
    attributes = Object.fromEntries(Object.entries(attributes).filter(([key]) => key !== 'xml:id'));
  }
  walk.bar = barBefore;
  return { name, attributes, children, text: element.text, at, line: element.line };
};

const plainChildren = (
  children: readonly XmlElement[],
  walk: Walk,
  depth: number,
  ownId: boolean,
): readonly XmlElement[] => {
  if (children.length === 0) return children;
  const out: XmlElement[] = [];
  const add = (element: XmlElement, level: number, at: number): void => {
    const content = inner(localName(element.name), element, walk);
    if (content === null) {
      out.push(plain(element, walk, level, ownId, at));
      return;
    }
    for (const one of content) add(one, level + 1, at);
  };
  for (const child of children) add(child, depth + 1, child.at ?? 0);
  return out;
};

/** The plain tree of a document. Throws Refusal `xml-too-deep` and `file-too-large`. */
export const plainTree = (root: XmlElement, log: Log): XmlElement =>
  plain(root, { byId: indexOf(root), log, following: new Set(), copies: 0, bar: '', copying: 0 }, 0, true);

/** All text inside an element in the order of the file, pieces with `joint` between them, white space collapsed. */
export const deepText = (element: XmlElement, joint = ' '): string => {
  const { text, children } = element;
  if (children.length === 0) return text.replace(/\s+/g, ' ').trim();
  const pieces: string[] = [];
  let from = 0;
  for (const child of children) {
    const at = child.at ?? text.length;
    pieces.push(text.slice(from, at), deepText(child, joint));
    from = Math.max(from, at);
  }
  pieces.push(text.slice(from));
  return pieces
    .map((piece) => piece.replace(/\s+/g, ' ').trim())
    .filter((piece) => piece !== '')
    .join(joint);
};
