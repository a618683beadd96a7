/**
 * One note or rest of a **kern spine: its signs, whatever their order. Source: Humdrum reference, **kern, "Summary of
 * **kern Signifiers" and "Context Dependencies" (https://www.humdrum.org/rep/kern). From later practice, from memory: "qq" is
 * a grace note without stroke, "^^" a strong accent, "y" behind an accidental hides it and "X" shows it, "@16@" is a tremolo.
 */
import type { Pitch } from '../../notes.ts';

export interface KernNote {
  /** 0 for a note, 1 for a rest, 2 for one that is drawn as a whole rest. */
  readonly rest: number;
  /** As it sounds; of a rest, where it is drawn. */
  readonly pitch: Pitch | null;
  readonly natural: boolean;
  readonly accidental: 'rule' | 'shown' | 'hidden';
  /** Empty where none is given; "?" where several are. */
  readonly duration: string;
  readonly grace: 'none' | 'slashed' | 'plain';
  readonly tieStart: boolean;
  readonly tieStop: boolean;
  /** How many elision signs stand before each. */
  readonly slurStarts: readonly number[];
  readonly slurStops: readonly number[];
  /** Letters L, J, K, k. */
  readonly beams: {
    readonly open: number;
    readonly close: number;
    readonly right: number;
    readonly left: number;
  };
  readonly stem: 'up' | 'down' | null;
  readonly hidden: boolean;
  readonly fermata: boolean;
  readonly arpeggio: boolean;
  readonly unpitched: boolean;
  readonly articulations: readonly string[];
  readonly ornaments: readonly string[];
  readonly technical: readonly { readonly name: string; readonly text: string }[];
  readonly dynamics: readonly string[];
  /** Signs of which the meaning is up to the file (RDF records). */
  readonly user: string;
  /** What the model has no place for, in words. */
  readonly unkept: readonly string[];
  /** Characters that mean nothing. */
  readonly strange: string;
}

const steps: Readonly<Record<string, Pitch['step']>> = {
  a: 'A',
  b: 'B',
  c: 'C',
  d: 'D',
  e: 'E',
  f: 'F',
  g: 'G',
};

const articulations: Readonly<Record<string, string>> = {
  "'": 'staccato',
  '`': 'staccatissimo',
  '~': 'tenuto',
  s: 'spiccato',
  ',': 'breath-mark',
};

const ornaments: Readonly<Record<string, string>> = {
  T: 'trill-mark',
  t: 'trill-mark',
  M: 'mordent',
  m: 'mordent',
  W: 'inverted-mordent',
  w: 'inverted-mordent',
  S: 'turn',
  $: 'inverted-turn',
  O: 'other-ornament',
};

/** The reference: "u" is down-bow, "v" up-bow. */
const technical: Readonly<Record<string, { readonly name: string; readonly text: string }>> = {
  u: { name: 'down-bow', text: '' },
  v: { name: 'up-bow', text: '' },
  o: { name: 'harmonic', text: '' },
  '"': { name: 'other-technical', text: 'pizzicato' },
  U: { name: 'other-technical', text: 'con sordino' },
};

const unkept: Readonly<Record<string, string>> = {
  H: 'A glissando line',
  h: 'A glissando line',
  I: 'An articulation that the file does not name (I)',
  P: 'That a note is an appoggiatura, written out as it is played (P)',
  p: 'That a note follows an appoggiatura, written out as it is played (p)',
  Y: 'That a place is questionable in the source (Y)',
  x: "The mark of an editor's interpretation (x)",
  X: "The mark of an editor's addition (X)",
  '?': 'The sign that a remark belongs to a note (?)',
  '{': 'A phrase mark',
  '}': 'A phrase mark',
};

/** Most elision signs in a row that are told apart. */
const mostElisions = 20;

const pitchOf = (letters: string, accidentals: string): Pitch | null => {
  const step = steps[letters.charAt(0).toLowerCase()];
  const length = letters.length;
  if (step === undefined || length > 7) return null;
  const octave = letters === letters.toLowerCase() ? 3 + length : 4 - length;
  const alter =
    accidentals === 'n' ? 0 : accidentals.startsWith('-') ? -accidentals.length : accidentals.length;
  return Math.abs(alter) > 8 ? null : { step, alter, octave };
};

/** Reads one note; what it is in time and pitch is checked by who asks. */
export const readToken = (token: string): KernNote => {
  let rest = 0;
  let letters = '';
  let accidentals = '';
  let accidental: KernNote['accidental'] = 'rule';
  let duration = '';
  let graces = 0;
  let groupetto = false;
  let tieStart = false;
  let tieStop = false;
  const slurStarts: number[] = [];
  const slurStops: number[] = [];
  const beams = { open: 0, close: 0, right: 0, left: 0 };
  let stem: KernNote['stem'] = null;
  let hidden = false;
  let fermata = false;
  let arpeggio = false;
  let unpitched = false;
  const artic: string[] = [];
  const orn: string[] = [];
  const tech: { readonly name: string; readonly text: string }[] = [];
  const dynamics: string[] = [];
  let user = '';
  const lost: string[] = [];
  let strange = '';
  let elisions = 0;
  let broken = false;

  const addTo = (list: string[], name: string): void => {
    if (!list.includes(name)) list.push(name);
  };
  let index = 0;
  while (index < token.length) {
    const sign = token.charAt(index);
    let to = index + 1;
    if (sign >= '0' && sign <= '9') {
      while (/[0-9.%]/.test(token.charAt(to))) to += 1;
      duration = duration === '' ? token.slice(index, to) : '?';
    } else if (/[a-gA-G]/.test(sign)) {
      while (token.charAt(to) === sign) to += 1;
      if (letters !== '') broken = true;
      letters = token.slice(index, to);
      const from = to;
      const mark = token.charAt(to);
      if (mark === 'n') to += 1;
      else if (mark === '#' || mark === '-') while (token.charAt(to) === mark) to += 1;
      accidentals = token.slice(from, to);
      const after = token.charAt(to);
      if (after === 'X') {
        accidental = 'shown';
        to += token.charAt(to + 1) === 'X' ? 0 : 1;
      } else if (after === 'y' && token.charAt(to + 1) !== 'y') {
        if (accidentals === '') hidden = true;
        else accidental = 'hidden';
        to += 1;
      }
    } else if (sign === '@') {
      const tremolo = /^@+\d+@+/.exec(token.slice(index, index + 12))?.[0];
      if (tremolo === undefined) user += sign;
      else {
        to = index + tremolo.length;
        addTo(orn, 'tremolo');
        addTo(lost, 'How many strokes a tremolo has and to which note it goes');
      }
    } else if (sign === '^') {
      if (token.charAt(to) === '^') {
        to += 1;
        addTo(artic, 'strong-accent');
      } else addTo(artic, 'accent');
    } else if (sign === 'y') {
      if (token.charAt(to) === 'y') {
        to += 1;
        hidden = true;
      } else if (token.charAt(index - 1) === 'r' || letters === '') hidden = true;
      else addTo(lost, 'That a sign beside a note is not printed (y)');
    } else if (sign === 'R') {
      const after = orn.some((name) => name !== 'tremolo');
      if (after) addTo(lost, 'That an ornament ends with a turn (R)');
      else unpitched = true;
    } else if (sign === '&') elisions = Math.min(elisions + 1, mostElisions);
    else if (sign === '(') slurStarts.push(elisions);
    else if (sign === ')') slurStops.push(elisions);
    else if (sign === 'r') rest += 1;
    else if (sign === 'q') graces += 1;
    else if (sign === 'Q') groupetto = true;
    else if (sign === '[') tieStart = true;
    else if (sign === ']') tieStop = true;
    else if (sign === '_') tieStart = tieStop = true;
    else if (sign === 'L') beams.open += 1;
    else if (sign === 'J') beams.close += 1;
    else if (/^s?[S$]/.test(token.slice(index, index + 2))) {
      // "sS" and "sSs" are one sign each (later practice, from memory): the turn that comes after its note, and its accidental.
      while (/[sS$]/.test(token.charAt(to))) to += 1;
      const inverted = token.slice(index, to).includes('$');
      addTo(orn, `${sign === 's' ? 'delayed-' : ''}${inverted ? 'inverted-turn' : 'turn'}`);
    } else if (sign === 'K') beams.right += 1;
    else if (sign === 'k') beams.left += 1;
    else if (sign === '/') stem = 'up';
    else if (sign === '\\') stem = 'down';
    else if (sign === ';') fermata = true;
    else if (sign === ':') arpeggio = true;
    else if (sign === 'z') addTo(dynamics, 'sfz');
    else if (/[ijlNVZ%+|<>]/.test(sign)) user += sign;
    else {
      const articulation = articulations[sign];
      const ornament = ornaments[sign];
      const technique = technical[sign];
      const unknown = unkept[sign];
      if (articulation !== undefined) addTo(artic, articulation);
      else if (ornament !== undefined) addTo(orn, ornament);
      else if (technique !== undefined) {
        if (!tech.includes(technique)) tech.push(technique);
      } else if (unknown !== undefined) addTo(lost, unknown);
      else strange += sign;
    }
    if (sign !== '&') elisions = 0;
    index = to;
  }
  return {
    rest: Math.min(rest, 2),
    pitch: broken || letters === '' ? null : pitchOf(letters, accidentals),
    natural: accidentals === 'n',
    accidental,
    duration,
    grace: groupetto || graces > 1 ? 'plain' : graces === 1 ? 'slashed' : 'none',
    tieStart,
    tieStop,
    slurStarts,
    slurStops,
    beams,
    stem,
    hidden,
    fermata,
    arpeggio,
    unpitched,
    articulations: artic,
    ornaments: orn,
    technical: tech,
    dynamics,
    user,
    unkept: lost,
    strange,
  };
};
