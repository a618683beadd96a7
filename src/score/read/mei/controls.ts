/**
 * Control events: what stands beside the staves of a measure and refers to notes or times. Source: MEI Guidelines 5, 4.3
 * "Advanced CMN Features" and 4.4 "Ornaments".
 */
import { beats, F, lookUp } from '../../../units/index.ts';
import { jumpOfWords } from '../drafts/jumpWords.ts';
import { notKept } from '../drafts/log.ts';
import { isTempoWords } from '../drafts/tempoWords.ts';
import { attribute, child, type XmlElement } from '../xml.ts';
import { addArticulations, fermataShape, mordentName, turnName } from './articulation.ts';
import {
  chordOf,
  direct,
  placeDirections,
  readBeamSpan,
  readDrawnLines,
  readSlurs,
  readTie,
  shiftOctaves,
} from './lines.ts';
import { placeIn, type Drawn, type Waiting, type World } from './state.ts';
import { holdsFigure, readTempo } from './tempo.ts';
import { deepText } from './tree.ts';
import { isTrue, tokens } from './values.ts';
import { endOf, headsOf, noteAt, noteBefore, startOf, stavesFor, type Spot } from './where.ts';

/** MusicXML 4.0, element dynamics: the signs of loudness; all else that a `dynam` says is words. */
const dynamics = /^(p{1,6}|f{1,6}|m[pf]|pf|sf{1,2}|sfpp?|sff?z|sfzp|fp|rfz?|fz|n)$/;

const dynamicOf = (text: string): string | null => {
  const plain = text.replace(/\s+/g, '');
  return dynamics.test(plain) ? plain : null;
};

/** Unicode and SMuFL signs, and the names that a `symbol` may give. */
const segno = /[\u{1D10B}\uE047\uE04A\uE04B]/u;
const coda = /[\u{1D10C}\uE048\uE049]/u;

const symbolIn = (element: XmlElement): 'segno' | 'coda' | null => {
  for (const one of [element, ...element.children]) {
    const name = `${attribute(one, 'glyph.name')} ${attribute(one, 'glyph.num').toUpperCase()}`;
    if (/segno/i.test(name) || name.includes('E047')) return 'segno';
    if (/coda/i.test(name) || name.includes('E048')) return 'coda';
  }
  const text = deepText(element);
  return segno.test(text) ? 'segno' : coda.test(text) ? 'coda' : null;
};

type Handler = (waiting: Waiting, spot: Spot, world: World) => void;

/** The note or rest that a mark is for: by its id, else what the staff has at that time. */
const headOf = (waiting: Waiting, spot: Spot): Drawn | null =>
  spot.heads[0] ??
  (spot.staff === null ? null : noteAt(spot.staff, spot.bar, spot.at, attribute(waiting.element, 'layer')));

const unplaced = (waiting: Waiting, world: World): void =>
  notKept(
    world.log,
    `${waiting.element.name}/start`,
    `A mark "${waiting.element.name}" without a place`,
    placeIn(world, waiting.bar, stavesFor(waiting)[0]?.part),
  );

const onNote =
  (add: (head: Drawn, element: XmlElement, waiting: Waiting, world: World) => void): Handler =>
  (waiting, spot, world) => {
    const head = headOf(waiting, spot);
    if (head === null) unplaced(waiting, world);
    else add(head, waiting.element, waiting, world);
  };

const extended = (element: XmlElement): boolean => isTrue(attribute(element, 'extender'));

const ornament = (name: (element: XmlElement) => string): Handler =>
  onNote((head, element, waiting, world) => {
    head.note.marks.ornaments.push(name(element));
    if (attribute(element, 'accidupper') !== '' || attribute(element, 'accidlower') !== '')
      notKept(
        world.log,
        'ornament-accidental',
        'Which accidental belongs to an ornament',
        placeIn(world, waiting.bar, head.staff.part),
      );
    const ends = attribute(element, 'endid') !== '' || attribute(element, 'tstamp2') !== '';
    // A wavy line is drawn behind a trill that has an end (MEI Guidelines 5, 4.4.3).
    const line = element.name === 'trill' && attribute(element, 'extender') !== 'false';
    if (line && (ends || extended(element))) head.note.marks.ornaments.push('wavy-line', 'wavy-line');
    if (ends)
      notKept(
        world.log,
        'ornament-end',
        'How far an ornament goes',
        placeIn(world, waiting.bar, head.staff.part),
      );
  });

const breathing =
  (name: string): Handler =>
  (waiting, spot, world) => {
    const layer = attribute(waiting.element, 'layer');
    const head =
      spot.heads[0] ??
      (spot.staff === null
        ? null
        : (noteBefore(spot.staff, spot.bar, spot.at, layer) ?? headOf(waiting, spot)));
    if (head === null) unplaced(waiting, world);
    else if (!head.note.marks.articulations.includes(name)) head.note.marks.articulations.push(name);
  };

const fermata: Handler = (waiting, spot, world) => {
  const shape = fermataShape(attribute(waiting.element, 'shape'));
  const staff = spot.staff;
  const head = headOf(waiting, spot);
  if (head !== null) {
    head.note.marks.fermata = shape;
    return;
  }
  // Behind all notes, or at "0": over a bar line.
  const draft = (staff?.part ?? world.parts[0])?.drafts[spot.bar];
  if (draft === undefined || draft === null) return;
  const left = !F.isPositive(spot.at) && attribute(waiting.element, 'tstamp') === '0';
  draft.fermatas.push({ edge: left ? 'left' : 'right', shape });
};

const arpeggio: Handler = (waiting, spot, world) => {
  if (attribute(waiting.element, 'order') === 'nonarp') {
    notKept(world.log, 'nonarp', 'The bracket against arpeggiating', placeIn(world, waiting.bar));
    return;
  }
  const listed = tokens(attribute(waiting.element, 'plist')).flatMap(
    (uri) => headsOf(uri, waiting, world) ?? [],
  );
  const single = headOf(waiting, spot);
  const heads =
    listed.length > 0
      ? listed
      : single === null
        ? []
        : spot.heads.length > 1
          ? spot.heads
          : chordOf(single, world);
  if (heads.length === 0) unplaced(waiting, world);
  for (const { note } of heads) note.marks.arpeggio = true;
};

/** A mark for everyone, in the draft of whichever part it stands with. */
const draftAt = (spot: Spot, world: World) => (spot.staff?.part ?? world.parts[0])?.drafts[spot.bar] ?? null;

const tempo: Handler = (waiting, spot, world) => {
  const draft = draftAt(spot, world);
  if (draft === null) return;
  readTempo(waiting.element, beats(spot.at), spot.bar, draft, world.log, placeIn(world, spot.bar));
};

const rehearsal: Handler = (waiting, spot, world) => {
  const text = deepText(waiting.element);
  if (text !== '')
    draftAt(spot, world)?.marks.push({
      mark: { kind: 'rehearsal', at: beats(spot.at), bar: spot.bar, text },
      vague: null,
    });
};

/** Words as a direction of each part that the mark names. */
const spoken = (waiting: Waiting, spot: Spot, value: string, world: World): void => {
  if (value === '') return;
  const place = attribute(waiting.element, 'place');
  inEachPart(waiting, spot, (one) =>
    direct(one, { kind: 'words', value, place, number: 1, order: waiting.order }, world),
  );
};

/** Words: an order to jump, a tempo for everyone, or a direction only. */
const words = (waiting: Waiting, spot: Spot, text: string, world: World): void => {
  if (text === '') return;
  const draft = draftAt(spot, world);
  const jump = jumpOfWords(text);
  if (jump === null && isTempoWords(text)) {
    draft?.marks.push({ mark: { kind: 'tempoWords', at: beats(spot.at), bar: spot.bar, text }, vague: null });
    return;
  }
  if (jump !== null) draft?.jumps.push({ at: spot.at, kind: jump, name: '', from: 'words', text });
  spoken(waiting, spot, text, world);
};

const inEachPart = (waiting: Waiting, spot: Spot, add: (spot: Spot) => void): void => {
  const staves = stavesFor(waiting);
  const parts = new Set<unknown>();
  for (const staff of staves.length > 0 ? staves : [spot.staff]) {
    if (parts.has(staff?.part)) continue;
    parts.add(staff?.part);
    add({ ...spot, staff });
  }
};

const dir: Handler = (waiting, spot, world) => {
  const sign = symbolIn(waiting.element);
  const text = deepText(waiting.element);
  if (sign !== null && (jumpOfWords(text) ?? sign) === sign) {
    draftAt(spot, world)?.jumps.push({
      at: spot.at,
      kind: sign,
      name: '',
      from: 'sign',
      text: `the ${sign} sign`,
    });
    return;
  }
  // Conversions write metronome marks as directions (sample-encodings, MEI 3.0, keytime.mei).
  if (holdsFigure(text)) tempo(waiting, spot, world);
  else words(waiting, spot, text, world);
};

/** MEI 5, repeatMark: its `func` says for playing what it means; the leaving place of a coda only its words tell. */
const repeatMark: Handler = (waiting, spot, world) => {
  const func = attribute(waiting.element, 'func');
  const text = deepText(waiting.element);
  const written = jumpOfWords(text);
  const jumps = draftAt(spot, world)?.jumps;
  const at = spot.at;
  if (written !== null) spoken(waiting, spot, text, world);
  switch (func) {
    case 'segno':
    case 'dalSegno':
    case 'daCapo':
    case 'fine':
      jumps?.push({ at, kind: func, name: '', from: 'sound', text });
      break;
    case 'coda':
      if (written === 'toCoda') jumps?.push({ at, kind: 'toCoda', name: '', from: 'sound', text });
      else jumps?.push({ at, kind: 'coda', name: '', from: 'sign', text: 'the coda sign' });
      break;
    default:
      if (written === null) dir(waiting, spot, world);
      else jumps?.push({ at, kind: written, name: '', from: 'words', text });
  }
};

const dynam: Handler = (waiting, spot, world) => {
  const text = deepText(waiting.element);
  const place = attribute(waiting.element, 'place');
  const value = dynamicOf(text);
  if (value === null) words(waiting, spot, text, world);
  else
    inEachPart(waiting, spot, (one) =>
      direct(one, { kind: 'dynamics', value, place, number: 1, order: waiting.order }, world),
    );
};

const pedal: Handler = (waiting, spot, world) => {
  const dirs: Readonly<Record<string, string>> = {
    down: 'start',
    up: 'stop',
    half: 'change',
    bounce: 'change',
  };
  const { element } = waiting;
  const value = lookUp(dirs, attribute(element, 'dir')) ?? 'start';
  const place = attribute(element, 'place');
  const directed = { kind: 'pedal', value, place, number: 1, order: waiting.order } as const;
  direct(spot, directed, world);
  const end = endOf(waiting, spot, world);
  if (end !== null) direct({ ...end, staff: spot.staff }, { ...directed, value: 'stop' }, world);
  const func = attribute(element, 'func');
  if (func !== '' && func !== 'sustain')
    notKept(world.log, 'pedal/func', 'Which pedal of the piano is meant', placeIn(world, waiting.bar));
};

const harm: Handler = (waiting, spot, world) => {
  const figured = child(waiting.element, 'fb') !== undefined;
  notKept(
    world.log,
    figured ? 'figured-bass' : 'harmony',
    figured ? 'A figured bass' : 'A chord symbol or function symbol',
    placeIn(world, waiting.bar, spot.staff?.part),
  );
};

const handlers: Readonly<Record<string, Handler>> = {
  tempo,
  reh: rehearsal,
  dir,
  repeatMark,
  dynam,
  pedal,
  harm,
  fb: harm,
  fermata,
  arpeg: arpeggio,
  breath: breathing('breath-mark'),
  caesura: breathing('caesura'),
  trill: ornament(() => 'trill-mark'),
  mordent: ornament((element) => mordentName(attribute(element, 'form'))),
  turn: ornament((element) => turnName(attribute(element, 'form'), isTrue(attribute(element, 'delayed')))),
  ornam: ornament((element) => deepText(element) || 'ornament'),
  artic: onNote((head, element) => addArticulations(tokens(attribute(element, 'artic')), head.note.marks)),
  fing: onNote((head, element) =>
    head.note.marks.technical.push({ name: 'fingering', text: deepText(element) }),
  ),
  attacca: (waiting, spot, world) => words(waiting, spot, deepText(waiting.element) || 'attacca', world),
};

const unkept: Readonly<Record<string, string>> = {
  gliss: 'A glissando line',
  bend: 'A bend of a note',
  lv: 'The sign to let a note ring on',
  annot: 'A note of the editor',
  line: 'A line drawn on the page',
  curve: 'A line drawn on the page',
  harpPedal: 'A diagram of harp pedals',
  bracketSpan: 'A bracket over notes',
  cpMark: 'A sign to copy a passage',
  metaMark: 'A sign of the scribe',
  sp: 'A spoken text',
  stageDir: 'A stage direction',
  fingGrp: 'A group of fingerings',
};

/** Lines are read by themselves; tuplets over several groups were read with the notes; the rest is layout. */
const elsewhere = new Set(['slur', 'phrase', 'tie', 'hairpin', 'octave', 'tupletSpan', 'beamSpan']);

const readOne = (waiting: Waiting, world: World): void => {
  const { element, bar } = waiting;
  if (elsewhere.has(element.name)) return;
  const handler = lookUp(handlers, element.name);
  if (handler === undefined) {
    notKept(
      world.log,
      element.name,
      lookUp(unkept, element.name) ?? `The element "${element.name}"`,
      placeIn(world, bar, stavesFor(waiting)[0]?.part),
    );
    return;
  }
  const spot = startOf(waiting, world);
  if (spot === null) unplaced(waiting, world);
  else handler(waiting, spot, world);
};

/** Places all control events; the notes are known by now. */
export const readControls = (world: World): void => {
  const named = (...names: readonly string[]): Waiting[] =>
    world.waiting.filter(({ element }) => names.includes(element.name));
  for (const waiting of named('tie')) readTie(waiting, world);
  for (const waiting of named('beamSpan')) readBeamSpan(waiting, world);
  readSlurs(named('slur', 'phrase'), world);
  for (const waiting of world.waiting) readOne(waiting, world);
  const dashed = named('dynam', 'dir', 'tempo').filter(({ element }) => extended(element));
  readDrawnLines([...named('hairpin', 'octave'), ...dashed], world);
  shiftOctaves(named('octave'), world);
  placeDirections(world);
};
