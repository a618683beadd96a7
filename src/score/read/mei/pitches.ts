/**
 * Pitch and accidentals. What sounds is what MEI's gestural attributes say: `accid.ges` "records the performed pitch
 * inflection when it differs from the written accidental" (MEI 2010 to 3, att.accidental.performed), `oct.ges` and `pname.ges`
 * likewise; else the written accidental counts.
 */
import { lookUp } from '../../../units/index.ts';
import type { Pitch } from '../../notes.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { whole } from './values.ts';

/**
 * MEI 5, data.ACCIDENTAL.WRITTEN and data.ACCIDENTAL.GESTURAL, from memory: what each means in semitones, and its name in the
 * model. Arrows are quarter tones.
 */
const accidentals: Readonly<Record<string, readonly [alter: number, name: string]>> = {
  s: [1, 'sharp'],
  f: [-1, 'flat'],
  n: [0, 'natural'],
  x: [2, 'double-sharp'],
  ss: [2, 'sharp-sharp'],
  ff: [-2, 'flat-flat'],
  xs: [3, 'triple-sharp'],
  sx: [3, 'triple-sharp'],
  ts: [3, 'triple-sharp'],
  tf: [-3, 'triple-flat'],
  nf: [-1, 'natural-flat'],
  ns: [1, 'natural-sharp'],
  su: [1.5, 'sharp-up'],
  sd: [0.5, 'sharp-down'],
  fu: [-0.5, 'flat-up'],
  fd: [-1.5, 'flat-down'],
  nu: [0.5, 'natural-up'],
  nd: [-0.5, 'natural-down'],
  xu: [2.5, 'double-sharp-up'],
  xd: [1.5, 'double-sharp-down'],
  ffu: [-1.5, 'flat-flat-up'],
  ffd: [-2.5, 'flat-flat-down'],
  '1qf': [-0.5, 'quarter-flat'],
  '3qf': [-1.5, 'three-quarters-flat'],
  '1qs': [0.5, 'quarter-sharp'],
  '3qs': [1.5, 'three-quarters-sharp'],
};

/** Semitones of an accidental; null for one that is not known. */
export const alterOf = (accid: string): number | null => lookUp(accidentals, accid)?.[0] ?? null;

/** The name of an accidental in the model; empty where it has none. */
export const accidentalName = (accid: string): string => lookUp(accidentals, accid)?.[1] ?? '';

export const stepOf = (pname: string): Pitch['step'] | null => {
  switch (pname.toLowerCase()) {
    case 'a':
      return 'A';
    case 'b':
      return 'B';
    case 'c':
      return 'C';
    case 'd':
      return 'D';
    case 'e':
      return 'E';
    case 'f':
      return 'F';
    case 'g':
      return 'G';
    default:
      return null;
  }
};

export const octaveOf = (text: string): number | null => whole(text, -1, 10);

export interface Accidental {
  /** As written before the note; empty without. */
  readonly written: string;
  /** As performed, where the file says so; empty without. */
  readonly performed: string;
}

/** The accidental of a note: its attributes, else those of its `accid` children. */
export const accidentalOf = (note: XmlElement): Accidental => {
  let written = attribute(note, 'accid');
  let performed = attribute(note, 'accid.ges');
  for (const child of note.children) {
    if (child.name !== 'accid') continue;
    if (written === '') written = attribute(child, 'accid');
    if (performed === '') performed = attribute(child, 'accid.ges');
  }
  return { written, performed };
};

const steps: readonly Pitch['step'][] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/** The place `loc` of a staff (0: the bottom line, 1: the space above it) as a note in the G clef, as drum parts are read. */
export const stepAt = (loc: number): { readonly step: Pitch['step']; readonly octave: number } | null => {
  const index = 4 * 7 + 2 + loc;
  const step = steps[((index % 7) + 7) % 7];
  return step === undefined ? null : { step, octave: Math.floor(index / 7) };
};

const sharps: readonly Pitch['step'][] = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/** What a key signature does to each step: of more than seven sharps or flats the first ones count double. */
export const keyAlters = (fifths: number): ReadonlyMap<Pitch['step'], number> => {
  const alters = new Map<Pitch['step'], number>();
  const order = fifths < 0 ? sharps.toReversed() : sharps;
  for (let index = 0; index < Math.abs(fifths); index += 1) {
    const step = order[index % 7];
    if (step !== undefined) alters.set(step, (alters.get(step) ?? 0) + Math.sign(fifths));
  }
  return alters;
};

/** The number of sharps or flats in the usual order that a list of altered steps makes; null where it makes none. */
export const fifthsOf = (alters: ReadonlyMap<Pitch['step'], number>): number | null => {
  const count = alters.size;
  for (const fifths of [count, -count]) {
    const usual = keyAlters(fifths);
    if ([...alters].every(([step, alter]) => usual.get(step) === alter)) return fifths;
  }
  return null;
};
