/** Marks from one place to another: slurs and ties at notes, hairpins, octave lines and dashes as directions. */
import { beats, F, type Fraction, lookUp } from '../../../units/index.ts';
import type { Direction } from '../../model.ts';
import { notKept } from '../drafts/log.ts';
import { attribute } from '../xml.ts';
import { placeIn, spend, type Drawn, type PartState, type Waiting, type World } from './state.ts';
import { setBeams } from './beams.ts';
import { tokens } from './values.ts';
import { before, endOf, headsOf, noteAt, startOf, type Spot } from './where.ts';

interface Line {
  readonly start: Spot;
  readonly end: Spot;
}

/** Lines that run at once in a part are told apart by numbers from 1; so many at once are more than anyone draws. */
const mostAtOnce = 99;

/** Numbers for lines in order of their beginnings: the lowest that is free. A line that ends where another begins is over. */
const numbered = <T extends Line>(lines: readonly T[]): readonly (readonly [T, number])[] => {
  const open: (Spot | undefined)[] = [];
  return lines
    .toSorted((a, b) => (before(a.start, b.start) ? -1 : before(b.start, a.start) ? 1 : 0))
    .map((line) => {
      let number = 0;
      for (; number < mostAtOnce - 1; number += 1) {
        const busy = open[number];
        if (busy === undefined || !before(line.start, busy)) break;
      }
      open[number] = line.end;
      return [line, number + 1];
    });
};

const byPart = <T>(items: readonly T[], partOf: (item: T) => PartState | undefined): Map<PartState, T[]> => {
  const groups = new Map<PartState, T[]>();
  for (const item of items) {
    const part = partOf(item);
    if (part === undefined) continue;
    const group = groups.get(part);
    if (group === undefined) groups.set(part, [item]);
    else group.push(item);
  }
  return groups;
};

const headAt = (spot: Spot, layer: string): Drawn | null =>
  spot.heads[0] ?? (spot.staff === null ? null : noteAt(spot.staff, spot.bar, spot.at, layer));

/** All `slur` and `phrase` elements: starts and stops at the notes they join. */
export const readSlurs = (all: readonly Waiting[], world: World): void => {
  const found = all.flatMap((waiting): (Line & { from: Drawn; to: Drawn })[] => {
    const start = startOf(waiting, world);
    const end = start === null ? null : endOf(waiting, start, world);
    const layer = attribute(waiting.element, 'layer');
    const from = start === null ? null : headAt(start, layer);
    const to = end === null ? null : headAt(end, layer);
    if (start === null || end === null || from === null || to === null) {
      world.log.say(
        'repair',
        'slur-unpaired',
        'A slur does not say from which note to which it goes; it is left out.',
        placeIn(world, waiting.bar),
      );
      return [];
    }
    return [{ start, end, from, to }];
  });
  const starts: (() => void)[] = [];
  for (const lines of byPart(found, ({ from }) => from.staff.part).values())
    for (const [{ from, to }, number] of numbered(lines)) {
      to.note.marks.slurs.push({ type: 'stop', number });
      starts.push(() => from.note.marks.slurs.push({ type: 'start', number }));
    }
  // At each note what ends stands before what begins.
  for (const start of starts) start();
};

const samePitch = (a: Drawn, b: Drawn): boolean =>
  a.note.pitch === null || b.note.pitch === null
    ? a.note.pitch === b.note.pitch
    : a.note.pitch.step === b.note.pitch.step && a.note.pitch.octave === b.note.pitch.octave;

/** A `tie` element: between chords it joins the heads of the same pitch. */
export const readTie = (waiting: Waiting, world: World): void => {
  const start = startOf(waiting, world);
  const end = start === null ? null : endOf(waiting, start, world);
  const layer = attribute(waiting.element, 'layer');
  const froms = start === null ? [] : headsAt(start, layer, world);
  const tos = end === null ? [] : headsAt(end, layer, world);
  if (froms.length === 0) {
    notKept(world.log, 'tie', 'A tie that does not begin at a note', placeIn(world, waiting.bar));
    return;
  }
  if (tos.length === 0) {
    for (const { note } of froms) note.tieStart = true;
    return;
  }
  if (froms.length === 1 && tos.length === 1) {
    for (const { note } of froms) note.tieStart = true;
    for (const { note } of tos) note.tieStop = true;
    return;
  }
  for (const from of froms) {
    const to = tos.find((one) => samePitch(from, one));
    if (to === undefined) continue;
    from.note.tieStart = true;
    to.note.tieStop = true;
  }
};

const headsAt = (spot: Spot, layer: string, world: World): readonly Drawn[] => {
  if (spot.heads.length > 0) return spot.heads;
  const head = headAt(spot, layer);
  return head === null || !F.equal(head.note.onset, spot.at) ? [] : chordOf(head, world);
};

/** A head with the other heads of its chord. */
export const chordOf = (head: Drawn, world: World): readonly Drawn[] => {
  const here = head.staff.drawn.get(head.note.bar) ?? [];
  spend(world, here.length);
  const from = here.indexOf(head);
  let to = from + 1;
  while (here[to]?.note.chord === true) to += 1;
  return from < 0 ? [head] : here.slice(from, to);
};

export interface Directed {
  readonly kind: Direction['kind'];
  readonly value: string;
  /** "above", "below" or nothing. */
  readonly place: string;
  readonly number: number;
  /** Which of the file's marks it is: order among those at one place. */
  readonly order: number;
}

/** Adds a direction to the part that a spot is in. */
export const direct = (spot: Spot, directed: Directed, world: World): void => {
  const { kind, value, place, number, order } = directed;
  const part = spot.staff?.part ?? world.parts[0];
  const draft = part?.drafts[spot.bar];
  if (draft === undefined || draft === null) return;
  world.directions.push({
    draft,
    order,
    direction: {
      at: beats(spot.at),
      bar: spot.bar,
      staff: spot.staff?.number ?? 1,
      kind,
      value,
      number,
      above: place === '' ? kind === 'words' : place === 'above',
    },
  });
};

/** Puts the directions where they belong: at one place what ends stands before what begins, else as in the file. */
export const placeDirections = ({ directions }: World): void => {
  const rank = ({ value }: Direction): number => (value === 'stop' ? 0 : 1);
  const inOrder = directions.toSorted((a, b) => rank(a.direction) - rank(b.direction) || a.order - b.order);
  for (const { draft, direction } of inOrder) draft.directions.push(direction);
};

/** Where a line over notes ends: with its last note, if that is also its first; `whole`: with its last note in any case. */
const lineEnd = (start: Spot, end: Spot, wholeNote: boolean): Spot => {
  const [head] = end.heads;
  if (head === undefined || (!wholeNote && before(start, end))) return end;
  const at: Fraction = F.add(head.note.onset, head.note.duration);
  return { ...end, at };
};

interface Drawing extends Line {
  readonly waiting: Waiting;
  readonly kind: Direction['kind'];
  readonly first: string;
}

const octaveValue = (waiting: Waiting): string => {
  const dis = attribute(waiting.element, 'dis');
  const size = dis === '15' || dis === '22' ? dis : '8';
  // Notes under an "8va" are drawn lower than they sound.
  return `${attribute(waiting.element, 'dis.place') === 'below' ? 'up' : 'down'} ${size}`;
};

const drawingOf = (waiting: Waiting, world: World): Drawing | null => {
  const { element } = waiting;
  const start = startOf(waiting, world);
  if (start === null) {
    notKept(
      world.log,
      `${element.name}/start`,
      `A mark "${element.name}" without a place`,
      placeIn(world, waiting.bar),
    );
    return null;
  }
  const octave = element.name === 'octave';
  const end = endOf(waiting, start, world) ?? start;
  const kind = octave ? 'octaveShift' : element.name === 'hairpin' ? 'wedge' : 'dashes';
  const form = attribute(element, 'form');
  const first = octave
    ? octaveValue(waiting)
    : kind === 'dashes'
      ? 'start'
      : form === 'dim'
        ? 'diminuendo'
        : 'crescendo';
  return { waiting, start, end: lineEnd(start, end, octave), kind, first };
};

/** Hairpins, octave lines and the dashes behind words; what has no end is drawn as a beginning only. */
export const readDrawnLines = (all: readonly Waiting[], world: World): void => {
  const drawings = all.flatMap((waiting) => drawingOf(waiting, world) ?? []);
  for (const lines of byPart(drawings, ({ start }) => start.staff?.part ?? world.parts[0]).values())
    for (const kind of ['wedge', 'octaveShift', 'dashes'] as const)
      for (const [{ waiting, start, end, first }, number] of numbered(
        lines.filter((one) => one.kind === kind),
      )) {
        const place =
          attribute(waiting.element, 'place') ||
          (kind === 'octaveShift' ? attribute(waiting.element, 'dis.place') : '');
        const directed: Directed = { kind, value: first, place, number, order: waiting.order };
        direct(start, directed, world);
        if (before(start, end)) direct({ ...end, staff: start.staff }, { ...directed, value: 'stop' }, world);
      }
};

/** Under an octave line notes sound where the line says, unless the file gives their octave (MEI Guidelines 5, 4.3.6.5). */
export const shiftOctaves = (all: readonly Waiting[], world: World): void => {
  for (const waiting of all) {
    const drawing = drawingOf(waiting, world);
    const staff = drawing?.start.staff ?? null;
    if (drawing === null || staff === null) continue;
    const { start, end } = drawing;
    const octaves = lookUp({ '15': 2, '22': 3 }, attribute(waiting.element, 'dis')) ?? 1;
    const by = attribute(waiting.element, 'dis.place') === 'below' ? 0 - octaves : octaves;
    const layer = attribute(waiting.element, 'layer');
    for (let bar = start.bar; bar <= end.bar; bar += 1)
      for (const drawn of staff.drawn.get(bar) ?? []) {
        spend(world, 1);
        const { note, octaveGiven } = drawn;
        const spot = { bar, at: note.onset };
        if (note.pitch === null || octaveGiven || (layer !== '' && layer !== drawn.layer)) continue;
        if (before(spot, start) || !before(spot, end)) continue;
        note.pitch = { ...note.pitch, octave: note.pitch.octave + by };
        world.log.tally(
          'assumption',
          'octave-line-applied',
          '',
          (many) =>
            `Notes stand under an octave line, and the file does not say in which octave they sound (${many}); they are read as the line says.`,
          placeIn(world, bar, staff.part),
        );
      }
  }
};

/** More notes than any beam holds. */
const mostBeamed = 1000;

/** A `beamSpan`: the notes that it lists, else those of its layer from its first to its last. */
export const readBeamSpan = (waiting: Waiting, world: World): void => {
  const listed = tokens(attribute(waiting.element, 'plist'))
    .slice(0, mostBeamed)
    .flatMap((uri) => headsOf(uri, waiting, world)?.[0] ?? []);
  const start = startOf(waiting, world);
  const end = start === null ? null : endOf(waiting, start, world);
  const from = listed[0] ?? start?.heads[0];
  const to = end?.heads[0];
  const events = listed.length > 1 ? [...listed] : [];
  if (events.length === 0 && from !== undefined && to !== undefined)
    for (let bar = from.note.bar; bar <= to.note.bar; bar += 1)
      for (const drawn of from.staff.drawn.get(bar) ?? []) {
        spend(world, 1);
        const inside = drawn.order >= from.order && drawn.order <= to.order;
        if (inside && drawn.layer === from.layer && !drawn.note.chord && drawn.note.kind === from.note.kind)
          events.push(drawn);
      }
  if (events.length < 2)
    notKept(
      world.log,
      'beamSpan',
      'A beam that does not say which notes it holds',
      placeIn(world, waiting.bar),
    );
  setBeams(
    events.slice(0, mostBeamed).map(({ note }) => ({ note: note.kind === 'rest' ? null : note, breakTo: 0 })),
  );
};
