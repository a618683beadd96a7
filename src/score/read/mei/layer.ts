/** One layer of one staff in one bar: events in time, with the beams, tuplets and tremolos around them. */
import { beats, F, type Fraction, type Place } from '../../../units/index.ts';
import {
  spend,
  wait,
  type Building,
  type Drawn,
  type StaffState,
  type TupletSpan,
  type World,
} from './state.ts';
import type { WrittenNote } from '../../notes.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { notKept } from '../drafts/log.ts';
import { refuseTooFine } from '../drafts/values.ts';
import { attribute, childrenOf, type XmlElement } from '../xml.ts';
import { readLine } from './barlines.ts';
import { setBeams, type Beamed } from './beams.ts';
import { changeInLayer, isDefinition } from './changes.ts';
import {
  addMarks,
  isCue,
  lengthOf,
  readNote,
  readRest,
  tellLengths,
  writtenOf,
  type Setting,
} from './events.ts';
import { fullBarOf, readRepeatSign } from './repeats.ts';
import { holdsEvents, passedOver } from './names.ts';
import { settleUnsized, type Unsized } from './spaces.ts';
import { inside, ratioOf } from './tuplets.ts';
import { tokens, whole } from './values.ts';

export interface LayerSpot {
  readonly world: World;
  readonly staff: StaffState;
  readonly staves: ReadonlyMap<string, StaffState>;
  readonly bar: number;
  readonly draft: MeasureDraft;
  readonly layer: string;
  readonly voice: string;
  readonly place: Place;
}

interface Around {
  readonly ratio: WrittenNote['tuplet'];
  readonly depth: number;
  readonly grace: Setting['grace'];
  readonly cue: boolean;
  readonly tremolo: boolean;
  readonly beam: Beamed[] | null;
  /** First heads of the events of each tuplet around, innermost last. */
  readonly tuplets: readonly Building[][];
}

/** Reads a layer; the result is how far it reaches. */
export const readLayer = (layer: XmlElement, spot: LayerSpot): Fraction => {
  const { world, staff, bar, place } = spot;
  let cursor: Fraction = F.zero;
  const unsized: Unsized[] = [];
  const spans = staff.spans.get(spot.layer) ?? [];
  staff.spans.set(spot.layer, spans);

  const advance = (length: Fraction): void => {
    cursor = F.add(cursor, length);
    refuseTooFine(cursor, place);
  };
  const times = (a: WrittenNote['tuplet'], b: WrittenNote['tuplet']): WrittenNote['tuplet'] =>
    inside(a, b, world, place);

  /** Opens the spans that begin with this event; the ratio of all that are open around it. */
  const openSpans = (ids: readonly string[], around: Around): WrittenNote['tuplet'] => {
    for (const id of ids)
      for (const span of world.spans.get(id) ?? []) if (!spans.includes(span)) spans.push(span);
    spend(world, spans.length);
    return spans
      .filter(({ members }) => members.size === 0 || ids.some((id) => members.has(id)))
      .reduce((ratio, { actual, normal }) => times(ratio, { actual, normal }), around.ratio);
  };
  const closeSpans = (ids: readonly string[], head: Building, around: Around): void => {
    const opened = (span: TupletSpan): boolean => ids.includes(span.start);
    spans.forEach((span, index) => {
      const number = around.depth + index + 1;
      if (opened(span)) head.tupletMarks.push({ type: 'start', number });
      if (ids.includes(span.end)) head.tupletMarks.push({ type: 'stop', number });
    });
    for (let index = spans.length - 1; index >= 0; index -= 1)
      if (ids.includes(spans[index]?.end ?? '')) spans.splice(index, 1);
  };

  const idsOf = (element: XmlElement): string[] =>
    [element, ...(element.name === 'chord' ? childrenOf(element, 'note') : [])].flatMap((one) => {
      const id = attribute(one, 'xml:id');
      return id === '' ? [] : [id];
    });
  const register = (element: XmlElement, heads: readonly Drawn[]): void => {
    const id = attribute(element, 'xml:id');
    if (id !== '' && !world.events.has(id)) world.events.set(id, heads);
  };

  /** Beams marked by attributes: "i1", "m1", "t1". */
  const attributeBeam = (element: XmlElement, head: Drawn): void => {
    const [mark = ''] = tokens(attribute(element, 'beam'));
    if (mark.startsWith('i')) staff.beams.set(spot.layer, [head]);
    else if (mark !== '') {
      const open = staff.beams.get(spot.layer) ?? [];
      open.push(head);
      if (!mark.startsWith('t')) return;
      setBeams(open.map(({ note }) => ({ note, breakTo: 0 })));
      staff.beams.delete(spot.layer);
    }
  };

  /** A tie at a chord holds for each pitch that its neighbour has too (MEI Guidelines 5, 4.3.2). */
  const chordTies = (chord: XmlElement | null, heads: readonly Drawn[]): void => {
    const waiting = staff.tied.get(spot.layer) ?? [];
    staff.tied.delete(spot.layer);
    for (const { note } of waiting) {
      const same = heads.find(
        ({ note: next }) =>
          note.pitch !== null &&
          next.pitch?.step === note.pitch.step &&
          next.pitch.octave === note.pitch.octave,
      );
      if (same === undefined) continue;
      note.tieStart = true;
      same.note.tieStop = true;
    }
    const tie = chord === null ? '' : attribute(chord, 'tie');
    if (/[im]/.test(tie)) staff.tied.set(spot.layer, [...heads]);
    if (/[mt]/.test(tie) && waiting.length === 0) for (const { note } of heads) note.tieStop = true;
  };

  const event = (element: XmlElement, around: Around): void => {
    const ids = idsOf(element);
    const graceText = attribute(element, 'grace');
    const grace = graceText === '' ? around.grace : (around.grace ?? { slash: false });
    const isRest = element.name === 'rest' || element.name === 'space';
    if (grace !== null && isRest) {
      if (element.name === 'rest')
        notKept(world.log, 'grace-rest', 'A rest among grace notes, which takes no time', place);
      return;
    }
    const ratio = grace === null ? openSpans(ids, around) : { actual: 1, normal: 1 };
    const setting: Setting = {
      world,
      staff,
      bar,
      layer: spot.layer,
      voice: spot.voice,
      at: cursor,
      ratio,
      grace,
      cue: around.cue || (element.name === 'chord' && isCue(element, grace !== null)),
      place,
    };
    // A space that says no length fills the bar, as some programs write it; so does a rest that is all its layer has.
    if (attribute(element, 'dur') === '' && (element.name === 'space' || (isRest && isAlone(element)))) {
      if (element.name === 'rest') wholeBar(element, around);
      else {
        barRest(null);
        unsized.push({ at: cursor, order: world.order });
      }
      return;
    }
    const written = writtenOf(element, null, setting);
    const length = written === null ? null : lengthOf(written, ratio);
    if (written !== null && length === null)
      world.log.say(
        'repair',
        'duration-out-of-range',
        'A note lasts longer than any music; it is left out.',
        place,
      );
    if (written === null || length === null) return;
    if (element.name === 'space') {
      around.beam?.push({ note: null, breakTo: 0 });
      advance(length);
      return;
    }
    const heads: Drawn[] = [];
    if (element.name === 'rest') heads.push(readRest(element, written.value, length, false, setting));
    else if (element.name === 'note')
      heads.push(readNote(element, null, written.value, length, setting, spot.staves));
    else
      for (const note of childrenOf(element, 'note')) {
        const own = writtenOf(note, written, setting);
        const ownLength = own === null ? null : lengthOf(own, ratio);
        if (own !== null && grace === null && !F.equal(own.length, written.length)) tellLengths(setting);
        const drawn = readNote(
          note,
          element,
          (own ?? written).value,
          ownLength ?? length,
          setting,
          spot.staves,
        );
        drawn.note.chord = heads.length > 0;
        register(note, [drawn]);
        heads.push(drawn);
      }
    const [head] = heads;
    if (head === undefined) {
      if (grace === null) advance(length);
      return;
    }
    if (element.name === 'chord') addMarks(element, head.note, setting);
    for (const child of element.children) if (isDefinition(child)) changeInLayer(child, cursor, spot);
    if (/^[1-6z]/.test(attribute(element, 'stem.mod')) && grace === null) tremolo(head.note);
    if (around.tremolo) tremolo(head.note);
    register(element, heads);
    if (element.name !== 'rest' && grace === null)
      chordTies(element.name === 'chord' ? element : null, heads);
    if (grace === null) closeSpans(ids, head.note, around);
    around.tuplets.forEach((tuplet) => tuplet.push(head.note));
    around.beam?.push({
      note: element.name === 'rest' ? null : head.note,
      breakTo: whole(attribute(element, 'breaksec'), 1, 9) ?? 0,
    });
    if (element.name !== 'rest') attributeBeam(element, head);
    const attributeTuplet = attribute(element, 'tuplet') !== '' && ratio.actual === 1 && ratio.normal === 1;
    if (attributeTuplet) ratioOf({ ...element, attributes: {} }, world, place);
    if (grace === null) advance(length);
  };

  const isAlone = (element: XmlElement): boolean =>
    staff.defaultDuration === '' && layer.children.length === 1 && layer.children[0] === element;

  const tremolo = (note: Building): void => {
    if (!note.marks.ornaments.includes('tremolo')) note.marks.ornaments.push('tremolo');
    notKept(world.log, 'tremolo-strokes', 'How many strokes a tremolo has and to which note it goes', place);
  };

  const tuplet = (element: XmlElement, around: Around): void => {
    const ratio = ratioOf(element, world, place);
    const events: Building[] = [];
    const number = around.depth + 1;
    walk(element, {
      ...around,
      ratio: ratio === null ? around.ratio : times(around.ratio, ratio),
      depth: number,
      tuplets: [...around.tuplets, events],
    });
    const [first] = events;
    const last = events.at(-1);
    if (ratio === null || first === undefined || last === undefined) return;
    first.tupletMarks.unshift({ type: 'start', number });
    last.tupletMarks.push({ type: 'stop', number });
  };

  const wholeBar = (element: XmlElement, around: Around): void => {
    const setting: Setting = {
      ...around,
      world,
      staff,
      bar,
      layer: spot.layer,
      voice: spot.voice,
      at: F.zero,
      ratio: { actual: 1, normal: 1 },
      place,
    };
    const rest = readRest(element, null, F.one, true, setting);
    register(element, [rest]);
    barRest(rest.note);
  };

  const barRest = (note: Building | null): void =>
    void world.barRests.push({ note, draft: spot.draft, bar, full: fullBarOf(staff) });

  const one = (element: XmlElement, around: Around): void => {
    if (isDefinition(element)) {
      changeInLayer(element, cursor, spot);
      return;
    }
    switch (element.name) {
      case 'note':
      case 'chord':
      case 'rest':
      case 'space':
        event(element, around);
        break;
      case 'tabGrp':
        // The heads of one moment of a tablature; without any it is a rest.
        event(
          { ...element, name: element.children.some(({ name }) => name === 'note') ? 'chord' : 'rest' },
          around,
        );
        break;
      case 'beam': {
        const beam: Beamed[] = [];
        if (['acc', 'rit', 'mixed'].includes(attribute(element, 'form')))
          notKept(world.log, 'beam/form', 'A beam that asks for getting faster or slower', place);
        walk(element, { ...around, cue: around.cue || isCue(element, true), beam });
        setBeams(beam);
        break;
      }
      case 'tuplet':
        tuplet(element, around);
        break;
      case 'graceGrp':
        walk(element, {
          ...around,
          beam: null,
          tuplets: [],
          grace: { slash: attribute(element, 'slash') === 'true' },
        });
        break;
      case 'bTrem':
        walk(element, { ...around, tremolo: true });
        break;
      case 'fTrem':
        // Both notes show the length of the whole, as two-note tremolos are written: each lasts half of it.
        walk(element, { ...around, tremolo: true, ratio: times(around.ratio, { actual: 2, normal: 1 }) });
        break;
      case 'mRest':
        wholeBar(element, around);
        break;
      case 'mSpace':
        barRest(null);
        break;
      case 'multiRest': {
        const count = whole(attribute(element, 'num'), 1, 999);
        if (count === null)
          world.log.say(
            'repair',
            'duration-out-of-range',
            `A rest for several bars lasts "${attribute(element, 'num').slice(0, 30)}" bars, which can not be; it is read as one.`,
            place,
          );
        wholeBar(element, around);
        if (count !== null && count > 1)
          staff.several.set(spot.layer, { kind: 'rest', count, bar, left: count - 1 });
        break;
      }
      case 'mRpt':
      case 'mRpt2':
      case 'multiRpt':
      case 'halfmRpt':
      case 'beatRpt':
        cursor = readRepeatSign(element, cursor, spot);
        refuseTooFine(cursor, place);
        break;
      case 'barLine':
        readLine(
          attribute(element, 'form') || attribute(element, 'rend'),
          F.isPositive(cursor) ? 'middle' : 'left',
          spot.draft,
          world.log,
          place,
        );
        break;
      default:
        other(element, around);
    }
  };

  const other = (element: XmlElement, around: Around): void => {
    if (passedOver.has(element.name)) return;
    if (element.name !== 'layer' && holdsEvents(element)) {
      notKept(world.log, element.name, `The element "${element.name}" around notes`, place);
      walk(element, around);
      return;
    }
    wait(world, { element, bar, staves: spot.staves, at: beats(cursor), layerStaff: staff });
  };

  const walk = (element: XmlElement, around: Around): void => {
    for (const child of element.children) one(child, around);
  };

  walk(layer, {
    ratio: { actual: 1, normal: 1 },
    depth: 0,
    grace: null,
    cue: staff.cue || isCue(layer, true),
    tremolo: false,
    beam: null,
    tuplets: [],
  });
  const [gap] = unsized;
  return gap === undefined || F.equal(gap.at, cursor) ? cursor : settleUnsized(gap, cursor, spot);
};
