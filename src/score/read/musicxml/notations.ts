/**
 * What hangs on a note: articulations, ornaments, slurs and the like, and lyrics. Source: MusicXML 4.0, notations and
 * lyric.
 */
import { lookUp, type Place } from '../../../units/index.ts';
import { noMarks, type Lyric, type NoteMarks, type WrittenNote } from '../../notes.ts';
import { attribute, child, collapse, type XmlElement } from '../xml.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { integerWithin } from './values.ts';

interface Collected {
  articulations: string[];
  ornaments: string[];
  technical: { name: string; text: string }[];
  fermata: string | null;
  slurs: NoteMarks['slurs'][number][];
  dynamics: string[];
  arpeggio: boolean;
  tuplets: WrittenNote['tupletMarks'][number][];
  tied: string[];
}

/** Slurs, tuplets and lines are told apart by a number from 1. */
export const numberAttribute = (element: XmlElement): number =>
  integerWithin(attribute(element, 'number'), 1, 99) ?? 1;

const textOrName = (element: XmlElement): string => {
  const text = collapse(element.text);
  return element.name.startsWith('other-') && text !== '' ? text : element.name;
};

/** The names of dynamics in an element: "pp", "sfz", or the text of what the standard has no name for. */
export const dynamicsOf = (element: XmlElement): readonly string[] => element.children.map(textOrName);

/** Adds what one child of notations says; false where the model has no place for it. */
const collect = (item: XmlElement, into: Collected, log: Log, place: Place): boolean => {
  const type = attribute(item, 'type');
  switch (item.name) {
    case 'articulations':
      for (const mark of item.children) into.articulations.push(textOrName(mark));
      return true;
    case 'ornaments':
      for (const ornament of item.children) {
        into.ornaments.push(textOrName(ornament));
        if (ornament.name === 'tremolo')
          notKept(log, 'tremolo-strokes', 'How many strokes a tremolo has and to which note it goes', place);
        if (ornament.name === 'accidental-mark')
          notKept(log, 'ornament-accidental', 'Which accidental belongs to an ornament', place);
      }
      return true;
    case 'technical':
      for (const mark of item.children) {
        const own = collapse(mark.text);
        const inner = mark.children.map((part) => collapse(`${part.name} ${part.text}`)).join(', ');
        into.technical.push({ name: mark.name, text: own === '' ? inner : own });
      }
      return true;
    case 'fermata': {
      const shape = collapse(item.text);
      into.fermata ??= shape === '' ? 'normal' : shape;
      return true;
    }
    case 'slur':
      if (type === 'start' || type === 'stop' || type === 'continue')
        into.slurs.push({ type, number: numberAttribute(item) });
      return true;
    case 'dynamics':
      for (const value of dynamicsOf(item)) into.dynamics.push(value);
      return true;
    case 'arpeggiate':
      into.arpeggio = true;
      return true;
    case 'tuplet':
      if (type === 'start' || type === 'stop') into.tuplets.push({ type, number: numberAttribute(item) });
      return true;
    case 'tied':
      into.tied.push(type);
      if (type === 'let-ring') notKept(log, 'let-ring', 'The sign to let a note ring on', place);
      return true;
    default:
      return false;
  }
};

const names: Readonly<Record<string, string>> = {
  glissando: 'A glissando line',
  slide: 'A slide between notes',
  'accidental-mark': 'An accidental standing apart from its note',
  'non-arpeggiate': 'The bracket against arpeggiating',
};

const ignored = new Set(['footnote', 'level']);

export interface NotationsRead {
  readonly marks: NoteMarks;
  readonly tupletMarks: WrittenNote['tupletMarks'];
  /** The types of its `tied` elements. */
  readonly tied: readonly string[];
}

const nothing: NotationsRead = { marks: noMarks, tupletMarks: [], tied: [] };

/** Everything in the note's `notations` elements. */
export const readNotations = (note: XmlElement, log: Log, place: Place): NotationsRead => {
  if (child(note, 'notations') === undefined) return nothing;
  const into: Collected = {
    articulations: [],
    ornaments: [],
    technical: [],
    fermata: null,
    slurs: [],
    dynamics: [],
    arpeggio: false,
    tuplets: [],
    tied: [],
  };
  for (const notations of note.children) {
    if (notations.name !== 'notations') continue;
    for (const item of notations.children) {
      if (collect(item, into, log, place) || ignored.has(item.name)) continue;
      notKept(
        log,
        `notations/${item.name}`,
        lookUp(names, item.name) ?? `The notation "${item.name}"`,
        place,
      );
    }
  }
  const { tuplets, tied, ...marks } = into;
  return { marks, tupletMarks: tuplets, tied };
};

/** The undertie: shown where the file elides syllables without saying by which sign. */
const elision = '\u203f';

const isSyllabic = (text: string): text is Lyric['syllabic'] =>
  text === 'single' || text === 'begin' || text === 'middle' || text === 'end';

const readLyric = (element: XmlElement, log: Log, place: Place): Lyric => {
  let text = '';
  let extend = false;
  let joint = '';
  const syllabics: Lyric['syllabic'][] = [];
  for (const part of element.children) {
    const content = part.text.replace(/\s+/g, ' ');
    if (part.name === 'syllabic') {
      const syllabic = content.trim();
      if (isSyllabic(syllabic)) syllabics.push(syllabic);
    } else if (part.name === 'text') {
      // Two texts in a row without an elision between are elided all the same: the standard allows it.
      text += text === '' ? content : `${joint === '' ? elision : joint}${content}`;
      joint = '';
    } else if (part.name === 'elision') joint = part.text === '' ? elision : part.text;
    else if (part.name === 'extend') extend = true;
    else if (part.name === 'laughing' || part.name === 'humming')
      notKept(log, part.name, `The sign for ${part.name} under a note`, place);
  }
  // Of several syllables the first tells whether a word goes on from before, the last whether it goes on after.
  const first = syllabics[0] ?? 'single';
  const last = syllabics.at(-1) ?? 'single';
  const before = first === 'middle' || first === 'end';
  const after = last === 'begin' || last === 'middle';
  const syllabic = before ? (after ? 'middle' : 'end') : after ? 'begin' : 'single';
  const number = attribute(element, 'number');
  const name = attribute(element, 'name');
  return { verse: number !== '' ? number : name !== '' ? name : '1', syllabic, text: text.trim(), extend };
};

const noLyrics: readonly Lyric[] = [];

export const readLyrics = (note: XmlElement, log: Log, place: Place): readonly Lyric[] =>
  child(note, 'lyric') === undefined
    ? noLyrics
    : note.children.filter(({ name }) => name === 'lyric').map((lyric) => readLyric(lyric, log, place));
