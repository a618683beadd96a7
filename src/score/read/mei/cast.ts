/**
 * Who plays: parts and their staves from the staff groups of a score. Source: MEI Guidelines 5, 4.2.2; which staves make one
 * player is our own rule, since MEI only says which are braced.
 */
import type { PartHead } from '../drafts/layOut.ts';
import { attribute, child, childrenOf, type XmlElement } from '../xml.ts';
import { deepText } from './tree.ts';
import { whole } from './values.ts';

/** One part as a score plans it: `numbers` are its staves, top to bottom. */
export interface PartPlan extends Omit<PartHead, 'id'> {
  /** The id that the file gives it; may be empty. */
  readonly wish: string;
  readonly numbers: readonly string[];
}

const labelOf = (element: XmlElement): string => {
  const inside = child(element, 'label');
  return inside === undefined ? attribute(element, 'label') : deepText(inside);
};

/** The name of a MIDI instrument, for staves that bear no name. */
const instrumentOf = (element: XmlElement): string =>
  childrenOf(element, 'instrDef')
    .map((one) => attribute(one, 'midi.instrname').replaceAll('_', ' '))
    .find((name) => name !== '') ?? '';

const abbreviationOf = (element: XmlElement): string => {
  const inside = child(element, 'labelAbbr');
  return inside === undefined ? attribute(element, 'label.abbr') : deepText(inside);
};

/** `midi.instrnum` counts the programs of General MIDI from 0 (MEI 5, att.midiInstrument, data.MIDIVALUE). */
const programOf = (element: XmlElement): number | null => {
  for (const one of childrenOf(element, 'instrDef')) {
    const program = whole(attribute(one, 'midi.instrnum'), 0, 127);
    if (program !== null) return program + 1;
  }
  return null;
};

/** Ids that people gave; those that programs make up ("d1e172", "staffdef-0000001") tell nobody anything. */
const wishOf = (element: XmlElement): string => {
  const id = attribute(element, 'xml:id');
  return /^[A-Za-z]{1,12}\d{0,2}$/.test(id) ? id : '';
};

/**
 * Whether a group is one player with several staves: it holds staves only, they do not bear different names of their own,
 * and they are braced, or the group has an instrument of its own, or a name and no bracket.
 */
const isOnePlayer = (group: XmlElement, staves: readonly XmlElement[]): boolean => {
  if (staves.length < 2 || child(group, 'staffGrp') !== undefined) return false;
  const names = new Set(staves.map(labelOf).filter((name) => name !== ''));
  if (names.size > 1) return false;
  const symbol = attribute(group, 'symbol') || attribute(child(group, 'grpSym') ?? group, 'symbol');
  if (symbol === 'brace' || child(group, 'instrDef') !== undefined) return true;
  return names.size === 0 && labelOf(group) !== '' && !symbol.startsWith('bracket');
};

const numberOf = (staff: XmlElement): string => attribute(staff, 'n');

const planOf = (staves: readonly XmlElement[], group: XmlElement | null): PartPlan => {
  const sources = group === null ? staves : [group, ...staves];
  const first = (read: (element: XmlElement) => string): string =>
    sources.map(read).find((text) => text !== '') ?? '';
  return {
    wish: first(wishOf),
    name: first(labelOf) || first(instrumentOf),
    abbreviation: first(abbreviationOf),
    sound: '',
    program: sources.map(programOf).find((program) => program !== null) ?? null,
    numbers: staves.map(numberOf),
  };
};

const plansIn = (group: XmlElement, known: Set<string>): PartPlan[] => {
  const staves = childrenOf(group, 'staffDef').filter((staff) => !known.has(numberOf(staff)));
  if (isOnePlayer(group, staves)) {
    for (const staff of staves) known.add(numberOf(staff));
    return [planOf(staves, group)];
  }
  const alone = group.children.filter(({ name }) => name === 'staffDef' || name === 'staffGrp').length === 1;
  return group.children.flatMap((item): PartPlan[] => {
    if (item.name === 'staffGrp') return plansIn(item, known);
    if (item.name !== 'staffDef' || known.has(numberOf(item))) return [];
    known.add(numberOf(item));
    return [planOf([item], alone ? group : null)];
  });
};

/** Elements of a name anywhere inside, in document order, not looking into those found. */
export const within = (element: XmlElement, names: ReadonlySet<string>): XmlElement[] => {
  const found: XmlElement[] = [];
  const open = [...element.children].reverse();
  for (let item = open.pop(); item !== undefined; item = open.pop()) {
    if (names.has(item.name)) found.push(item);
    else for (let n = item.children.length - 1; n >= 0; n -= 1) open.push(item.children[n] ?? item);
  }
  return found;
};

const groups = new Set(['staffGrp']);

/** The parts that the score definitions of a score or part name, in score order; each staff number once. */
export const plansOf = (container: XmlElement): readonly PartPlan[] => {
  const known = new Set<string>();
  return within(container, groups).flatMap((group) => plansIn(group, known));
};
