import { F, type Beats, type Place } from '../../../units/index.ts';
import { metreLength, type Metre } from '../../metre.ts';
import type { Bar, Direction, Jump, Mark, Part } from '../../model.ts';
import type { WrittenNote } from '../../notes.ts';
import { noChanges, writeAttributes, type Changes } from './attributes.ts';
import { writeLeftBarline, writeRightBarline } from './barline.ts';
import { inDivisions, type Context } from './context.ts';
import { writePartDirection } from './directions.ts';
import { atStart, writeJump, type NameOf } from './jumps.ts';
import { takesNoTime, writeNote } from './note.ts';
import { streamsOf, type Unit } from './streams.ts';
import { writeMarks } from './tempo.ts';

/** All that one part's bar holds. */
export interface Measure {
  readonly bar: Bar;
  readonly part: Part;
  readonly divisions: bigint;
  /** Whether this part shows what holds for everyone: marks and jumps. */
  readonly first: boolean;
  /** Null where the bar before has the same. */
  readonly metre: Metre | null;
  readonly notes: readonly WrittenNote[];
  readonly directions: readonly Direction[];
  readonly changes: Changes;
  readonly marks: readonly Mark[];
  /** Jumps that directions of some part say in words. */
  readonly spoken: ReadonlySet<Jump['kind']>;
  readonly nameOf: NameOf;
}

/** Something without length that stands at a position of the bar, in divisions from its start. */
interface Item {
  readonly tick: bigint;
  readonly write: () => void;
}

/** Keeps the musical position within a bar: notes move it on, `forward` and `backup` move it to and fro. */
class Cursor {
  readonly #context: Context;
  at = 0n;
  furthest = 0n;

  constructor(context: Context) {
    this.#context = context;
  }

  advance(by: bigint): void {
    this.at += by;
    if (this.at > this.furthest) this.furthest = this.at;
  }

  /** Moves to a position; `of` names the voice and staff that are silent meanwhile. */
  moveTo(tick: bigint, of: { readonly voice: string; readonly staff: number | null } | null = null): void {
    const { out } = this.#context;
    const by = tick - this.at;
    if (by < 0n) out.within('backup', {}, () => out.leaf('duration', -by));
    if (by > 0n)
      out.within('forward', {}, () => {
        out.leaf('duration', by);
        if (of === null) return;
        if (of.voice !== '') out.leaf('voice', of.voice);
        if (of.staff !== null) out.leaf('staff', of.staff);
      });
    this.advance(by);
  }
}

const byTick = <T extends { readonly tick: bigint }>(a: T, b: T): number =>
  a.tick < b.tick ? -1 : a.tick > b.tick ? 1 : 0;

const implicit = ({ number, pickup }: Bar): boolean => pickup || number === '' || /^X\d*$/.test(number);

/** Sorts keys, clefs and transpositions by their position in the bar. */
const changesByTick = ({ changes }: Measure, tickOf: (at: Beats) => bigint): ReadonlyMap<bigint, Changes> => {
  const found = new Map<bigint, Changes>();
  const at = (position: Beats): Changes => {
    const tick = tickOf(position);
    const entry = found.get(tick) ?? noChanges();
    found.set(tick, entry);
    return entry;
  };
  for (const key of changes.keys) at(key.at).keys.push(key);
  for (const clef of changes.clefs) at(clef.at).clefs.push(clef);
  for (const transposition of changes.transpositions) at(transposition.at).transpositions.push(transposition);
  return found;
};

/** What is to be written at its position in the bar, in that order. */
const itemsOf = (
  context: Context,
  measure: Measure,
  tickOf: (at: Beats) => bigint,
  place: Place,
): readonly Item[] => {
  const { bar, part, divisions, first, metre, marks } = measure;
  const items: Item[] = [];
  const changes = changesByTick(measure, tickOf);
  const opening = {
    divisions: bar.index === 0 ? divisions : null,
    metre,
    staves: bar.index === 0 && part.staves > 1 ? part.staves : null,
  };
  items.push({
    tick: 0n,
    write: () => writeAttributes(context, part, changes.get(0n) ?? noChanges(), opening),
  });
  for (const [tick, changed] of changes)
    if (tick !== 0n) items.push({ tick, write: () => writeAttributes(context, part, changed) });
  if (first) {
    for (const jump of bar.jumps)
      if (atStart(jump))
        items.push({
          tick: 0n,
          write: () => writeJump(context, jump, measure.spoken.has(jump.kind), measure.nameOf, place),
        });
    const together = new Map<bigint, Mark[]>();
    for (const mark of marks) {
      const tick = tickOf(mark.at);
      const group = together.get(tick);
      if (group === undefined) together.set(tick, [mark]);
      else group.push(mark);
    }
    for (const [tick, group] of together)
      items.push({ tick, write: () => writeMarks(context, group, place) });
  }
  for (const direction of measure.directions)
    items.push({
      tick: tickOf(direction.at),
      write: () => writePartDirection(context, direction, part.staves, place),
    });
  return items.toSorted(byTick);
};

/** Writes one bar of one part. */
export const writeMeasure = (context: Context, measure: Measure): void => {
  const { bar, part, divisions } = measure;
  const { out } = context;
  const place: Place = { part: part.id, bar: bar.number };
  const tickOf = (at: Beats): bigint => inDivisions(F.sub(at, bar.start), divisions);
  const length = inDivisions(bar.length, divisions);
  const cursor = new Cursor(context);
  const staffOf = (staff: number) => (part.staves > 1 || staff > 1 ? staff : null);

  const writeUnit = ({ head, chord }: Unit): void => {
    let bearing = false;
    for (const note of [head, ...chord]) {
      const written = writeNote(context, note, bearing, { divisions, staves: part.staves }, place);
      if (written && !bearing && !takesNoTime(note)) cursor.advance(inDivisions(note.duration, divisions));
      bearing ||= written;
    }
  };

  out.open('measure', {
    number: context.clean(bar.number, 'A bar number', place),
    implicit: implicit(bar) ? 'yes' : undefined,
  });
  writeLeftBarline(context, bar, place);

  const items = itemsOf(context, measure, tickOf, place);
  let next = 0;
  const writeItems = (until: bigint | null): void => {
    for (let item = items[next]; item !== undefined; item = items[next]) {
      if (until !== null && item.tick > until) return;
      cursor.moveTo(item.tick);
      item.write();
      next++;
    }
  };

  writeItems(0n);
  streamsOf(measure.notes).forEach(({ voice, units }, index) => {
    for (const unit of units) {
      const tick = tickOf(unit.onset);
      if (index === 0) writeItems(tick);
      cursor.moveTo(tick, { voice, staff: staffOf(unit.head.staff) });
      writeUnit(unit);
    }
    if (index === 0) writeItems(null);
  });
  writeItems(null);

  // Readers take a whole-bar rest for as long as the metre says: in a longer bar the length has to be said by itself.
  const full = metreLength(bar.metre);
  const overfull = full !== null && F.less(full, bar.length);
  if (overfull && measure.notes.every(({ wholeBar }) => wholeBar)) cursor.moveTo(0n);
  const last = measure.first ? bar.jumps.filter((jump) => !atStart(jump)) : [];
  if (cursor.furthest < length || cursor.at === 0n || last.length > 0) cursor.moveTo(length);
  for (const jump of last) writeJump(context, jump, measure.spoken.has(jump.kind), measure.nameOf, place);
  writeRightBarline(context, bar);
  out.close();
};
