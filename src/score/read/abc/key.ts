/** Keys: tonic and mode, added or explicit accidentals, bagpipes. Source: ABC 2.1, section 3.1.14. */
import { lookUp } from '../../../units/index.ts';

export interface KeySignature {
  /** Sharps above zero; null where the accidentals are no row in the usual order. */
  readonly fifths: number | null;
  /** "major", "dorian", ...; "none" for no key; empty where accidentals make it none of them. */
  readonly mode: string;
  /** What each letter is altered by, in semitones; letters that are not stay out. */
  readonly alters: ReadonlyMap<string, number>;
  /** "pipes": the highland pipes' scale, of which the page shows nothing (HP) or all (Hp). */
  readonly pipes: boolean;
}

export type KeyRead =
  | { readonly kind: 'key'; readonly key: KeySignature; readonly understood: boolean }
  /** The field speaks of clefs and the like only. */
  | { readonly kind: 'same' };

/** The letters in the order in which sharps come. */
const order = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/** The row of sharps or flats as alterations by letter: with more than seven, double ones. */
const rowOf = (fifths: number): Map<string, number> => {
  const alters = new Map<string, number>();
  order.forEach((letter, index) => {
    const alter = Math.floor((fifths - index + 6) / 7);
    if (alter !== 0) alters.set(letter, alter);
  });
  return alters;
};

const modes: Readonly<Record<string, readonly [name: string, fifths: number]>> = {
  '': ['major', 0],
  maj: ['major', 0],
  m: ['minor', -3],
  min: ['minor', -3],
  ion: ['ionian', 0],
  aeo: ['aeolian', -3],
  mix: ['mixolydian', -1],
  dor: ['dorian', -2],
  phr: ['phrygian', -4],
  lyd: ['lydian', 1],
  loc: ['locrian', -5],
};

const modeOf = (word: string): readonly [string, number] | undefined =>
  lookUp(modes, word.toLowerCase()) ??
  (word.length >= 3 ? lookUp(modes, word.slice(0, 3).toLowerCase()) : undefined);

const fifthsOf = (alters: ReadonlyMap<string, number>): number | null => {
  for (let fifths = -7; fifths <= 7; fifths += 1) {
    const row = rowOf(fifths);
    if (order.every((letter) => (row.get(letter) ?? 0) === (alters.get(letter) ?? 0))) return fifths;
  }
  return null;
};

const accidentalSigns: Readonly<Record<string, number>> = { '^': 1, '^^': 2, _: -1, __: -2, '=': 0 };

const none: KeySignature = { fifths: 0, mode: 'none', alters: new Map(), pipes: false };
export const noKey = none;

/** `words`: what is left of a K: field when clefs and the like are taken out of it. `alone`: nothing else stood there. */
export const readKey = (words: readonly string[], alone: boolean): KeyRead => {
  const [first, ...others] = words;
  if (first === undefined) return alone ? { kind: 'key', key: none, understood: true } : { kind: 'same' };
  const rest = [...others];
  let understood = true;
  let explicit = false;
  let fifths = 0;
  let mode = 'none';
  if (/^none$/i.test(first)) mode = 'none';
  else if (first === 'HP' || first === 'Hp')
    return {
      kind: 'key',
      key: { fifths: first === 'HP' ? 0 : 2, mode: 'none', alters: rowOf(2), pipes: true },
      understood: rest.length === 0,
    };
  else if (/^[\^_=]/.test(first)) {
    explicit = true;
    rest.unshift(first);
  } else {
    const match = /^([A-Ga-g])([#b\u266f\u266d]?)([A-Za-z]*)(.*)$/.exec(first);
    const tonic = match?.[1] ?? '';
    if (match === null || tonic === '') return { kind: 'key', key: none, understood: false };
    if (tonic !== tonic.toUpperCase()) understood = false;
    const step = order.indexOf(tonic.toUpperCase()) - 1;
    const sign = match[2] ?? '';
    const shift = sign === '' ? 0 : sign === '#' || sign === '\u266f' ? 7 : -7;
    let word = match[3] ?? '';
    if (match[4] !== '') rest.unshift(match[4] ?? '');
    if (word === '' && rest[0] !== undefined && /^[A-Za-z]+$/.test(rest[0])) word = rest.shift() ?? '';
    explicit = /^exp/i.test(word);
    const known = explicit ? modes[''] : modeOf(word);
    understood &&= known !== undefined;
    mode = known?.[0] ?? 'major';
    fifths = step + shift + (known?.[1] ?? 0);
  }
  const alters = explicit ? new Map<string, number>() : rowOf(mode === 'none' ? 0 : fifths);
  let changed = explicit;
  for (const word of rest) {
    const signs = [...word.matchAll(/(\^\^|__|\^|_|=)([A-Ga-g])/g)];
    if (signs.length === 0 || signs.reduce((sum, [all]) => sum + all.length, 0) !== word.length) {
      understood = false;
      continue;
    }
    changed = true;
    for (const [, sign = '', letter = ''] of signs) {
      const alter = accidentalSigns[sign] ?? 0;
      if (alter === 0) alters.delete(letter.toUpperCase());
      else alters.set(letter.toUpperCase(), alter);
    }
  }
  const key = changed
    ? { fifths: fifthsOf(alters), mode: mode === 'none' ? 'none' : '', alters, pipes: false }
    : { fifths: mode === 'none' ? 0 : fifths, mode, alters, pipes: false };
  return { kind: 'key', key, understood };
};
