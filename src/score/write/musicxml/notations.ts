import { type Place } from '../../../units/index.ts';
import type { WrittenNote } from '../../notes.ts';
import type { Context } from './context.ts';
import {
  articulationNames,
  dynamicNames,
  fermataShapes,
  handbellValues,
  ornamentNames,
  technicalNames,
  technicalTexts,
} from './names.ts';

/** Line numbers, as MusicXML allows them: type number-level, 1 to 16. */
export const levelOf = (number: number): number =>
  Number.isInteger(number) && number >= 1 && number <= 16 ? number : 1;

/** Strokes of a tremolo where the score does not tell them: three, as trade practice reads "tremolo". */
const tremoloStrokes = 3;

/** Writes `pp` as an element where MusicXML has it, else as other-dynamics. */
export const writeDynamics = (
  context: Context,
  values: readonly string[],
  attributes: Readonly<Record<string, string>> = {},
): void => {
  context.out.within('dynamics', attributes, () => {
    for (const value of values) {
      if (dynamicNames.has(value)) context.out.empty(value);
      else context.out.leaf('other-dynamics', value);
    }
  });
};

const writeOrnament = (
  context: Context,
  name: string,
  index: number,
  note: WrittenNote,
  place: Place,
): void => {
  const { out } = context;
  if (ornamentNames.has(name)) out.empty(name);
  else if (name === 'tremolo') out.leaf('tremolo', tremoloStrokes, { type: 'single' });
  else if (name === 'wavy-line')
    out.empty(name, { type: context.nextEnd(`wavy-line ${place.part ?? ''} ${note.staff} ${note.voice}`) });
  // Which accidental it was the model does not tell; the schema wants it behind the ornament it belongs to.
  else if (name === 'accidental-mark' && index > 0) out.leaf(name, 'other');
  else out.leaf('other-ornament', context.clean(name, 'An ornament', place));
};

type Technical = WrittenNote['marks']['technical'][number];

/**
 * Signs that are made of elements of their own, told in the text by name and content: "bend-alter 2, release". What
 * the schema lets stand in each, in its order.
 */
const partsOf = {
  bend: /^bend-alter [+-]?\d+(\.\d+)?(, (pre-bend|release))?(, with-bar( [^,]*)?)?$/,
  hole: /^(hole-type [^,]+, )?hole-closed (yes|no|half)(, hole-shape [^,]+)?$/,
  arrow:
    /^(arrow-direction (left|up|right|down|northwest|northeast|southeast|southwest|left right|up down|northwest southeast|northeast southwest|other)(, arrow-style (single|double|filled|hollow|paired|combined|other))?(, arrowhead)?|circular-arrow (clockwise|anticlockwise))$/,
  harmonic: /^(natural|artificial)?(^|, |$)(base-pitch|touching-pitch|sounding-pitch)?$/,
  'harmon-mute': /^harmon-closed (yes|no|half)$/,
} as const;

/** The elements of `technical` whose content is bound to a form; false where the text does not fit it. */
const writeBoundTechnical = ({ out }: Context, { name, text }: Technical): boolean => {
  switch (name) {
    case 'fret':
      if (!/^\d+$/.test(text)) return false;
      out.leaf(name, text);
      return true;
    case 'string':
      if (!/^0*[1-9]\d*$/.test(text)) return false;
      out.leaf(name, text);
      return true;
    case 'hammer-on':
    case 'pull-off':
      out.leaf(name, text, { type: 'start' });
      return true;
    case 'handbell':
      if (!handbellValues.has(text)) return false;
      out.leaf(name, text);
      return true;
    case 'bend':
    case 'hole':
    case 'arrow':
    case 'harmonic':
    case 'harmon-mute':
      if (!partsOf[name].test(text)) return false;
      out.within(name, {}, () => {
        for (const piece of text.split(', ')) {
          const [child = '', ...content] = piece.split(' ');
          out.leaf(child, content.join(' '));
        }
      });
      return true;
    default:
      return false;
  }
};

/** Grey of a pencil, in which the players' own marks are written: contrast with white 7.5 to 1 (WCAG 2.2 formula). */
export const pencilColour = '#555555';

const writeTechnical = (
  context: Context,
  mark: Technical,
  place: Place,
  attributes: Readonly<Record<string, string>>,
): void => {
  const { out } = context;
  const technical = { name: mark.name, text: context.clean(mark.text, 'A playing technique', place) };
  if (technicalNames.has(technical.name) && technical.text === '') out.empty(technical.name, attributes);
  else if (technicalTexts.has(technical.name)) out.leaf(technical.name, technical.text);
  else if (!writeBoundTechnical(context, technical)) {
    const text = technical.text === '' ? technical.name : `${technical.name} ${technical.text}`;
    out.leaf('other-technical', context.clean(text, 'A playing technique', place));
    context.report(
      'note',
      'technique-as-text',
      `The playing technique "${text}" lacks what its own sign needs in MusicXML: written as text.`,
      place,
    );
  }
};

const group = (context: Context, name: string, count: number, content: () => void): void => {
  if (count > 0) context.out.within(name, {}, content);
};

/** Writes the `notations` of one note, if it has any. */
export const writeNotations = (context: Context, note: WrittenNote, place: Place): void => {
  const { out } = context;
  const { articulations, ornaments, technical, fermata, slurs, dynamics, arpeggio, own = [] } = note.marks;
  const colourOf = (name: string): Readonly<Record<string, string>> =>
    own.includes(name) ? { color: pencilColour } : {};
  const lines = slurs.length + note.tupletMarks.length + Number(note.tieStart) + Number(note.tieStop);
  const signs = articulations.length + ornaments.length + technical.length + dynamics.length;
  if (lines + signs === 0 && fermata === null && !arpeggio) return;
  out.open('notations');
  if (note.tieStop) out.empty('tied', { type: 'stop' });
  if (note.tieStart) out.empty('tied', { type: 'start' });
  for (const { type, number } of slurs) out.empty('slur', { type, number: levelOf(number) });
  for (const { type, number } of note.tupletMarks) out.empty('tuplet', { type, number: levelOf(number) });
  group(context, 'ornaments', ornaments.length, () => {
    ornaments.forEach((name, index) => writeOrnament(context, name, index, note, place));
  });
  group(context, 'technical', technical.length, () => {
    for (const mark of technical) writeTechnical(context, mark, place, colourOf(mark.name));
  });
  group(context, 'articulations', articulations.length, () => {
    for (const name of articulations) {
      if (articulationNames.has(name)) out.empty(name, colourOf(name));
      else out.leaf('other-articulation', context.clean(name, 'An articulation', place));
    }
  });
  if (dynamics.length > 0)
    writeDynamics(
      context,
      dynamics.map((value) => context.clean(value, 'A dynamic', place)),
    );
  if (fermata !== null)
    out.leaf('fermata', context.listed(fermata, fermataShapes, 'normal', 'A fermata', place));
  if (arpeggio) out.empty('arpeggiate');
  out.close();
};
