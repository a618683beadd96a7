/** One `note` element: what is drawn, how long it lasts, what it is tied to. Source: MusicXML 4.0, note. */
import { beats, type Beats, F, type Fraction, lookUp, type Place } from '../../../units/index.ts';
import type { NoteValue, Pitch, WrittenNote } from '../../notes.ts';
import { attribute, child, childText, type XmlElement } from '../xml.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { readLyrics, readNotations } from './notations.ts';
import { longestDuration, noteType, valueLength } from '../drafts/values.ts';
import { decimal, integerWithin, type Lengths } from './values.ts';

const isStep = (text: string): text is Pitch['step'] => /^[A-G]$/.test(text);

/** Null where step, alteration or octave can not be read; alterations beyond a sixth are no notation. */
const readPitch = (element: XmlElement): Pitch | null => {
  const step = childText(element, 'step');
  const octave = integerWithin(childText(element, 'octave'), -1, 10);
  const alterText = childText(element, 'alter');
  const alter = alterText === '' ? F.zero : decimal(alterText);
  if (!isStep(step) || octave === null || alter === null) return null;
  const semitones = F.toNumber(alter);
  return Math.abs(semitones) > 8 ? null : { step, alter: semitones, octave };
};

const readDisplay = (element: XmlElement | undefined): WrittenNote['display'] => {
  if (element === undefined) return null;
  const step = childText(element, 'display-step');
  const octave = integerWithin(childText(element, 'display-octave'), -1, 10);
  return isStep(step) && octave !== null ? { step, octave } : null;
};

const readValue = (note: XmlElement, log: Log, place: Place): NoteValue | null => {
  const text = childText(note, 'type');
  if (text === '') return null;
  const type = noteType(text);
  if (type === null) {
    log.tally(
      'repair',
      'note-type-unknown',
      text,
      (many) => `The note value "${text}" is not one of the standard; the note's length is kept (${many}).`,
      place,
    );
    return null;
  }
  let dots = 0;
  for (const { name } of note.children) if (name === 'dot') dots += 1;
  return { type, dots: Math.min(dots, 8) };
};

const plainRatio: WrittenNote['tuplet'] = { actual: 1, normal: 1 };

const readTuplet = (note: XmlElement, log: Log, place: Place): WrittenNote['tuplet'] => {
  const element = child(note, 'time-modification');
  if (element === undefined) return plainRatio;
  const actual = integerWithin(childText(element, 'actual-notes'), 1, 10_000);
  const normal = integerWithin(childText(element, 'normal-notes'), 1, 10_000);
  if (actual !== null && normal !== null) return { actual, normal };
  log.say(
    'repair',
    'tuplet-unreadable',
    'A tuplet does not say how many notes stand in the time of how many; its notes are kept as plain notes of their length.',
    place,
  );
  return plainRatio;
};

/**
 * How long the note lasts by its `duration`. Where that is missing, not above zero or absurd, the printed value
 * decides; null where that is missing too and the note has to be left out.
 */
const readDuration = (
  note: XmlElement,
  printed: Fraction | null,
  lengths: Lengths,
  log: Log,
  place: Place,
): Beats | null => {
  const text = childText(note, 'duration');
  const length = text === '' ? null : lengths.read(text);
  if (length !== null && F.isPositive(length) && F.atMost(length, longestDuration)) return beats(length);
  const code =
    text === '' ? 'duration-missing' : length === null ? 'duration-unreadable' : 'duration-out-of-range';
  const fact = text === '' ? 'A note has no duration' : `A note has the duration "${text.slice(0, 30)}"`;
  if (printed !== null) {
    log.say('repair', code, `${fact}; it lasts as long as its printed value.`, place);
    return beats(printed);
  }
  log.say('repair', code, `${fact} and no printed value; it is left out.`, place);
  return null;
};

const readStem = (note: XmlElement): WrittenNote['stem'] => {
  const stem = childText(note, 'stem');
  return stem === 'up' || stem === 'down' || stem === 'none' || stem === 'double' ? stem : null;
};

const noBeams: readonly string[] = [];

const readBeams = (note: XmlElement): readonly string[] => {
  if (child(note, 'beam') === undefined) return noBeams;
  return note.children
    .filter(({ name }) => name === 'beam')
    .map((beam) => ({ level: integerWithin(attribute(beam, 'number'), 1, 8) ?? 1, value: beam.text.trim() }))
    .sort((a, b) => a.level - b.level)
    .map(({ value }) => value);
};

/** The types of `tie`, or of `tied` where the note has no `tie`: the first sounds, the second is only drawn. */
const readTies = (note: XmlElement, tied: readonly string[], log: Log, place: Place) => {
  const sound = note.children.filter(({ name }) => name === 'tie').map((tie) => attribute(tie, 'type'));
  const drawn = tied.filter((type) => type === 'start' || type === 'stop');
  if (sound.length === 0 && drawn.length > 0)
    log.tally(
      'repair',
      'tie-drawn-only',
      '',
      (many) => `A tie is drawn but not marked as sounding (${many}); the notes are joined as drawn.`,
      place,
    );
  const types = sound.length === 0 ? drawn : sound;
  return { tieStart: types.includes('start'), tieStop: types.includes('stop') };
};

const unsupported: Readonly<Record<string, string>> = {
  instrument: 'Which instrument of several a note is for',
  play: 'How a note is to be played back',
  listen: 'What a program is to listen for',
};

/** What the reader of a measure has to know about a note beside what is drawn. */
export interface NoteRead {
  /** Onset is zero here: the measure knows it. Null where the note has to be left out. */
  readonly note: Omit<WrittenNote, 'onset'> | null;
  readonly chord: boolean;
}

/** Where the note stands and what holds there. */
export interface NoteContext {
  readonly id: string;
  readonly bar: number;
  readonly lengths: Lengths;
  readonly place: Place;
  /** Length of a full bar, for a whole-bar rest that says nothing else. */
  readonly fullBar: Fraction | null;
}

export const readNote = (element: XmlElement, context: NoteContext, log: Log): NoteRead => {
  const { place, lengths } = context;
  const grace = child(element, 'grace');
  const rest = child(element, 'rest');
  const pitchElement = child(element, 'pitch');
  const chord = child(element, 'chord') !== undefined;
  if (grace !== undefined && rest !== undefined) {
    notKept(log, 'grace-rest', 'A rest among grace notes, which takes no time', place);
    return { note: null, chord };
  }
  const value = readValue(element, log, place);
  const tuplet = readTuplet(element, log, place);
  const wholeBar = rest !== undefined && attribute(rest, 'measure') === 'yes';
  const printed =
    value === null
      ? wholeBar
        ? context.fullBar
        : null
      : F.mul(valueLength(value), F.fraction(tuplet.normal, tuplet.actual));
  const duration = grace !== undefined ? beats(F.zero) : readDuration(element, printed, lengths, log, place);
  if (duration === null) return { note: null, chord };

  const pitch = pitchElement === undefined ? null : readPitch(pitchElement);
  if (pitchElement !== undefined && pitch === null)
    log.say(
      'repair',
      'pitch-unreadable',
      `A note's pitch can not be read ("${childText(pitchElement, 'step')}${childText(pitchElement, 'octave')}"); it is kept as a note without pitch.`,
      place,
    );
  const { marks, tupletMarks, tied } = readNotations(element, log, place);
  for (const { name } of element.children) {
    const what = lookUp(unsupported, name);
    if (what !== undefined) notKept(log, `note/${name}`, what, place);
  }
  if (attribute(element, 'time-only') !== '')
    notKept(log, 'note/time-only', 'That a note is played only at certain times through a repeat', place);
  const notehead = childText(element, 'notehead');
  const note: Omit<WrittenNote, 'onset'> = {
    id: context.id,
    kind: rest !== undefined ? 'rest' : grace !== undefined ? 'grace' : 'note',
    bar: context.bar,
    duration,
    staff: integerWithin(childText(element, 'staff'), 1, 99) ?? 1,
    voice: childText(element, 'voice') || '1',
    value,
    tuplet,
    tupletMarks,
    chord,
    pitch,
    display: readDisplay(rest ?? child(element, 'unpitched')),
    wholeBar,
    ...(rest === undefined ? readTies(element, tied, log, place) : { tieStart: false, tieStop: false }),
    slash: grace !== undefined && attribute(grace, 'slash') === 'yes',
    cue: child(element, 'cue') !== undefined,
    printed: attribute(element, 'print-object') !== 'no',
    accidental: childText(element, 'accidental'),
    stem: readStem(element),
    notehead: notehead === 'normal' ? '' : notehead,
    beams: readBeams(element),
    marks,
    lyrics: readLyrics(element, log, place),
  };
  return { note, chord };
};
