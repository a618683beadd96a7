/** The `attributes` element: divisions, keys, metres, clefs, staves, transposition. Source: MusicXML 4.0, attributes. */
import { beats, F, type Fraction, lookUp, type Place } from '../../../units/index.ts';
import { noMetre, sameMetre, type Metre, type MetreComponent } from '../../metre.ts';
import type { Clef, Key, Transposition } from '../../model.ts';
import { attribute, child, childrenOf, childText, collapse, type XmlElement } from '../xml.ts';
import { readableDivisions } from './divisions.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { decimal, integer, integerWithin, type Lengths } from './values.ts';

/** More terms than any time signature has. */
const mostTerms = 32;

/** "3+2" as [3, 2]; null where it is no sum of whole numbers above zero. */
const beatsOf = (text: string): number[] | null => {
  if (!/^\d{1,4}(\s*\+\s*\d{1,4})*$/.test(text)) return null;
  const numbers = text.split('+').map(Number);
  return numbers.length <= mostTerms && numbers.every((n) => n > 0) ? numbers : null;
};

const symbolOf = (text: string): Metre['symbol'] => (text === 'common' || text === 'cut' ? text : 'numbers');

/** One `time` element; null where it can not be read. */
const readMetre = (element: XmlElement): Metre | null => {
  if (child(element, 'senza-misura') !== undefined) return noMetre;
  const tops = childrenOf(element, 'beats').map(({ text }) => beatsOf(text.trim()));
  const units = childrenOf(element, 'beat-type').map(({ text }) => integerWithin(text, 1, 4096));
  if (tops.length === 0 || tops.length > mostTerms || tops.length !== units.length) return null;
  const components = tops.flatMap((numerators, index): MetreComponent[] => {
    const unit = units[index] ?? null;
    return numerators === null || unit === null ? [] : [{ numerators, unit }];
  });
  if (components.length !== tops.length) return null;
  return { components, symbol: symbolOf(attribute(element, 'symbol')) };
};

const readMetres = (element: XmlElement, at: Fraction, out: MeasureDraft, log: Log, place: Place): void => {
  let first: Metre | null = null;
  for (const time of childrenOf(element, 'time')) {
    const metre = readMetre(time);
    if (metre === null) {
      log.say(
        'repair',
        'metre-unreadable',
        `A time signature can not be read ("${collapse(childText(time, 'beats'))}/${collapse(childText(time, 'beat-type'))}"); the metre before it goes on.`,
        place,
      );
      continue;
    }
    if (child(time, 'interchangeable') !== undefined)
      log.say(
        'assumption',
        'metre-interchangeable',
        'Two time signatures are given to choose from; the first is counted.',
        place,
      );
    if (first !== null && !sameMetre(first, metre)) {
      log.say(
        'repair',
        'metre-differs',
        'The staves of this part have different time signatures at once; the first is counted for all.',
        place,
      );
      continue;
    }
    first = metre;
  }
  if (first !== null) out.metres.push({ at, metre: first });
};

/** 0 stands for a staff number that is not given: the element holds for all staves. */
const staffOf = (element: XmlElement): number => integerWithin(attribute(element, 'number'), 1, 99) ?? 0;

const readKey = (element: XmlElement, at: Fraction, log: Log, place: Place): Key | null => {
  const fifths = integerWithin(childText(element, 'fifths'), -14, 14);
  if (fifths === null) {
    if (child(element, 'key-step') !== undefined)
      notKept(log, 'key', 'A key signature that is no row of sharps or flats in the usual order', place);
    else
      log.say(
        'repair',
        'key-unreadable',
        'A key signature can not be read; it is left out. The notes carry their own alterations.',
        place,
      );
    return null;
  }
  const staff = staffOf(element);
  return { at: beats(at), staff: staff === 0 ? null : staff, fifths, mode: childText(element, 'mode') };
};

const signs: Readonly<Record<string, readonly [Clef['sign'], number]>> = {
  G: ['G', 2],
  F: ['F', 4],
  C: ['C', 3],
  percussion: ['percussion', 3],
  TAB: ['TAB', 5],
  none: ['none', 3],
};

const readClef = (element: XmlElement, at: Fraction, log: Log, place: Place): Clef => {
  const text = childText(element, 'sign');
  const known = lookUp(signs, text);
  if (known === undefined)
    log.say(
      'repair',
      'clef-unknown',
      `The clef "${text}" is not known; the staff is kept without a clef.`,
      place,
    );
  const [sign, usual] = known ?? ['none', 3];
  return {
    at: beats(at),
    staff: Math.max(1, staffOf(element)),
    sign,
    line: integerWithin(childText(element, 'line'), 1, 20) ?? usual,
    octave: integerWithin(childText(element, 'clef-octave-change'), -3, 3) ?? 0,
  };
};

const readTransposition = (
  element: XmlElement,
  at: Fraction,
  log: Log,
  place: Place,
): Transposition | null => {
  const octaves = integerWithin(childText(element, 'octave-change') || '0', -9, 9);
  const chromatic = decimal(childText(element, 'chromatic'));
  if (chromatic === null || octaves === null || Math.abs(F.toNumber(chromatic)) > 120) {
    log.say('repair', 'transpose-unreadable', 'A transposition can not be read; it is left out.', place);
    return null;
  }
  const semitones = F.toNumber(chromatic);
  const given = integerWithin(childText(element, 'diatonic'), -99, 99);
  if (given === null)
    log.tally(
      'assumption',
      'transpose-steps-missing',
      '',
      () =>
        'A transposition tells its semitones but not its steps; the usual interval of that size is taken.',
      place,
    );
  // The nearest number of scale steps: 7 steps make 12 semitones.
  const diatonic = given ?? Math.round((semitones * 7) / 12);
  if (child(element, 'double') !== undefined)
    notKept(log, 'double', 'That the part is doubled an octave away', place);
  return { at: beats(at), diatonic: diatonic + 7 * octaves, chromatic: semitones + 12 * octaves };
};

const readTranspositions = (element: XmlElement, at: Fraction, out: MeasureDraft, log: Log, place: Place) => {
  let first: Transposition | null = null;
  for (const one of childrenOf(element, 'transpose')) {
    const read = readTransposition(one, at, log, place);
    if (read === null) continue;
    if (first === null) {
      first = read;
      out.transpositions.push(read);
    } else if (first.chromatic !== read.chromatic)
      log.say(
        'repair',
        'transpose-by-staff',
        'The staves of this part transpose differently; all are read with the first transposition, so pitches of the other staves may be off.',
        place,
      );
  }
};

const display: Readonly<Record<string, string>> = {
  'part-symbol': 'The bracket of a part',
  'staff-details': 'How the lines of a staff look',
  'measure-style': 'A short way of drawing bars (bar rests in one sign, slashes, repeat signs for bars)',
  'for-part': 'How a part drawn from this score would transpose',
  directive: 'A directive',
  instruments: 'How many instruments share the part',
};

/** The state of a part that attributes change. */
export interface AttributesState {
  readonly lengths: Lengths;
  /** Whether divisions were given, or it was told that they were not. */
  divisionsKnown: boolean;
  /** What the notes behind an `attributes` element say of its divisions by their printed values. */
  readonly byValues: (attributes: XmlElement) => Fraction | null;
  staves: number;
}

const readDivisions = (element: XmlElement, state: AttributesState, log: Log, place: Place): void => {
  const text = childText(element, 'divisions');
  if (text === '') return;
  state.divisionsKnown = true;
  const value = readableDivisions(text);
  if (value !== null) {
    state.lengths.set(value);
    return;
  }
  const byValues = state.byValues(element);
  if (byValues !== null) state.lengths.set(byValues);
  log.say(
    'repair',
    'divisions-unreadable',
    `The file counts durations in "${text.slice(0, 30)}" parts of a quarter, which makes no sense; ` +
      (byValues === null
        ? 'the number before it (at first 1) goes on.'
        : `by the printed values of the notes it is ${F.format(byValues)}.`),
    place,
  );
};

/** Reads one `attributes` element at a position of its bar. */
export const readAttributes = (
  element: XmlElement,
  at: Fraction,
  state: AttributesState,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  readDivisions(element, state, log, place);
  readMetres(element, at, out, log, place);
  readTranspositions(element, at, out, log, place);
  for (const item of element.children) {
    if (item.name === 'key') {
      const key = readKey(item, at, log, place);
      if (key !== null) out.keys.push(key);
    } else if (item.name === 'clef') out.clefs.push(readClef(item, at, log, place));
    else if (item.name === 'staves')
      state.staves = Math.max(state.staves, integerWithin(item.text, 1, 99) ?? 1);
    else if (item.name === 'instruments') {
      if ((integer(item.text) ?? 1) > 1) notKept(log, item.name, display['instruments'] ?? '', place);
    } else {
      const what = lookUp(display, item.name);
      if (what !== undefined) notKept(log, item.name, what, place);
    }
  }
};
