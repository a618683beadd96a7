import { F, type Place } from '../../../units/index.ts';
import type { WrittenNote } from '../../notes.ts';
import { inDivisions, type Context } from './context.ts';
import { writeLyric } from './lyric.ts';
import { accidentalValues, beamValues, noteheadValues } from './names.ts';
import { writeNotations } from './notations.ts';
import { plainNumber } from './numbers.ts';

/** Most beams that MusicXML 4.0 allows on a note. */
const mostBeams = 8;

/** MusicXML 4.0, type octave: 0 to 9. */
const inOctaves = (context: Context, octave: number, place: Place): number => {
  const nearest = Math.min(9, Math.max(0, Math.round(octave)));
  if (nearest !== octave)
    context.report(
      'repair',
      'octave-moved',
      `A note stands in octave ${octave}; MusicXML holds octaves 0 to 9 only: written in octave ${nearest}.`,
      place,
    );
  return nearest;
};

const writeDisplay = (
  context: Context,
  name: string,
  { display }: WrittenNote,
  place: Place,
  measure?: string,
): void => {
  const { out } = context;
  if (display === null) out.empty(name, { measure });
  else
    out.within(name, { measure }, () => {
      out.leaf('display-step', display.step);
      out.leaf('display-octave', inOctaves(context, display.octave, place));
    });
};

const writeSubject = (context: Context, note: WrittenNote, chord: boolean, place: Place): void => {
  const { out } = context;
  if (chord) out.empty('chord');
  const { pitch } = note;
  if (note.kind === 'rest') writeDisplay(context, 'rest', note, place, note.wholeBar ? 'yes' : undefined);
  else if (pitch === null) writeDisplay(context, 'unpitched', note, place);
  else
    out.within('pitch', {}, () => {
      out.leaf('step', pitch.step);
      if (pitch.alter !== 0) out.leaf('alter', plainNumber(pitch.alter));
      out.leaf('octave', inOctaves(context, pitch.octave, place));
    });
};

/** Grace, cue, pitch, duration and ties, in the three orders that the schema allows for the three kinds of note. */
const writeSounding = (
  context: Context,
  note: WrittenNote,
  chord: boolean,
  divisions: bigint,
  place: Place,
): void => {
  const { out } = context;
  const grace = takesNoTime(note);
  if (grace) out.empty('grace', { slash: note.slash ? 'yes' : undefined });
  if (note.cue) out.empty('cue');
  writeSubject(context, note, chord, place);
  if (!grace) out.leaf('duration', inDivisions(note.duration, divisions));
  if (note.cue) return;
  if (note.tieStop) out.empty('tie', { type: 'stop' });
  if (note.tieStart) out.empty('tie', { type: 'start' });
};

/** Grace notes, and rests among them. */
export const takesNoTime = ({ kind, duration }: WrittenNote): boolean =>
  kind === 'grace' || (kind === 'rest' && F.isZero(duration));

const writeLook = (context: Context, note: WrittenNote, staves: number, place: Place): void => {
  const { out } = context;
  if (note.value !== null) {
    out.leaf('type', note.value.type);
    for (let dot = 0; dot < note.value.dots; dot++) out.empty('dot');
  }
  if (note.accidental !== '')
    out.leaf(
      'accidental',
      context.listed(note.accidental, accidentalValues, 'other', 'An accidental', place),
    );
  if (note.tuplet.actual !== note.tuplet.normal)
    out.within('time-modification', {}, () => {
      out.leaf('actual-notes', note.tuplet.actual);
      out.leaf('normal-notes', note.tuplet.normal);
    });
  if (note.stem !== null) out.leaf('stem', note.stem);
  if (note.notehead !== '')
    out.leaf('notehead', context.listed(note.notehead, noteheadValues, 'other', 'A notehead', place));
  if (staves > 1 || note.staff > 1) out.leaf('staff', note.staff);
  note.beams.slice(0, mostBeams).forEach((beam, index) => {
    const value = beam === '' ? '' : context.listed(beam, beamValues, '', 'A beam', place);
    if (value !== '') out.leaf('beam', value, { number: index + 1 });
  });
};

/**
 * Writes one note, rest or grace note. `chord`: it stands on the stem of the note written just before. A note that
 * would last no time has no place in MusicXML: left out, with a Problem, and the answer is false.
 */
export const writeNote = (
  context: Context,
  note: WrittenNote,
  chord: boolean,
  part: { readonly divisions: bigint; readonly staves: number },
  place: Place,
): boolean => {
  const { out } = context;
  if (!takesNoTime(note) && !F.isPositive(note.duration)) {
    context.report('repair', 'duration-not-positive', 'A note that lasts no time was left out.', place);
    return false;
  }
  const id = context.takeId(note.id) ? note.id : undefined;
  out.open('note', { 'print-object': note.printed ? undefined : 'no', id });
  writeSounding(context, note, chord, part.divisions, place);
  const voice = context.clean(note.voice, 'The name of a voice', place);
  if (voice !== '') out.leaf('voice', voice);
  writeLook(context, note, part.staves, place);
  writeNotations(context, note, place);
  for (const lyric of note.lyrics) writeLyric(context, lyric, place);
  out.close();
  return true;
};
