/**
 * What `scoreDef` and `staffDef` set: key, metre, clef, transposition. Source: MEI Guidelines 5, 4.2.2 "Defining Score
 * Parameters for CMN" and 4.2.4 "Redefinition".
 */
import { lookUp, type Place } from '../../../units/index.ts';
import { noMetre, type Metre, type MetreComponent } from '../../metre.ts';
import type { Clef } from '../../model.ts';
import type { Pitch } from '../../notes.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { attribute, child, childrenOf, type XmlElement } from '../xml.ts';
import { alterOf, fifthsOf, keyAlters, stepOf } from './pitches.ts';
import { whole } from './values.ts';

export interface KeySetting {
  /** Null for a signature that is no row of sharps or flats in the usual order. */
  readonly fifths: number | null;
  readonly mode: string;
  readonly alters: ReadonlyMap<Pitch['step'], number>;
}

export interface ClefSetting {
  readonly sign: Clef['sign'];
  readonly line: number;
  readonly octave: number;
}

export interface Shift {
  readonly diatonic: number;
  readonly chromatic: number;
}

/** What one definition sets; absent: it says nothing of it. */
export interface Settings {
  key?: KeySetting;
  metre?: Metre;
  clef?: ClefSetting;
  shift?: Shift;
  defaultDuration?: string;
  defaultOctave?: string;
}

/** More terms than any time signature has. */
const mostTerms = 32;

/** "3+2" as [3, 2], "3*2" as [6]; null where it is no sum of whole numbers above zero. */
const numeratorsOf = (text: string): number[] | null => {
  if (!/^\s*\d{1,4}(\s*[+*]\s*\d{1,4})*\s*$/.test(text)) return null;
  const numbers = text
    .split('+')
    .map((term) => term.split('*').reduce((product, factor) => product * Number(factor), 1));
  return numbers.length <= mostTerms && numbers.every((n) => n > 0 && n <= 9999) ? numbers : null;
};

interface Signature {
  readonly count: string;
  readonly unit: string;
  readonly symbol: string;
}

const componentOf = ({ count, unit }: Signature): MetreComponent | null => {
  const numerators = numeratorsOf(count);
  const below = whole(unit, 1, 4096);
  return numerators === null || below === null ? null : { numerators, unit: below };
};

const metreOf = (signature: Signature): Metre | null => {
  const { count, unit, symbol } = signature;
  if (symbol === 'open') return noMetre;
  if (count === '' && unit === '') {
    if (symbol === 'common') return { components: [{ numerators: [4], unit: 4 }], symbol };
    if (symbol === 'cut') return { components: [{ numerators: [2], unit: 2 }], symbol };
  }
  const component = componentOf(signature);
  if (component === null) return null;
  return {
    components: [component],
    symbol: symbol === 'common' || symbol === 'cut' ? symbol : 'numbers',
  };
};

/** A signature; what is missing of it is taken from the metre before. */
const signatureOf = (element: XmlElement, prefix: string, before: Metre | null): Signature => {
  const [count, unit, symbol] = ['count', 'unit', 'sym'].map((name) => attribute(element, prefix + name));
  const old = before?.components[0];
  if (old === undefined || (symbol !== '' && count === '' && unit === ''))
    return { count: count ?? '', unit: unit ?? '', symbol: symbol ?? '' };
  return {
    count: count !== undefined && count !== '' ? count : old.numerators.join('+'),
    unit: unit !== undefined && unit !== '' ? unit : String(old.unit),
    symbol: symbol ?? '',
  };
};

const unreadable = ({ count, unit }: Signature, log: Log, place: Place): null => {
  log.say(
    'repair',
    'metre-unreadable',
    `A time signature can not be read ("${count.slice(0, 30)}/${unit.slice(0, 30)}"); the metre before it goes on.`,
    place,
  );
  return null;
};

/** A `meterSigGrp`: a mixed one is a sum, of the others the first signature is counted. */
const groupMetre = (group: XmlElement, before: Metre | null, log: Log, place: Place): Metre | null => {
  const metres = childrenOf(group, 'meterSig').map((one) => {
    const signature = signatureOf(one, '', before);
    return metreOf(signature) ?? unreadable(signature, log, place);
  });
  const [first] = metres;
  if (first === undefined || first === null) return null;
  if (attribute(group, 'func') === 'mixed')
    return { components: metres.flatMap((metre) => metre?.components ?? []), symbol: 'numbers' };
  if (metres.length > 1)
    log.say(
      'assumption',
      'metre-interchangeable',
      'Two time signatures are given to choose from; the first is counted.',
      place,
    );
  return first;
};

/** The metre that a `meterSig`, `meterSigGrp` or the attributes of a definition set; null where they set none. */
export const readMetre = (
  element: XmlElement,
  before: Metre | null,
  log: Log,
  place: Place,
): Metre | null => {
  if (element.name === 'meterSigGrp') return groupMetre(element, before, log, place);
  const prefix = element.name === 'meterSig' ? '' : 'meter.';
  const given = ['count', 'unit', 'sym'].some((name) => attribute(element, prefix + name) !== '');
  if (!given) return null;
  const signature = signatureOf(element, prefix, before);
  return metreOf(signature) ?? unreadable(signature, log, place);
};

const accidentalsOf = (element: XmlElement): ReadonlyMap<Pitch['step'], number> => {
  const alters = new Map<Pitch['step'], number>();
  for (const one of childrenOf(element, 'keyAccid')) {
    const step = stepOf(attribute(one, 'pname'));
    const alter = alterOf(attribute(one, 'accid'));
    if (step !== null && alter !== null) alters.set(step, alter);
  }
  return alters;
};

/** The key that a `keySig` or the attributes of a definition set; null where they set none. */
export const readKey = (element: XmlElement, log: Log, place: Place): KeySetting | null => {
  const own = element.name === 'keySig';
  const sig =
    (own ? attribute(element, 'sig') : '') || attribute(element, 'keysig') || attribute(element, 'key.sig');
  const mode = (own ? attribute(element, 'mode') : '') || attribute(element, 'key.mode');
  const match = /^(\d{1,2})([sf]?)$/.exec(sig);
  const count = Number(match?.[1] ?? '0');
  if (match !== null && count <= 14 && (match[2] !== '' || count === 0)) {
    const fifths = match[2] === 'f' ? 0 - count : count;
    return { fifths, mode, alters: keyAlters(fifths) };
  }
  const alters = accidentalsOf(element);
  if (alters.size > 0) {
    const fifths = fifthsOf(alters);
    if (fifths === null)
      notKept(log, 'key', 'A key signature that is no row of sharps or flats in the usual order', place);
    return { fifths, mode, alters };
  }
  if (sig === 'mixed')
    notKept(log, 'key', 'A key signature that is no row of sharps or flats in the usual order', place);
  else if (sig !== '')
    log.say(
      'repair',
      'key-unreadable',
      'A key signature can not be read; it is left out. The notes carry their own alterations.',
      place,
    );
  return null;
};

const signs: Readonly<Record<string, readonly [Clef['sign'], number, number]>> = {
  G: ['G', 2, 0],
  GG: ['G', 2, -1],
  F: ['F', 4, 0],
  C: ['C', 3, 0],
  perc: ['percussion', 3, 0],
  TAB: ['TAB', 5, 0],
};

/** The small figure at a clef: 8 one octave, 15 two, 22 three. */
const octavesOf = (dis: string, place: string): number => {
  const octaves = lookUp({ '8': 1, '15': 2, '22': 3 }, dis) ?? 0;
  return place === 'below' ? 0 - octaves : octaves;
};

/** The clef that a `clef` or the attributes of a definition set; null where they set none. */
export const readClef = (
  element: XmlElement,
  before: ClefSetting | null,
  log: Log,
  place: Place,
): ClefSetting | null => {
  const prefix = element.name === 'clef' ? '' : 'clef.';
  const [shape = '', line = '', dis = '', where = ''] = ['shape', 'line', 'dis', 'dis.place'].map((name) =>
    attribute(element, prefix + name),
  );
  if (shape === '' && line === '' && dis === '') return null;
  const found = lookUp(signs, shape);
  if (found === undefined && shape !== '')
    log.say(
      'repair',
      'clef-unknown',
      `The clef "${shape.slice(0, 30)}" is not known; the staff is kept without a clef.`,
      place,
    );
  const [sign, usual, octave] =
    found ?? (shape === '' && before !== null ? [before.sign, before.line, before.octave] : ['none', 3, 0]);
  return {
    sign,
    line: whole(line, 1, 20) ?? usual,
    octave: dis === '' ? octave : octavesOf(dis, where),
  };
};

const readShift = (element: XmlElement, log: Log, place: Place): Shift | null => {
  const [semi, diat] = [attribute(element, 'trans.semi'), attribute(element, 'trans.diat')];
  if (semi === '' && diat === '') return null;
  const chromatic = whole(semi, -120, 120);
  if (chromatic === null) {
    log.say('repair', 'transpose-unreadable', 'A transposition can not be read; it is left out.', place);
    return null;
  }
  const given = whole(diat, -99, 99);
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
  return { diatonic: given ?? Math.round((chromatic * 7) / 12), chromatic };
};

/** What a `scoreDef` or `staffDef` sets by its attributes and children. */
export const readSettings = (
  element: XmlElement,
  before: { readonly metre: Metre | null; readonly clef: ClefSetting | null },
  log: Log,
  place: Place,
): Settings => {
  const settings: Settings = {};
  const meterSig = child(element, 'meterSigGrp') ?? child(element, 'meterSig');
  const metre =
    (meterSig === undefined ? null : readMetre(meterSig, before.metre, log, place)) ??
    readMetre(element, before.metre, log, place);
  if (metre !== null) settings.metre = metre;
  const keySig = child(element, 'keySig');
  const key = (keySig === undefined ? null : readKey(keySig, log, place)) ?? readKey(element, log, place);
  if (key !== null) settings.key = key;
  const group = child(element, 'clefGrp');
  const clefElement = child(group ?? element, 'clef');
  const clef =
    (clefElement === undefined ? null : readClef(clefElement, before.clef, log, place)) ??
    readClef(element, before.clef, log, place);
  if (clef !== null) settings.clef = clef;
  const shift = readShift(element, log, place);
  if (shift !== null) settings.shift = shift;
  const [duration, octave] = [attribute(element, 'dur.default'), attribute(element, 'oct.default')];
  if (duration !== '') settings.defaultDuration = duration;
  if (octave !== '' || attribute(element, 'octave.default') !== '')
    settings.defaultOctave = octave !== '' ? octave : attribute(element, 'octave.default');
  return settings;
};
