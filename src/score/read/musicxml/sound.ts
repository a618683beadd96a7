/** The `sound` element: playback tempo and jumps. Source: MusicXML 4.0, sound. */
import { beats, F, note, type Fraction, type Place } from '../../../units/index.ts';
import { attribute, child, type XmlElement } from '../xml.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { believable } from './metronome.ts';
import { decimal } from './values.ts';

const playback = [
  'dynamics',
  'pizzicato',
  'pan',
  'elevation',
  'damper-pedal',
  'soft-pedal',
  'sostenuto-pedal',
] as const;

const readTempo = (
  text: string,
  at: Fraction,
  bar: number,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const perMinute = believable(decimal(text));
  if (perMinute === null) {
    log.say(
      'repair',
      'tempo-unreadable',
      `The file's playback tempo is "${text.slice(0, 40)}" quarters a minute, which is no tempo that can be played; it is left out.`,
      place,
    );
    return;
  }
  out.marks.push({
    mark: { kind: 'tempo', at: beats(at), bar, unit: note(1, 4), perMinute, printed: false },
    vague: null,
  });
};

/** Reads one `sound` that takes effect at `at` of its bar. */
export const readSound = (
  element: XmlElement,
  at: Fraction,
  bar: number,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const tempo = attribute(element, 'tempo');
  if (tempo !== '') readTempo(tempo, at, bar, out, log, place);
  for (const kind of ['segno', 'coda'] as const) {
    const name = attribute(element, kind);
    if (name !== '') out.jumps.push({ at, kind, name, from: 'sound', text: '' });
  }
  const dalSegno = attribute(element, 'dalsegno');
  if (dalSegno !== '') out.jumps.push({ at, kind: 'dalSegno', name: dalSegno, from: 'sound', text: '' });
  const toCoda = attribute(element, 'tocoda');
  if (toCoda !== '') out.jumps.push({ at, kind: 'toCoda', name: toCoda, from: 'sound', text: '' });
  if (attribute(element, 'dacapo') === 'yes')
    out.jumps.push({ at, kind: 'daCapo', name: '', from: 'sound', text: '' });
  const fine = attribute(element, 'fine');
  if (fine !== '' && fine !== 'no') out.jumps.push({ at, kind: 'fine', name: '', from: 'sound', text: '' });
  if (attribute(element, 'forward-repeat') === 'yes')
    out.repeats.push({
      edge: F.isPositive(at) ? 'middle' : 'left',
      direction: 'forward',
      times: 0,
      afterJump: false,
    });
  if (attribute(element, 'time-only') !== '')
    notKept(
      log,
      'sound/time-only',
      'That a jump or a tempo holds only at certain times through a repeat',
      place,
    );
  for (const name of playback)
    if (attribute(element, name) !== '')
      notKept(log, `sound/${name}`, `The playback setting "${name}"`, place);
  if (child(element, 'swing') !== undefined)
    notKept(log, 'sound/swing', 'The playback setting "swing"', place);
  for (const name of ['instrument-change', 'midi-instrument', 'midi-device', 'play'])
    if (child(element, name) !== undefined)
      notKept(log, `sound/${name}`, `The playback setting "${name}"`, place);
};
