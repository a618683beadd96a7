/** Note heads: letters and signs as pitches, by key, by the accidentals of the bar and by ties. Source: ABC 2.1, sections 4.1, 4.2, 4.6 and 11.3. */
import type { Pitch } from '../../notes.ts';
import type { Log } from '../drafts/log.ts';
import type { Head } from './events.ts';
import type { HeadRead, Layer, Reach } from './layer.ts';
import type { Voice } from './voice.ts';

const accidentalNames: Readonly<Record<string, string>> = {
  '0': 'natural',
  '1': 'sharp',
  '2': 'double-sharp',
  '-1': 'flat',
  '-2': 'flat-flat',
  '0.5': 'quarter-sharp',
  '1.5': 'three-quarters-sharp',
  '-0.5': 'quarter-flat',
  '-1.5': 'three-quarters-flat',
};

const doubtOctave = (step: string, line: number, log: Log): void => {
  log.tally(
    'assumption',
    'accidental-octaves',
    '',
    (many) =>
      `An accidental is followed in its bar by the same note (${step}) in another octave (${many}); as ABC 2.1 says, it holds for all octaves. Write "%%propagate-accidentals octave" if it holds for its own only.`,
    { line },
  );
};

const pitchOf = (
  read: HeadRead,
  grace: boolean,
  voice: Voice,
  layer: Layer,
  reach: Reach,
  log: Log,
): Pitch => {
  const octave = read.octave + voice.octave + voice.clef.octave - voice.drawnLower;
  const step = read.letter;
  const own = `${step}${octave}`;
  if (read.alter !== null) {
    if (reach !== 'not') {
      layer.accidentals.set(own, read.alter);
      layer.accidentals.set(step, read.alter);
    }
    return { step, alter: read.alter, octave };
  }
  // A tie carries its accidental over the bar line.
  const tied = grace
    ? undefined
    : layer.ties.find(({ head }) => head.pitch?.step === step && head.pitch.octave === octave);
  if (tied?.head.pitch) return { step, alter: tied.head.pitch.alter, octave };
  const byKey = voice.key.alters.get(step) ?? 0;
  const byOctave = layer.accidentals.get(own);
  const alter = (reach === 'pitch' ? layer.accidentals.get(step) : byOctave) ?? byKey;
  if (reach === 'pitch' && alter !== (byOctave ?? byKey)) doubtOctave(step, voice.bar.line, log);
  return { step, alter, octave };
};

/** A head as it sounds where it stands; null beyond all instruments. On a drum staff it has a place and no pitch. */
export const headOf = (
  read: HeadRead,
  grace: boolean,
  voice: Voice,
  layer: Layer,
  reach: Reach,
  log: Log,
): Head | null => {
  const drum = voice.clef.sign === 'percussion';
  const pitch = pitchOf(read, grace, voice, layer, reach, log);
  if (pitch.octave < -1 || pitch.octave > 10 || Math.abs(pitch.alter) > 8) return null;
  const name = read.alter === null ? '' : (accidentalNames[String(read.alter)] ?? 'other');
  return {
    pitch: drum ? null : pitch,
    display: drum ? { step: pitch.step, octave: pitch.octave } : null,
    accidental: drum ? '' : name,
    tieStart: false,
    tieStop: false,
    marks: read.marks,
    slurs: null,
  };
};
