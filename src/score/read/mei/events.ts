/** One `note`, `chord` or `rest` of a layer. Source: MEI Guidelines 5, 4.2.5 "Notes, Chords and Rests in CMN". */
import { beats, F, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import { noMarks, plainRest, type NoteValue, type Pitch, type WrittenNote } from '../../notes.ts';
import { notKept } from '../drafts/log.ts';
import { longestDuration } from '../drafts/values.ts';
import { attribute, childrenOf, type XmlElement } from '../xml.ts';
import { addArticulations, fermataShape, headOf } from './articulation.ts';
import { readLyrics } from './lyrics.ts';
import {
  accidentalName,
  accidentalOf,
  alterOf,
  octaveOf,
  stepAt,
  stepOf,
  type Accidental,
} from './pitches.ts';
import type { Building, BuildingMarks, Drawn, Remembered, StaffState, World } from './state.ts';
import { dotsOf, isTrue, readWritten, tokens, whole, type Written } from './values.ts';

/** What holds where an event stands. */
export interface Setting {
  readonly world: World;
  readonly staff: StaffState;
  readonly bar: number;
  readonly layer: string;
  readonly voice: string;
  readonly at: Fraction;
  readonly ratio: WrittenNote['tuplet'];
  readonly grace: { readonly slash: boolean } | null;
  readonly cue: boolean;
  readonly place: Place;
}

/** Fresh marks that may be added to. Written out, as the notes are: objects that are spread together are slow to fill. */
const freshMarks = (): BuildingMarks => ({
  articulations: [],
  ornaments: [],
  technical: [],
  fermata: null,
  slurs: [],
  dynamics: noMarks.dynamics,
  arpeggio: false,
});

/** A new note at the setting's place; its id is unique in the score. */
export const fresh = (setting: Setting, duration: Fraction): Building => {
  const { staff, bar, world } = setting;
  staff.part.count += 1;
  world.order += 1;
  return {
    id: `${staff.part.head.id}-m${bar}-n${staff.part.count}`,
    bar,
    onset: beats(setting.at),
    duration: beats(duration),
    kind: plainRest.kind,
    staff: staff.number,
    voice: setting.voice,
    value: null,
    tuplet: setting.ratio,
    tupletMarks: [],
    chord: false,
    pitch: null,
    display: null,
    wholeBar: false,
    tieStart: false,
    tieStop: false,
    slash: false,
    cue: setting.cue,
    printed: true,
    accidental: '',
    stem: null,
    notehead: '',
    beams: plainRest.beams,
    marks: freshMarks(),
    lyrics: plainRest.lyrics,
  };
};

/** Keeps a note with its staff, under its id. */
export const keep = (setting: Setting, note: Building, more: Partial<Drawn> = {}): Drawn => {
  const { staff, bar, world, layer } = setting;
  const drawn: Drawn = {
    note,
    staff,
    layer,
    order: world.order,
    accid: '',
    performed: false,
    octaveGiven: false,
    ...more,
  };
  const here = staff.drawn.get(bar);
  if (here === undefined) staff.drawn.set(bar, [drawn]);
  else here.push(drawn);
  return drawn;
};

const hasToken = (element: XmlElement, name: string, token: string): boolean =>
  tokens(attribute(element, name)).includes(token);

/** Whether an element says that what it holds is a cue; small size says so too, but not of grace notes. */
export const isCue = (element: XmlElement, grace: boolean): boolean =>
  isTrue(attribute(element, 'cue')) ||
  hasToken(element, 'type', 'cue') ||
  (!grace && attribute(element, 'size') === 'cue');

/** The layer's memory of what notes may leave out. */
const remembered = ({ staff, layer }: Pick<Setting, 'staff' | 'layer'>): Remembered => {
  const known = staff.last.get(layer);
  if (known !== undefined) return known;
  const made: Remembered = { pname: '', oct: '', duration: '', dots: '' };
  staff.last.set(layer, made);
  return made;
};

/** Of notes with lengths of their own the longest, by which a chord without one goes on. */
const longestOf = (notes: readonly XmlElement[], { world, place }: Setting): XmlElement | undefined => {
  const timed = notes.filter((note) => attribute(note, 'dur') !== '');
  if (timed.length < 2) return timed[0];
  const lengths = timed.map(
    (note) => readWritten(attribute(note, 'dur'), dotsOf(note), world.log, place)?.length ?? F.zero,
  );
  const longest = lengths.reduce(F.max, F.zero);
  return timed[lengths.indexOf(longest)];
};

/** The printed value of an event: its own, its chord's, the default, or that of the note before in the layer. */
export const writtenOf = (element: XmlElement, within: Written | null, setting: Setting): Written | null => {
  const { staff, world, place } = setting;
  const memory = remembered(setting);
  const own =
    attribute(element, 'dur') !== ''
      ? element
      : element.name === 'chord'
        ? longestOf(childrenOf(element, 'note'), setting)
        : undefined;
  if (own === undefined && within !== null) return within;
  const duration = own === undefined ? staff.defaultDuration || memory.duration : attribute(own, 'dur');
  if (duration === '') {
    const code = 'duration-missing';
    const what = element.name === 'rest' ? 'rest' : element.name === 'chord' ? 'chord' : 'note';
    world.log.say('repair', code, `A ${what} has no duration and no printed value; it is left out.`, place);
    return null;
  }
  const result = readWritten(duration, dotsOf(own ?? element), world.log, place);
  if (own !== undefined && result !== null) memory.duration = duration;
  return result;
};

/** Tells that the notes of a chord do not all last as long as it does. */
export const tellLengths = ({ world, place }: Setting): void =>
  world.log.tally(
    'repair',
    'chord-lengths-differ',
    '',
    (many) =>
      `Notes of a chord have different lengths (${many}); each keeps its own, and the next note follows after that of the chord.`,
    place,
  );

/** The sounding length of a printed value; null where it is beyond all music. */
export const lengthOf = (written: Written, ratio: WrittenNote['tuplet']): Beats | null => {
  const length = F.mul(written.length, F.fraction(ratio.normal, ratio.actual));
  return F.atMost(length, longestDuration) ? beats(length) : null;
};

const alterFor = (accidental: Accidental, setting: Setting): number => {
  const { world, place } = setting;
  const text = accidental.performed !== '' ? accidental.performed : accidental.written;
  if (text === '') return 0;
  const alter = alterOf(text);
  if (alter === null)
    notKept(world.log, `accid/${text.slice(0, 30)}`, `The accidental "${text.slice(0, 30)}"`, place);
  const shown = alterOf(accidental.written);
  if (accidental.performed !== '' && shown !== null && alter !== null && shown !== alter)
    performedDiffers(setting);
  return alter ?? 0;
};

const performedDiffers = ({ world, place }: Setting): void =>
  world.log.tally(
    'note',
    'pitch-performed-differs',
    '',
    (many) => `A note is written at one pitch and performed at another (${many}); the performed one is read.`,
    place,
  );

/**
 * The octave and step that are performed. `oct.ges` and `pname.ges` count before the transposition of the staff, as
 * `accid.ges` does; where they only say what that transposition makes of the note, they are not counted twice.
 */
const performedPitch = (
  element: XmlElement,
  written: Pitch,
  setting: Setting,
): { readonly pitch: Pitch; readonly given: boolean } => {
  const step = stepOf(attribute(element, 'pname.ges'));
  const octave = octaveOf(attribute(element, 'oct.ges'));
  if (step === null && octave === null) return { pitch: written, given: false };
  const pitch: Pitch = { ...written, step: step ?? written.step, octave: octave ?? written.octave };
  const diatonic = setting.staff.shift?.diatonic ?? 0;
  if (diatonic !== 0) {
    const steps = 'CDEFGAB';
    const from = steps.indexOf(written.step) + 7 * written.octave;
    const to = steps.indexOf(pitch.step) + 7 * pitch.octave;
    const byOctaves =
      step === null && Math.abs(diatonic) >= 7 && pitch.octave - written.octave === Math.trunc(diatonic / 7);
    if (to - from === diatonic || byOctaves) return { pitch: written, given: false };
  }
  if (pitch.step !== written.step) performedDiffers(setting);
  return { pitch, given: octave !== null };
};

interface PitchRead {
  readonly pitch: Pitch | null;
  readonly display: WrittenNote['display'];
  readonly octaveGiven: boolean;
}

const readPitch = (element: XmlElement, alter: number, setting: Setting): PitchRead => {
  const { staff, world, place } = setting;
  const memory = remembered(setting);
  const loc = whole(attribute(element, 'loc'), -60, 60);
  const located = loc === null ? null : stepAt(loc);
  const [ownName, ownOctave] = [attribute(element, 'pname'), attribute(element, 'oct')];
  const tab = attribute(element, 'tab.fret') !== '' || attribute(element, 'tab.string') !== '';
  if (ownName === '' && (tab || staff.tablature)) {
    notKept(world.log, 'tablature', 'Where a note of a tablature is fingered, and so its pitch,', place);
    return { pitch: null, display: located, octaveGiven: false };
  }
  const percussion = staff.clef?.sign === 'percussion';
  // Rhythm only: on a drum staff, or on one that has no clef and no pitches.
  const rhythm = percussion || (staff.clef === null && memory.pname === '');
  if (ownName === '' && (located !== null || rhythm))
    return { pitch: null, display: located, octaveGiven: false };
  const name = ownName || memory.pname;
  const octaveText = ownOctave || staff.defaultOctave || memory.oct;
  const step = stepOf(name);
  const octave = octaveOf(octaveText);
  if (step === null || octave === null) {
    world.log.say(
      'repair',
      'pitch-unreadable',
      `A note's pitch can not be read ("${name.slice(0, 20)}${octaveText.slice(0, 20)}"); it is kept as a note without pitch.`,
      place,
    );
    return { pitch: null, display: null, octaveGiven: false };
  }
  memory.pname = name;
  memory.oct = octaveText;
  if (percussion) return { pitch: null, display: located ?? { step, octave }, octaveGiven: false };
  const { pitch, given } = performedPitch(element, { step, alter, octave }, setting);
  return { pitch, display: null, octaveGiven: given };
};

const stemOf = (note: XmlElement, chord: XmlElement | null): WrittenNote['stem'] => {
  const dir = attribute(note, 'stem.dir') || (chord === null ? '' : attribute(chord, 'stem.dir'));
  return dir === 'up' || dir === 'down' ? dir : null;
};

const slurMark = /^([imt])([1-6])$/;

const addSlurs = (text: string, marks: BuildingMarks): void => {
  for (const token of tokens(text)) {
    const match = slurMark.exec(token);
    const number = Number(match?.[2] ?? '1');
    // A note in the middle of a slur bears nothing of it.
    if (match?.[1] === 'i') marks.slurs.push({ type: 'start', number });
    else if (match?.[1] === 't') marks.slurs.push({ type: 'stop', number });
  }
};

const unkept: readonly (readonly [name: string, what: string])[] = [
  ['ornam', 'An ornament given as a letter at its note'],
  ['gliss', 'A glissando line'],
  ['lv', 'The sign to let a note ring on'],
  ['dur.ges', 'How long a note is to be performed, apart from its value'],
];

/** What an event's own attributes and children hang on it: articulation, fermata, slurs, lyrics. */
export const addMarks = (element: XmlElement, note: Building, setting: Setting): void => {
  const { marks } = note;
  addArticulations(tokens(attribute(element, 'artic')), marks);
  for (const child of element.children)
    if (child.name === 'artic') addArticulations(tokens(attribute(child, 'artic')), marks);
  if (attribute(element, 'fermata') !== '') marks.fermata ??= fermataShape('');
  addSlurs(attribute(element, 'slur'), marks);
  const lyrics = readLyrics(element, setting.staff.words, setting.layer);
  if (lyrics.length > 0) note.lyrics = [...note.lyrics, ...lyrics];
  for (const [name, what] of unkept)
    if (attribute(element, name) !== '' && attribute(element, name) !== 'false')
      notKept(setting.world.log, `note/${name}`, what, setting.place);
};

const tieOf = (element: XmlElement): string => attribute(element, 'tie');

/** Which staff a note is drawn on, where it is not that of its layer. */
const drawnOn = (element: XmlElement, setting: Setting, staves: ReadonlyMap<string, StaffState>): number => {
  const other = attribute(element, 'staff');
  if (other === '' || other === setting.staff.n) return setting.staff.number;
  const staff = staves.get(other);
  if (staff !== undefined && staff.part === setting.staff.part) return staff.number;
  notKept(
    setting.world.log,
    'note/staff',
    'That a note is drawn on the staff of another part',
    setting.place,
  );
  return setting.staff.number;
};

/** One sounding head: a `note` by itself or in a chord. */
export const readNote = (
  element: XmlElement,
  chord: XmlElement | null,
  value: NoteValue | null,
  length: Fraction,
  setting: Setting,
  staves: ReadonlyMap<string, StaffState>,
): Drawn => {
  const grace = setting.grace !== null;
  const note = fresh(setting, grace ? F.zero : length);
  const accidental = accidentalOf(element);
  const { pitch, display, octaveGiven } = readPitch(element, alterFor(accidental, setting), setting);
  note.kind = grace ? 'grace' : 'note';
  note.value = value;
  note.pitch = pitch;
  note.display = display;
  note.staff = drawnOn(
    chord !== null && attribute(element, 'staff') === '' ? chord : element,
    setting,
    staves,
  );
  const tie = tieOf(element);
  note.tieStart = tie.includes('i') || tie.includes('m');
  note.tieStop = tie.includes('t') || tie.includes('m');
  note.slash =
    grace &&
    (setting.grace.slash ||
      [element, chord].some((one) => one !== null && attribute(one, 'stem.mod').startsWith('1slash')));
  note.cue = setting.cue || isCue(element, grace);
  note.printed = attribute(element, 'visible') !== 'false';
  note.accidental = accidentalName(accidental.written);
  note.stem = stemOf(element, chord);
  note.notehead = headOf(attribute(element, 'head.shape') || attribute(element, 'headshape'));
  addMarks(element, note, setting);
  return keep(setting, note, {
    accid: accidental.written,
    performed: accidental.performed !== '',
    octaveGiven,
  });
};

/** Where a rest is drawn, if the file says so. */
const restDisplay = (element: XmlElement): WrittenNote['display'] => {
  const step = stepOf(attribute(element, 'ploc'));
  const octave = octaveOf(attribute(element, 'oloc'));
  return step === null || octave === null ? null : { step, octave };
};

/** A `rest`, or with `wholeBar` an `mRest`, of which the length is set when the bar is known. */
export const readRest = (
  element: XmlElement,
  value: NoteValue | null,
  length: Fraction,
  wholeBar: boolean,
  setting: Setting,
): Drawn => {
  const note = fresh(setting, length);
  note.value = value;
  note.wholeBar = wholeBar;
  note.display = restDisplay(element);
  note.cue = setting.cue || isCue(element, false);
  note.printed = attribute(element, 'visible') !== 'false';
  addMarks(element, note, setting);
  return keep(setting, note);
};
