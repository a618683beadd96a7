/** Sections and endings as one sequence of measures and of the definitions between them. Source: MEI Guidelines 5, chapter 2. */
import { Refusal } from '../../../units/index.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { maximumBars } from '../barplan/limits.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { readEnding, type EndingRead } from './barlines.ts';
import { within } from './cast.ts';
import type { Expansion } from './expansions.ts';
import { layout, type MeasureItem } from './measure.ts';
import { whole } from './values.ts';

export type Item =
  | { readonly kind: 'definition'; readonly element: XmlElement }
  | ({ readonly kind: 'measure' } & MeasureItem);

export interface Sequence {
  readonly items: Item[];
  /** Sections and endings by id: which of the items they hold. */
  readonly stretches: Map<string, readonly [from: number, to: number]>;
  readonly expansions: Expansion[];
}

const definitions = new Set(['scoreDef', 'staffDef', 'staffGrp']);

/** Gathers the measures and definitions of a container in order. */
export const collect = (element: XmlElement, into: Sequence, log: Log): void => {
  const { items } = into;
  for (const item of element.children) {
    if (item.name === 'measure') items.push({ kind: 'measure', element: item, starts: null, stops: null });
    else if (definitions.has(item.name)) items.push({ kind: 'definition', element: item });
    else if (item.name === 'section' || item.name === 'ending') {
      const from = items.length;
      collect(item, into, log);
      const id = attribute(item, 'xml:id');
      if (id !== '' && !into.stretches.has(id)) into.stretches.set(id, [from, items.length]);
      if (item.name === 'ending') bracket(items, from, readEnding(item, log, { line: item.line }));
    } else if (item.name === 'expansion')
      into.expansions.push({ element: item, home: attribute(element, 'xml:id') });
    else if (!layout.has(item.name) && item.name !== 'instrDef')
      notKept(log, item.name, `The element "${item.name}" between measures`, {});
  }
};

/** Puts an ending's bracket over the measures from item `from` on. */
const bracket = (items: Item[], from: number, ending: EndingRead): void => {
  const measures = items.flatMap((item, index) => (index >= from && item.kind === 'measure' ? [index] : []));
  const [first] = measures;
  const last = measures.at(-1);
  if (first === undefined || last === undefined) return;
  const begin = items[first];
  if (begin?.kind === 'measure') items[first] = { ...begin, starts: ending };
  const end = items[last];
  if (end?.kind === 'measure') items[last] = { ...end, stops: ending };
};

const signsForSeveral = new Set(['multiRest', 'mRpt2', 'multiRpt']);
const staffNames = new Set(['layer']);

/** How many bars a measure stands for: more than one where every layer holds nothing but a sign for so many bars. */
const barsOf = (measure: XmlElement): number => {
  const counts = within(measure, staffNames).map((layer) => {
    const [only] = layer.children;
    if (only === undefined || layer.children.length > 1 || !signsForSeveral.has(only.name)) return 1;
    return only.name === 'mRpt2' ? 2 : (whole(attribute(only, 'num'), 1, 999) ?? 1);
  });
  return counts.length === 0 ? 1 : Math.min(...counts);
};

const holdsNothing = (item: Item | undefined): boolean =>
  item?.kind === 'measure' && within(item.element, staffNames).every(({ children }) => children.length === 0);

/** Measures that stand for several bars get the bars they stand for, unless empty measures follow for them. */
export const spreadOut = (items: readonly Item[]): (readonly [Item, number])[] => {
  const measures = items.filter((item) => item.kind === 'measure');
  let position = 0;
  let total = 0;
  return items.flatMap((item, index): (readonly [Item, number])[] => {
    if (item.kind !== 'measure') return [[item, index]];
    position += 1;
    const bars = barsOf(item.element);
    if (bars > 1) total += bars;
    if (total > maximumBars)
      throw new Refusal(
        'too-many-bars',
        `With its rests and repeats for several bars the file has more than ${maximumBars} bars; no piece has.`,
        { bar: attribute(item.element, 'n') },
      );
    const following = measures.slice(position, position + bars - 1);
    if (bars === 1 || (following.length === bars - 1 && following.every(holdsNothing)))
      return [[item, index]];
    const n = attribute(item.element, 'n');
    const more = Array.from({ length: bars - 1 }, (_, later): Item => {
      const number = /^\d{1,9}$/.test(n) ? String(Number(n) + later + 1) : '';
      const element = { ...item.element, attributes: { n: number }, children: [] };
      return { kind: 'measure', element, starts: null, stops: later === bars - 2 ? item.stops : null };
    });
    const { right = '', ...rest } = item.element.attributes;
    const lastMore = more.at(-1);
    if (lastMore?.kind === 'measure')
      more[more.length - 1] = {
        ...lastMore,
        element: { ...lastMore.element, attributes: { ...lastMore.element.attributes, right } },
      };
    const head: Item = { ...item, element: { ...item.element, attributes: rest }, stops: null };
    return [[head, index], ...more.map((one): readonly [Item, number] => [one, -1])];
  });
};
