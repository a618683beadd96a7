/** The `direction` element: dynamics, words, lines, tempo, signs. Source: MusicXML 4.0, direction. */
import { beats, type Beats, F, type Fraction, lookUp, type Place } from '../../../units/index.ts';
import type { Direction } from '../../model.ts';
import { attribute, child, childText, collapse, type XmlElement } from '../xml.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { jumpOfWords } from '../drafts/jumpWords.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { readMetronome } from './metronome.ts';
import { dynamicsOf, numberAttribute } from './notations.ts';
import { readSound } from './sound.ts';
import { isTempoWords } from '../drafts/tempoWords.ts';
import { integerWithin, type Lengths } from './values.ts';

/** Where the reader stands when it meets a direction. */
export interface DirectionSpot {
  readonly at: Fraction;
  readonly bar: number;
  readonly lengths: Lengths;
  readonly place: Place;
}

const lines: Readonly<Record<string, Direction['kind']>> = {
  wedge: 'wedge',
  pedal: 'pedal',
  dashes: 'dashes',
  bracket: 'bracket',
};

/** Words and figures that belong to one mark come in pieces: "Allegro (", a metronome mark, ")". */
const joined = (pieces: readonly string[]): string =>
  collapse(pieces.join(' '))
    .replace(/\s+([,.;:)])/g, '$1')
    .replace(/\(\s*\)?$/, '')
    .replace(/\s*=?\s*$/, '');

const notNegative = (value: Fraction): Fraction => (value.n < 0n ? F.zero : value);

/** The offset of a direction or sound in whole notes; null where there is none. */
const offsetOf = (element: XmlElement, lengths: Lengths): { length: Fraction; sounds: boolean } | null => {
  const offset = child(element, 'offset');
  if (offset === undefined) return null;
  const length = lengths.read(offset.text.trim());
  return length === null ? null : { length, sounds: attribute(offset, 'sound') === 'yes' };
};

/** A `sound` stands where the music is, unless it or its direction says otherwise. */
export const readSoundAt = (
  element: XmlElement,
  spot: DirectionSpot,
  at: Fraction,
  out: MeasureDraft,
  log: Log,
): void => {
  const own = offsetOf(element, spot.lengths);
  const when = own === null ? at : notNegative(F.add(spot.at, own.length));
  readSound(element, when, spot.bar, out, log, spot.place);
};

const octaveShift = (item: XmlElement): string => {
  const type = attribute(item, 'type');
  const size = integerWithin(attribute(item, 'size'), 8, 22) ?? 8;
  return type === 'up' || type === 'down' ? `${type} ${size}` : type;
};

export const readDirection = (
  element: XmlElement,
  spot: DirectionSpot,
  out: MeasureDraft,
  log: Log,
): void => {
  const { bar, place } = spot;
  const offset = offsetOf(element, spot.lengths);
  const shifted = offset === null ? spot.at : notNegative(F.add(spot.at, offset.length));
  const soundAt = offset?.sounds === true ? shifted : spot.at;
  const sound = child(element, 'sound');
  // A mark acts where its sound does; printed alone, where it stands.
  const markAt: Beats = beats(sound === undefined ? shifted : soundAt);
  const staff = integerWithin(childText(element, 'staff'), 1, 99) ?? 1;
  const placement = attribute(element, 'placement');
  const add = (kind: Direction['kind'], value: string, number = 1): void => {
    const above = placement === '' ? kind === 'words' : placement === 'above';
    out.directions.push({ at: beats(shifted), bar, staff, kind, value, number, above });
  };

  const types = element.children.filter(({ name }) => name === 'direction-type');
  const items = types.flatMap(({ children }) => children);
  const words = joined(items.filter(({ name }) => name === 'words').map(({ text }) => text));
  const jump = words === '' ? null : jumpOfWords(words);
  const tempo = jump === null && words !== '' && isTempoWords(words);
  if (tempo) out.marks.push({ mark: { kind: 'tempoWords', at: markAt, bar, text: words }, vague: null });
  if (jump !== null) out.jumps.push({ at: soundAt, kind: jump, name: '', from: 'words', text: words });
  let wordsDone = tempo;
  for (const item of items) {
    const line = lookUp(lines, item.name);
    if (line !== undefined) {
      add(line, attribute(item, 'type'), numberAttribute(item));
      continue;
    }
    switch (item.name) {
      case 'rehearsal': {
        const text = collapse(item.text);
        if (text !== '') out.marks.push({ mark: { kind: 'rehearsal', at: markAt, bar, text }, vague: null });
        break;
      }
      case 'segno':
      case 'coda': {
        // The coda sign beside "To Coda" or "D.S. al Coda" is part of those words.
        if (jump === null || jump === item.name)
          out.jumps.push({
            at: soundAt,
            kind: item.name,
            name: '',
            from: 'sign',
            text: `the ${item.name} sign`,
          });
        break;
      }
      case 'words':
        if (!wordsDone && words !== '') add('words', words);
        wordsDone = true;
        break;
      case 'dynamics':
        for (const value of dynamicsOf(item)) add('dynamics', value);
        break;
      case 'octave-shift':
        add('octaveShift', octaveShift(item), numberAttribute(item));
        break;
      case 'metronome': {
        const mark = readMetronome(item, markAt, bar, log, place);
        if (mark !== null) out.marks.push(mark);
        break;
      }
      default: {
        const text = collapse(item.text);
        add('other', item.name === 'other-direction' && text !== '' ? text : item.name);
        if (item.children.length > 0 || item.name === 'symbol')
          notKept(log, `direction/${item.name}`, `What a direction "${item.name}" says in detail`, place);
      }
    }
  }
  if (sound !== undefined) readSoundAt(sound, spot, soundAt, out, log);
  if (child(element, 'listening') !== undefined)
    notKept(log, 'listening', 'What a program is to listen for', place);
};
