/** Tuplets that cross beams or bar lines (`tupletSpan`): found before the notes are read, since they tell how long these last. */
import type { World, TupletSpan } from './state.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { within } from './cast.ts';
import { referred } from './tree.ts';
import { ratioOf } from './tuplets.ts';
import { tokens } from './values.ts';

const spanNames = new Set(['tupletSpan']);
const layerNames = new Set(['layer']);
const staffNames = new Set(['staff']);

/** The staff and layer in which each of the ids asked for stands. */
const layersOf = (root: XmlElement, asked: ReadonlySet<string>): ReadonlyMap<string, string> => {
  const found = new Map<string, string>();
  for (const staff of within(root, staffNames))
    for (const [index, layer] of within(staff, layerNames).entries()) {
      const key = `${attribute(staff, 'n')}\n${attribute(layer, 'n') || index + 1}`;
      const open = [layer];
      for (let element = open.pop(); element !== undefined; element = open.pop()) {
        const id = attribute(element, 'xml:id');
        if (id !== '' && asked.has(id)) found.set(id, key);
        open.push(...element.children);
      }
    }
  return found;
};

interface Found {
  readonly element: XmlElement;
  readonly start: string;
  readonly end: string;
  readonly members: readonly string[];
}

/** All tuplet spans by the id of their first element. What leads nowhere is told and left out. */
export const tupletSpans = (root: XmlElement, world: Pick<World, 'log'>): Map<string, TupletSpan[]> => {
  const elements = within(root, spanNames).map((element): Found => {
    const members = tokens(attribute(element, 'plist')).map(referred);
    return {
      element,
      members,
      start: referred(attribute(element, 'startid')) || (members[0] ?? ''),
      end: referred(attribute(element, 'endid')) || (members.at(-1) ?? ''),
    };
  });
  const byStart = new Map<string, TupletSpan[]>();
  if (elements.length === 0) return byStart;
  const layers = layersOf(root, new Set(elements.flatMap(({ start, end }) => [start, end])));
  for (const { element, start, end, members } of elements) {
    const place = { line: element.line };
    if (layers.get(start) === undefined || layers.get(start) !== layers.get(end)) {
      world.log.say(
        'repair',
        'tuplet-unreadable',
        'A tuplet over several groups does not say from which note to which it goes, both in one layer; its notes are kept as plain notes of their length.',
        place,
      );
      continue;
    }
    const ratio = ratioOf(element, world, place);
    if (ratio === null) continue;
    const span: TupletSpan = {
      ...ratio,
      start,
      end,
      members: members.length > 1 ? new Set([...members, start, end]) : new Set(),
    };
    const same = byStart.get(start);
    if (same === undefined) byStart.set(start, [span]);
    else same.push(span);
  }
  return byStart;
};
