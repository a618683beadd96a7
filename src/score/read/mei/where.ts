/** Where a control event stands: by the id of a note, by time stamp, or by the layer it is in (MEI Guidelines 5, 4.2.6). */
import { F, type Fraction } from '../../../units/index.ts';
import { attribute } from '../xml.ts';
import { placeIn, type Drawn, type StaffState, type Waiting, type World } from './state.ts';
import { referred } from './tree.ts';
import { plainDecimal, readEndTimestamp, readTimestamp, tokens } from './values.ts';

export interface Spot {
  readonly bar: number;
  /** From the bar's left edge. */
  readonly at: Fraction;
  readonly staff: StaffState | null;
  /** All heads that its ids name; empty where it goes by time. */
  readonly heads: readonly Drawn[];
}

export const before = (a: Pick<Spot, 'bar' | 'at'>, b: Pick<Spot, 'bar' | 'at'>): boolean =>
  a.bar !== b.bar ? a.bar < b.bar : F.less(a.at, b.at);

/** Notes and rests of a staff in a bar in order of time, chords by their first head, grace notes left out. */
const sortedNotes = new WeakMap<StaffState, Map<number, readonly Drawn[]>>();

const notesOf = (staff: StaffState, bar: number): readonly Drawn[] => {
  const bars = sortedNotes.get(staff) ?? new Map<number, readonly Drawn[]>();
  sortedNotes.set(staff, bars);
  const known = bars.get(bar);
  if (known !== undefined) return known;
  const made = (staff.drawn.get(bar) ?? [])
    .filter(({ note }) => !note.chord && note.kind !== 'grace')
    .sort((a, b) => F.compare(a.note.onset, b.note.onset) || a.order - b.order);
  bars.set(bar, made);
  return made;
};

/** How many notes that begin together are looked through for one in the right layer. */
const mostTogether = 64;

/** Index of the last note that begins at or before `at`; -1 where all begin later. */
const lastUpTo = (notes: readonly Drawn[], at: Fraction): number => {
  let low = 0;
  let high = notes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const note = notes[middle];
    if (note !== undefined && F.atMost(note.note.onset, at)) low = middle + 1;
    else high = middle;
  }
  return low - 1;
};

/** The note or rest of a staff that begins at a place, in that layer if one is named; else the one that sounds there. */
export const noteAt = (staff: StaffState, bar: number, at: Fraction, layer: string): Drawn | null => {
  const notes = notesOf(staff, bar);
  const last = lastUpTo(notes, at);
  const candidates = notes.slice(Math.max(0, last + 1 - mostTogether), last + 1).reverse();
  const inLayer = candidates.filter((drawn) => layer === '' || drawn.layer === layer);
  const beginning = inLayer.filter(({ note }) => F.equal(note.onset, at)).reverse();
  return (
    beginning.find(({ note }) => note.kind === 'note') ??
    beginning[0] ??
    inLayer.find(({ note }) => F.less(at, F.add(note.onset, note.duration))) ??
    null
  );
};

/** The note that ends at or sounds just before a place in its bar: where a breath is taken. */
export const noteBefore = (staff: StaffState, bar: number, at: Fraction, layer: string): Drawn | null => {
  const notes = notesOf(staff, bar);
  for (let index = lastUpTo(notes, at); index >= 0; index -= 1) {
    const drawn = notes[index];
    if (drawn === undefined || (layer !== '' && drawn.layer !== layer)) continue;
    if (drawn.note.kind === 'note' && F.less(drawn.note.onset, at)) return drawn;
  }
  return null;
};

/** The heads that an id names; null, with a problem, where there are none. */
export const headsOf = (uri: string, waiting: Waiting, world: World): readonly Drawn[] | null => {
  const heads = world.events.get(referred(uri));
  if (heads !== undefined) return heads;
  world.log.say(
    'repair',
    'reference-broken',
    `A mark ("${waiting.element.name}") refers to "${uri.slice(0, 60)}", but no such note is there; it is placed by its time, if it has one.`,
    placeIn(world, waiting.bar),
  );
  return null;
};

/** The staves that a control event is for. */
export const stavesFor = (waiting: Waiting): readonly StaffState[] => {
  const named = tokens(attribute(waiting.element, 'staff')).flatMap((n) => waiting.staves.get(n) ?? []);
  if (named.length > 0) return named;
  return waiting.layerStaff === null ? [] : [waiting.layerStaff];
};

const firstStaff = (waiting: Waiting): StaffState | null => [...waiting.staves.values()][0] ?? null;

/** A time stamp of a bar: in ticks of a quarter where the file counts so, else in beats. */
const stampAt = (text: string, bar: number, staff: StaffState | null, world: World): Fraction | null => {
  if (!world.ticks || staff === null || staff.ppq === 0)
    return readTimestamp(text, world.bars[bar]?.unit ?? 4);
  const ticks = plainDecimal(text);
  if (ticks === null || F.less(F.fraction(1_000_000), ticks)) return null;
  return F.max(F.zero, F.mul(ticks, F.fraction(1, 4 * staff.ppq)));
};

/** Where it begins; null where it names only notes that are not there. */
export const startOf = (waiting: Waiting, world: World): Spot | null => {
  const { element, bar } = waiting;
  const startid = attribute(element, 'startid');
  const list = tokens(attribute(element, 'plist'));
  const uris = startid !== '' ? [startid] : list;
  const staff = stavesFor(waiting)[0] ?? null;
  const timed = attribute(element, 'tstamp');
  for (const uri of uris) {
    const heads = headsOf(uri, waiting, world);
    const [head] = heads ?? [];
    if (heads === null || head === undefined) continue;
    return { bar: head.note.bar, at: head.note.onset, staff: staff ?? head.staff, heads };
  }
  const at = timed === '' ? null : stampAt(timed, bar, staff ?? firstStaff(waiting), world);
  if (at === null && (uris.length > 0 || timed !== '') && waiting.layerStaff === null) return null;
  return { bar, at: at ?? waiting.at, staff: staff ?? firstStaff(waiting), heads: [] };
};

/** Where it ends; null where it does not say so. */
export const endOf = (waiting: Waiting, start: Spot, world: World): Spot | null => {
  const { element } = waiting;
  const endid = attribute(element, 'endid');
  if (endid !== '') {
    const heads = headsOf(endid, waiting, world);
    const [head] = heads ?? [];
    if (heads !== null && head !== undefined)
      return { bar: head.note.bar, at: head.note.onset, staff: head.staff, heads };
  }
  const end = readEndTimestamp(attribute(element, 'tstamp2'));
  if (end === null || attribute(element, 'tstamp2') === '') return null;
  const bar = waiting.bar + end.bars;
  const state = world.bars[bar];
  if (state === undefined) {
    const last = world.bars.length - 1;
    return { bar: last, at: F.fraction(1_000_000), staff: start.staff, heads: [] };
  }
  const at = stampAt(end.beat, bar, start.staff, world) ?? F.zero;
  return { bar, at, staff: start.staff, heads: [] };
};
