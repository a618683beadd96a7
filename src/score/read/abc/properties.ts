/** What K: and V: say beside the key: clef, transposition, names. Source: ABC 2.1, sections 4.6 and 7.1. */
import { lookUp } from '../../../units/index.ts';
import type { Clef } from '../../model.ts';
import { decodeString } from './text.ts';

export type ClefShape = Pick<Clef, 'sign' | 'line' | 'octave'>;

export interface Properties {
  clef?: ClefShape;
  /** The note of the middle line as steps from C0, as the file writes it. */
  middle?: number;
  transpose?: number;
  octave?: number;
  name?: string;
  abbreviation?: string;
  stem?: 'up' | 'down' | null;
  /** From directives for playback: General MIDI program 1 to 128, channel, semitones. */
  program?: number;
  channel?: number;
  midiTranspose?: number;
}

export interface PropertiesRead {
  readonly properties: Properties;
  /** What makes no sense, by the problem that tells it: [code kind, text]. */
  readonly wrong: readonly (readonly ['clef' | 'transpose' | 'octave' | 'middle', string])[];
  /** Names of what has no place in the model. */
  readonly unkept: readonly string[];
  /** Words that belong to nothing here: K: finds its key among them. */
  readonly rest: readonly string[];
}

interface Token {
  readonly name: string;
  readonly value: string | null;
}

/** Splits "clef=bass name="Basso I"snm=B" into names and values; a quoted value ends at its quote. */
const tokensOf = (text: string): Token[] => {
  const tokens: Token[] = [];
  let at = 0;
  const quoted = (): string => {
    let end = at + 1;
    while (end < text.length && text.charAt(end) !== '"') end += text.charAt(end) === '\\' ? 2 : 1;
    const value = text.slice(at + 1, end);
    at = end + 1;
    return value;
  };
  const word = (stop: RegExp): string => {
    const from = at;
    while (at < text.length && !stop.test(text.charAt(at))) at += 1;
    return text.slice(from, at);
  };
  const space = (): void => {
    while (at < text.length && /\s/.test(text.charAt(at))) at += 1;
  };
  for (;;) {
    space();
    if (at >= text.length) break;
    if (text.charAt(at) === '"') {
      tokens.push({ name: '', value: quoted() });
      continue;
    }
    const from = at;
    const name = word(/[\s="]/);
    // "=c" alone is an accidental of a key.
    if (name === '' || text.charAt(at) !== '=' || !/^[A-Za-z][\w:-]*$/.test(name) || /^[A-G]$/.test(name)) {
      if (at === from || text.charAt(at) === '=') {
        at = Math.max(at, from + 1);
        word(/[\s"]/);
      }
      tokens.push({ name: text.slice(from, at), value: null });
      continue;
    }
    at += 1;
    tokens.push({ name, value: text.charAt(at) === '"' ? quoted() : word(/\s/) });
  }
  return tokens;
};

const shapes: Readonly<Record<string, readonly [Clef['sign'], number]>> = {
  treble: ['G', 2],
  bass: ['F', 4],
  alto: ['C', 3],
  tenor: ['C', 4],
  soprano: ['C', 1],
  mezzosoprano: ['C', 2],
  baritone: ['F', 3],
  perc: ['percussion', 3],
  none: ['none', 3],
  G: ['G', 2],
  F: ['F', 4],
  C: ['C', 3],
  P: ['percussion', 3],
};

const octaves: Readonly<Record<string, number>> = { '8': 1, '15': 2 };

/** Null for a word that is no clef. */
const clefOf = (word: string): ClefShape | null => {
  // "treble8" is an octave lower, as files before ABC 2.1 have it (from memory).
  const match = /^([A-Za-z]+)([1-5])?(?:([+^_-]?)(8|15))?$/.exec(word);
  const shape = lookUp(shapes, match?.[1] ?? '');
  if (match === null || shape === undefined) return null;
  const octave = (octaves[match[4] ?? ''] ?? 0) * (/[_-]|^$/.test(match[3] ?? '') ? -1 : 1);
  return { sign: shape[0], line: match[2] === undefined ? shape[1] : Number(match[2]), octave: octave + 0 };
};

const whole = (text: string, most: number): number | null => {
  const value = /^[+-]?\d{1,4}$/.test(text) ? Number(text) : NaN;
  return Math.abs(value) <= most ? value : null;
};

/** Steps of a note from C0: "C" is C4, "c" C5. Null where it is none. */
const stepsOf = (text: string): number | null => {
  const match = /^([A-Ga-g])([,']{0,10})$/.exec(text);
  if (match === null) return null;
  const letter = match[1] ?? 'C';
  let steps = 'CDEFGAB'.indexOf(letter.toUpperCase()) + 7 * (letter === letter.toUpperCase() ? 4 : 5);
  for (const sign of match[2] ?? '') steps += sign === ',' ? -7 : 7;
  return steps;
};

/** Reads clefs, with or without "clef=", and everything written as name=value. */
export const readProperties = (text: string): PropertiesRead => {
  const properties: Properties = {};
  const wrong: (readonly ['clef' | 'transpose' | 'octave' | 'middle', string])[] = [];
  const unkept: string[] = [];
  const rest: string[] = [];
  for (const { name, value } of tokensOf(text)) {
    if (value === null) {
      const clef = /^[a-z]/.test(name) && name !== 'none' ? clefOf(name) : null;
      if (clef === null) rest.push(name);
      else properties.clef = clef;
      continue;
    }
    switch (name) {
      case 'clef': {
        const clef = clefOf(value);
        if (clef === null) wrong.push(['clef', value]);
        else properties.clef = clef;
        break;
      }
      case 'middle':
      case 'm': {
        const steps = stepsOf(value);
        if (steps === null) wrong.push(['middle', value]);
        else properties.middle = steps;
        break;
      }
      case 'transpose':
      case 't': {
        const semitones = whole(value, 120);
        if (semitones === null) wrong.push(['transpose', value]);
        else properties.transpose = semitones;
        break;
      }
      case 'octave': {
        const octave = whole(value, 9);
        if (octave === null) wrong.push(['octave', value]);
        else properties.octave = octave;
        break;
      }
      case 'name':
      case 'nm':
        properties.name = decodeString(value).replace(/\s+/g, ' ');
        break;
      case 'subname':
      case 'snm':
      case 'sname':
        properties.abbreviation = decodeString(value).replace(/\s+/g, ' ');
        break;
      case 'stem':
        properties.stem = value === 'up' || value === 'down' ? value : null;
        break;
      default:
        unkept.push(name === '' ? 'a text in quotation marks' : name);
    }
  }
  return { properties, wrong, unkept, rest };
};

const clefNotes: Readonly<Record<Clef['sign'], number | null>> = {
  G: 7 * 4 + 4,
  F: 7 * 3 + 3,
  C: 7 * 4,
  percussion: null,
  TAB: null,
  none: null,
};

/**
 * Where a clef stands by the note of its middle line, and how many octaves lower than written in the file the notes are
 * drawn: "clef=bass middle=d" draws the note d on the middle line of a bass clef, two octaves below d.
 */
export const clefByMiddle = (clef: ClefShape, middle: number): { clef: ClefShape; octaves: number } => {
  const note = clefNotes[clef.sign];
  if (note === null) return { clef, octaves: 0 };
  const found: { line: number; octaves: number }[] = [];
  for (let octaves = -8; octaves <= 8; octaves += 1) {
    const steps = note - (middle - 7 * octaves);
    if (steps % 2 === 0 && Math.abs(steps) <= 4) found.push({ line: 3 + steps / 2, octaves });
  }
  const best =
    found.find(({ line }) => line === clef.line) ??
    found.toSorted((a, b) => Math.abs(a.octaves) - Math.abs(b.octaves))[0];
  return best === undefined
    ? { clef, octaves: 0 }
    : { clef: { ...clef, line: best.line }, octaves: best.octaves };
};
