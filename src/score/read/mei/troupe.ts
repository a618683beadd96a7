/** The parts and staves of one score or performer part, matched with those of the movements before it. */
import { fitId } from '../drafts/ids.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { plansOf, within, type PartPlan } from './cast.ts';
import { referred } from './tree.ts';
import { placeIn, spend, type PartState, type StaffState, type World } from './state.ts';

export interface Troupe {
  readonly parts: PartState[];
  /** By number, in score order. */
  readonly staves: Map<string, StaffState>;
  /** The staves of each part, top to bottom. */
  readonly byPart: Map<PartState, StaffState[]>;
  /** Staff numbers by the id of their `staffDef`. */
  readonly byId: ReadonlyMap<string, string>;
  /** Whether the file defines its staves at all. */
  readonly planned: boolean;
}

const nothingTold: StaffState['told'] = { key: null, clef: null, metre: null, shift: null };

/** `earlier`: what the drafts know of this staff from the movement before. */
const freshStaff = (
  n: string,
  part: PartState,
  number: number,
  earlier: StaffState['told'] = nothingTold,
): StaffState => ({
  n,
  part,
  number,
  key: null,
  clef: null,
  metre: null,
  shift: null,
  scoreKey: null,
  ppq: 0,
  told: { ...earlier },
  defaultDuration: '',
  defaultOctave: '',
  cue: false,
  tablature: false,
  drawn: new Map(),
  last: new Map(),
  tied: new Map(),
  beams: new Map(),
  spans: new Map(),
  keys: new Map(),
  several: new Map(),
  words: new Map(),
});

const newPart = (plan: PartPlan, world: World): PartState => {
  const { wish, name, abbreviation, sound, program, numbers } = plan;
  const id = world.newId(fitId(wish === '' ? `P${world.parts.length + 1}` : wish));
  const part: PartState = {
    index: world.parts.length,
    head: { id, name, abbreviation, sound, program },
    numbers: numbers.join(' '),
    drafts: [],
    staves: numbers.length,
    count: 0,
  };
  world.parts.push(part);
  return part;
};

/** The part of an earlier movement that plays this one: of the same name, or, without names, on the same staves. */
const partFor = (plan: PartPlan, taken: ReadonlySet<PartState>, world: World): PartState => {
  spend(world, world.parts.length);
  const free = world.parts.filter((part) => !taken.has(part));
  const same =
    free.find(({ head }) => plan.name !== '' && head.name === plan.name) ??
    free.find(
      ({ head, numbers }) => (plan.name === '' || head.name === '') && numbers === plan.numbers.join(' '),
    );
  if (same === undefined) return newPart(plan, world);
  if (same.head.name === '') same.head = { ...same.head, name: plan.name, abbreviation: plan.abbreviation };
  same.staves = Math.max(same.staves, plan.numbers.length);
  return same;
};

/** Who plays a score or part. `taken`: parts that are already at work beside it. */
export const troupeOf = (container: XmlElement, taken: Set<PartState>, world: World): Troupe => {
  const staves = new Map<string, StaffState>();
  const parts: PartState[] = [];
  const byPart = new Map<PartState, StaffState[]>();
  const plans = plansOf(container);
  for (const plan of plans) {
    const part = partFor(plan, taken, world);
    taken.add(part);
    parts.push(part);
    const own: StaffState[] = [];
    byPart.set(part, own);
    spend(world, plan.numbers.length * (1 + world.staves.length));
    plan.numbers.forEach((n, index) => {
      const earlier = world.staves.findLast((one) => one.part === part && one.number === index + 1);
      const staff = freshStaff(n, part, index + 1, earlier?.told);
      // A movement that states no key has none; where nothing was stated before, nothing is.
      const key = earlier?.told.key ?? null;
      staff.key = key === null || key.fifths === 0 ? key : { fifths: 0, mode: '', alters: new Map() };
      staves.set(n, staff);
      own.push(staff);
      world.staves.push(staff);
    });
  }
  if (plans.length === 0)
    world.log.say(
      'repair',
      'part-list-missing',
      'The file has no list of parts; parts are taken as they come.',
    );
  const byId = new Map<string, string>();
  for (const one of within(container, new Set(['staffDef']))) {
    const id = attribute(one, 'xml:id');
    if (id !== '' && !byId.has(id)) byId.set(id, attribute(one, 'n'));
  }
  return { parts, staves, byPart, byId, planned: plans.length > 0 };
};

/** The staff that a `staff` element fills; one that nobody defined becomes a part of its own. */
export const staffNamed = (element: XmlElement, bar: number, troupe: Troupe, world: World): StaffState => {
  const n = attribute(element, 'n') || (troupe.byId.get(referred(attribute(element, 'def'))) ?? '');
  const known = troupe.staves.get(n) ?? (n === '' ? [...troupe.staves.values()][0] : undefined);
  if (known !== undefined) return known;
  const part = newPart(
    { wish: '', name: '', abbreviation: '', sound: '', program: null, numbers: [n] },
    world,
  );
  if (troupe.planned)
    world.log.say(
      'repair',
      'part-not-listed',
      `The file holds music for a part "${n.slice(0, 30)}" that its list of parts does not name. It is kept without a name.`,
      placeIn(world, bar, part),
    );
  const staff = freshStaff(n, part, 1);
  const [first] = troupe.staves.values();
  if (first !== undefined) {
    staff.metre = first.metre;
    staff.key = first.key;
  }
  troupe.parts.push(part);
  troupe.staves.set(n, staff);
  troupe.byPart.set(part, [staff]);
  world.staves.push(staff);
  staff.keys.set(bar, staff.key);
  return staff;
};
