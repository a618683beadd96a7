/** One measure of a score or part. Source: MEI Guidelines 5, 4.2.1 "The Role of the Measure Element". */
import { F, type Fraction, type Place } from '../../../units/index.ts';
import { emptyMeasure, type MeasureDraft } from '../drafts/draft.ts';
import { notKept } from '../drafts/log.ts';
import { attribute, childrenOf, type XmlElement } from '../xml.ts';
import { readLine, type EndingRead } from './barlines.ts';
import { applyDefinition, tellPart } from './changes.ts';
import { isCue, readRest } from './events.ts';
import { readLayer } from './layer.ts';
import { copyBack, fullBarOf } from './repeats.ts';
import { placeIn, spend, wait, type PartState, type StaffState, type World } from './state.ts';
import { staffNamed, type Troupe } from './troupe.ts';
import { whole } from './values.ts';

/** Layout, of which docs/formats/mei.md says once for all that it is not kept. */
export const layout = new Set([
  'pb',
  'sb',
  'cb',
  'lb',
  'gb',
  'colLayout',
  'mNum',
  'pgHead',
  'pgFoot',
  'pgHead2',
  'pgFoot2',
]);

export interface MeasureItem {
  readonly element: XmlElement;
  readonly starts: EndingRead | null;
  readonly stops: EndingRead | null;
}

/**
 * Whether a measure is outside the numbering, as the model's implicit bars are: it does not fill its metre and has no number of
 * its own.
 */
const isImplicit = (element: XmlElement, number: string, before: string): boolean =>
  attribute(element, 'metcon') === 'false' &&
  (number === '' || number === before || number === '0' || !/^\d+$/.test(number));

const draftOf = (world: World, part: PartState, bar: number): MeasureDraft => {
  const known = part.drafts[bar];
  if (known !== undefined && known !== null) return known;
  while (part.drafts.length < bar) part.drafts.push(null);
  const state = world.bars[bar];
  const made = emptyMeasure(state?.number ?? '', state?.implicit ?? false);
  part.drafts[bar] = made;
  return made;
};

/** Layers of staves below the first count on, as is usual: 5 is the first of the second staff. */
const voiceOf = (staff: StaffState, layer: string): string => {
  if (staff.part.staves === 1) return layer;
  const n = whole(layer, 1, 4);
  return n === null ? `${staff.number}-${layer}` : String((staff.number - 1) * 4 + n);
};

const fillSeveral = (world: World, staff: StaffState, bar: number, place: Place): void => {
  for (const [layer, several] of staff.several) {
    if (several.bar === bar) continue;
    const drawn = staff.drawn.get(bar) ?? [];
    if (several.left <= 0 || drawn.length > 0) {
      staff.several.delete(layer);
      continue;
    }
    several.left -= 1;
    const draft = draftOf(world, staff.part, bar);
    const voice = voiceOf(staff, layer);
    const ratio = { actual: 1, normal: 1 };
    const common = { world, staff, bar, layer, voice, place };
    if (several.kind === 'copy') {
      const reach = copyBack({ ...common, draft }, bar - several.count, F.zero, null, F.zero);
      draft.extent = F.max(draft.extent, F.max(reach, fullBarOf(staff)));
      continue;
    }
    const nothing: XmlElement = { name: 'mRest', attributes: {}, children: [], text: '', line: 0 };
    const setting = { ...common, at: F.zero, ratio, grace: null, cue: false };
    const rest = readRest(nothing, null, F.one, true, setting);
    world.barRests.push({ note: rest.note, draft, bar, full: fullBarOf(staff) });
  }
};

const readStaff = (
  element: XmlElement,
  bar: number,
  troupe: Troupe,
  world: World,
  read: Set<StaffState>,
): void => {
  const staff = staffNamed(element, bar, troupe, world);
  const draft = draftOf(world, staff.part, bar);
  const place = placeIn(world, bar, staff.part);
  const layers = childrenOf(element, 'layer');
  if (!read.has(staff)) {
    read.add(staff);
    // The definitions of a staff that turns up only here.
    tellPart(troupe.staves.size === 0 ? [] : stavesOf(staff.part, troupe), draft, world.log, place);
  }
  const cueBefore = staff.cue;
  staff.cue ||= isCue(element, true);
  layers.forEach((layer, index) => {
    const name = attribute(layer, 'n') || String(index + 1);
    const voice = voiceOf(staff, name);
    const reach: Fraction = readLayer(layer, {
      world,
      staff,
      staves: troupe.staves,
      bar,
      draft,
      layer: name,
      voice,
      place,
    });
    draft.extent = F.max(draft.extent, reach);
  });
  staff.cue = cueBefore;
  for (const item of element.children)
    if (item.name !== 'layer' && !layout.has(item.name))
      wait(world, { element: item, bar, staves: troupe.staves, at: F.zero, layerStaff: staff });
};

const stavesOf = (part: PartState, troupe: Troupe): readonly StaffState[] => troupe.byPart.get(part) ?? [];

const definitions = new Set(['staffDef', 'scoreDef', 'staffGrp']);

/** Reads a measure as bar `bar` of the score; the first container that has that bar gives it its number. */
export const readMeasure = (item: MeasureItem, bar: number, troupe: Troupe, world: World): void => {
  const { element } = item;
  if (world.bars[bar] === undefined) {
    const number = attribute(element, 'n') || attribute(element, 'label');
    const implicit = isImplicit(element, number, world.bars[bar - 1]?.number ?? '');
    const incomplete = attribute(element, 'metcon') === 'false';
    world.bars.push({ number, implicit, incomplete, unit: 4 });
  }
  const id = attribute(element, 'xml:id');
  if (id !== '' && !world.barsById.has(id)) world.barsById.set(id, [bar]);
  spend(world, 50 * troupe.parts.length + troupe.staves.size);
  for (const part of troupe.parts) {
    part.count = 0;
    const draft = draftOf(world, part, bar);
    tellPart(stavesOf(part, troupe), draft, world.log, placeIn(world, bar, part));
  }
  const read = new Set<StaffState>();
  for (const staff of troupe.staves.values()) staff.keys.set(bar, staff.key);
  for (const child of element.children) {
    if (child.name === 'staff') readStaff(child, bar, troupe, world, read);
    else if (definitions.has(child.name)) {
      applyDefinition(child, troupe.staves, world.log, placeIn(world, bar));
      for (const part of troupe.parts)
        tellPart(stavesOf(part, troupe), draftOf(world, part, bar), world.log, placeIn(world, bar, part));
    } else if (!layout.has(child.name))
      wait(world, { element: child, bar, staves: troupe.staves, at: F.zero, layerStaff: null });
  }
  for (const staff of troupe.staves.values()) {
    fillSeveral(world, staff, bar, placeIn(world, bar, staff.part));
  }
  const [first] = troupe.parts;
  const [staff] = troupe.staves.values();
  const state = world.bars[bar];
  if (first === undefined || state === undefined) return;
  const draft = draftOf(world, first, bar);
  const atStart = draft.metres.findLast(({ at }) => !F.isPositive(at))?.metre ?? staff?.metre;
  state.unit = atStart?.components[0]?.unit ?? 4;
  const place = placeIn(world, bar);
  readLine(attribute(element, 'left'), 'left', draft, world.log, place);
  readLine(attribute(element, 'right'), 'right', draft, world.log, place);
  const { starts, stops } = item;
  if (starts !== null)
    draft.endings.push({ edge: 'left', type: 'start', numbers: starts.numbers, text: starts.text });
  if (stops !== null)
    draft.endings.push({ edge: 'right', type: stops.type, numbers: stops.numbers, text: stops.text });
  if (attribute(element, 'join') !== '')
    notKept(world.log, 'measure/join', 'Which measures belong together', place);
};
