/**
 * The outer shape of a MusicXML document: partwise and timewise become the same list of parts with measures, and the
 * part list says who plays. Source: MusicXML 4.0, score-partwise, score-timewise, part-list.
 */
import { Refusal } from '../../../units/index.ts';
import { createIds, fitId } from '../drafts/ids.ts';
import type { PartHead } from '../drafts/layOut.ts';
import { attribute, child, childrenOf, childText, collapse, type XmlElement } from '../xml.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { integerWithin } from './values.ts';

export interface PartShape extends PartHead {
  /** Null: the part has no measure here, while others have. */
  readonly measures: readonly (XmlElement | null)[];
}

/** The measures of one part as the file gives them. */
interface Content {
  readonly id: string;
  readonly measures: (XmlElement | null)[];
}

const partwise = (root: XmlElement): Content[] =>
  childrenOf(root, 'part').map((part) => ({
    id: attribute(part, 'id'),
    measures: [...childrenOf(part, 'measure')],
  }));

/** In timewise files the measure carries the number and the part the music: joined, each is a partwise measure. */
const timewise = (root: XmlElement): Content[] => {
  const byId = new Map<string, Content>();
  const measures = childrenOf(root, 'measure');
  measures.forEach((measure, index) => {
    const seen = new Map<string, number>();
    for (const part of childrenOf(measure, 'part')) {
      const id = attribute(part, 'id');
      const nth = (seen.get(id) ?? 0) + 1;
      seen.set(id, nth);
      const key = `${id}\n${nth}`;
      const content = byId.get(key) ?? { id, measures: measures.map(() => null) };
      byId.set(key, content);
      content.measures[index] = { ...measure, children: part.children };
    }
  });
  return [...byId.values()];
};

const described = (entry: XmlElement | undefined): Omit<PartShape, 'id' | 'measures'> => {
  if (entry === undefined) return { name: '', abbreviation: '', sound: '', program: null };
  const instrument = child(entry, 'score-instrument');
  const midi = childrenOf(entry, 'midi-instrument').find((one) => childText(one, 'midi-program') !== '');
  const name = collapse(childText(entry, 'part-name'));
  return {
    name: name === '' && instrument !== undefined ? collapse(childText(instrument, 'instrument-name')) : name,
    abbreviation: collapse(childText(entry, 'part-abbreviation')),
    sound: instrument === undefined ? '' : childText(instrument, 'instrument-sound'),
    program: midi === undefined ? null : integerWithin(childText(midi, 'midi-program'), 1, 128),
  };
};

const listEntries = (root: XmlElement, log: Log): readonly XmlElement[] => {
  const list = child(root, 'part-list');
  if (list === undefined) {
    log.say('repair', 'part-list-missing', 'The file has no list of parts; parts are taken as they come.');
    return [];
  }
  for (const group of childrenOf(list, 'part-group'))
    if (attribute(group, 'type') === 'start') notKept(log, 'part-group', 'The bracket around parts', {});
  return childrenOf(list, 'score-part');
};

/** Takes each part's content out of `contents` in the order of the part list; what is left follows in file order. */
const inScoreOrder = (
  entries: readonly XmlElement[],
  contents: readonly Content[],
  log: Log,
): readonly (readonly [Content, XmlElement | undefined])[] => {
  const left = new Set(contents);
  const byId = new Map<string, Content[]>();
  for (const content of contents.toReversed()) {
    const same = byId.get(content.id);
    if (same === undefined) byId.set(content.id, [content]);
    else same.push(content);
  }
  const pairs: (readonly [Content, XmlElement | undefined])[] = [];
  for (const entry of entries) {
    const id = attribute(entry, 'id');
    const content = byId.get(id)?.pop();
    if (content !== undefined) left.delete(content);
    if (content !== undefined) {
      pairs.push([content, entry]);
      continue;
    }
    const name = collapse(childText(entry, 'part-name'));
    log.say(
      'repair',
      'part-without-music',
      `The list of parts names "${name === '' ? id : name}", but the file holds no music for it. It is left out.`,
    );
  }
  for (const content of left) {
    log.say(
      'repair',
      'part-not-listed',
      `The file holds music for a part "${content.id}" that its list of parts does not name. It is kept without a name.`,
    );
    pairs.push([content, undefined]);
  }
  return pairs;
};

/**
 * The parts in score order. Throws Refusal `no-bars` where there is no measure at all.
 */
export const shapeOf = (root: XmlElement, log: Log): readonly PartShape[] => {
  const contents = root.name === 'score-timewise' ? timewise(root) : partwise(root);
  const uniqueId = createIds();
  const parts = inScoreOrder(listEntries(root, log), contents, log).map(([content, entry]): PartShape => {
    const id = uniqueId(fitId(content.id));
    if (id !== content.id)
      log.say(
        'repair',
        'part-id-changed',
        `The part id "${content.id}" is used twice or has signs that an id can not have; it is "${id}" here.`,
        { part: id },
      );
    return { id, measures: content.measures, ...described(entry) };
  });
  if (parts.every(({ measures }) => measures.length === 0))
    throw new Refusal('no-bars', 'The file is MusicXML but has no bars: there is no music in it.');
  return parts;
};

/** Work and movement, as far as they are given; else the credit that says it is the title. */
export const titleOf = (root: XmlElement): string => {
  const work = child(root, 'work');
  const names = [
    work === undefined ? '' : collapse(childText(work, 'work-title')),
    collapse(childText(root, 'movement-title')),
  ].filter((name, index, all) => name !== '' && all.indexOf(name) === index);
  if (names.length > 0) return names.join(', ');
  const credit = childrenOf(root, 'credit').find((one) => childText(one, 'credit-type') === 'title');
  return credit === undefined
    ? ''
    : collapse(
        childrenOf(credit, 'credit-words')
          .map(({ text }) => text)
          .join(' '),
      );
};
