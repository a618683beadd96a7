/**
 * Tandem interpretations: what holds for a spine from here on. Sources: Humdrum reference, **kern, "Tandem Interpretations" and
 * User's Guide, chapters 2 and 6 (*MM is "always given in quarter-durations per minute"); trans for *Tr and *ITr. From later
 * practice, from memory: *met(c), *8va, *ped, *cue, *ossia.
 */
import { beats, bpm, lookUp, note, type Place } from '../../../units/index.ts';
import { metre as plainMetre, noMetre, parseMetre, type Metre } from '../../metre.ts';
import type { Clef } from '../../model.ts';
import { notKept } from '../drafts/log.ts';
import { fifthsOf, signatureOf } from './pitch.ts';
import { readFigure } from './words.ts';
import type { Desk, Seat, Strand } from './types.ts';

const modes: Readonly<Record<string, string>> = {
  dor: 'dorian',
  phr: 'phrygian',
  lyd: 'lydian',
  mix: 'mixolydian',
  aeo: 'aeolian',
  loc: 'locrian',
  ion: 'ionian',
};

const octaveLines: Readonly<Record<string, string>> = {
  '8va': 'down 8',
  '8ba': 'up 8',
  '15ma': 'down 15',
  '15ba': 'up 15',
};

/** Said of the page or of programs, as docs/formats/kern.md tells once for all; "*?:" and "*X:" are no key (reference). */
const silent =
  /^\*(\?:|X:|X?tremolo|rscale|Xrscale|(?:above|below|centered|Xabove|Xbelow)(?::.*)?$|staff\d|part\d|group\d|I[CG]?[a-zA-Z]|I["'#]|>|thru$|X?tuplet|X?brackettup|X?beamtup|X?tupbreak|tb\d|tb$|color|cr?:|pline|grp:|lang|strophe$|S\/|S-)/;

const readClef = (text: string): Omit<Clef, 'at' | 'staff'> | null => {
  if (/^X/.test(text)) return { sign: 'percussion', line: 3, octave: 0 };
  if (/^TAB/i.test(text)) return { sign: 'TAB', line: 5, octave: 0 };
  if (text === '-' || text === '') return { sign: 'none', line: 3, octave: 0 };
  const match = /^([GFC])(v{0,3}|\^{0,3})([1-5])$/.exec(text);
  if (match === null) return null;
  const [, sign, marks = '', line] = match;
  const octave = marks.startsWith('v') ? -marks.length : marks.length;
  return { sign: sign === 'G' ? 'G' : sign === 'F' ? 'F' : 'C', line: Number(line), octave };
};

export interface Context {
  readonly desk: Desk;
  readonly strand: Strand;
  readonly seat: Seat;
  readonly line: number;
}

const takeMetre = ({ desk, seat }: Context, place: Place, text: string): void => {
  const metre = /^[XZ]$/.test(text) ? noMetre : parseMetre(text);
  const fits =
    metre?.components.every(({ unit, numerators }) => unit <= 4096 && numerators.length <= 32) ?? false;
  if (metre === null || metre.components.length > 32 || !fits) {
    desk.log.say(
      'repair',
      'metre-unreadable',
      `A time signature can not be read ("${text.slice(0, 30)}"); the metre before it goes on.`,
      place,
    );
    return;
  }
  desk.clock.before((at) => {
    const { metres } = desk.draft(seat.part, desk.bar);
    const last = metres.at(-1);
    // A symbol that was given before its numbers belongs to them.
    const symbol = last?.at === at && last.metre.symbol !== 'numbers' ? last.metre.symbol : 'numbers';
    metres.push({ at, metre: { ...metre, symbol } });
  });
};

/** C and cut C: how the metre that stands here is printed. */
const takeSymbol = ({ desk, seat }: Context, text: string): void => {
  const symbol: Metre['symbol'] = text.includes('|') ? 'cut' : 'common';
  desk.clock.before((at) => {
    const { metres } = desk.draft(seat.part, desk.bar);
    const last = metres.at(-1);
    const own = last?.at === at ? last.metre : plainMetre(symbol === 'cut' ? 2 : 4, symbol === 'cut' ? 2 : 4);
    metres.push({ at, metre: { ...own, symbol } });
  });
};

const takeKeySignature = ({ desk, seat }: Context, place: Place, text: string): void => {
  const fifths = signatureOf(text);
  if (fifths === null) {
    notKept(desk.log, 'key', 'A key signature that is no row of sharps or flats in the usual order', place);
    return;
  }
  desk.clock.before((at) => {
    const state = desk.parts[seat.part];
    if (state === undefined) return;
    const written = fifths + fifthsOf(state.shift);
    state.keys.set(seat.staff, written);
    desk
      .draft(seat.part, desk.bar)
      .keys.push({ at: beats(at), staff: seat.staff, fifths: written, mode: '' });
  });
};

/** "G:", "f#:", "d:dor": the mode of the signature that stands at the same place. */
const takeKey = ({ desk, seat }: Context, place: Place, tonic: string, mode: string): void => {
  const name = lookUp(modes, mode) ?? (tonic.toLowerCase() === tonic ? 'minor' : 'major');
  desk.clock.before((at) => {
    const { keys } = desk.draft(seat.part, desk.bar);
    const index = keys.findLastIndex((key) => key.staff === seat.staff);
    const key = keys[index];
    if (key !== undefined && key.at.n === at.n && key.at.d === at.d) keys[index] = { ...key, mode: name };
    else notKept(desk.log, 'key/name', 'The name of a key without a key signature', place);
  });
};

const takeShift = ({ desk, seat }: Context, place: Place, text: string): void => {
  const match = /^d(-?\d{1,2})c(-?\d{1,3})$/.exec(text);
  if (match === null) {
    desk.log.say('repair', 'transpose-unreadable', 'A transposition can not be read; it is left out.', place);
    return;
  }
  const shift = { diatonic: Number(match[1]), chromatic: Number(match[2]) };
  desk.clock.before((at) => {
    const state = desk.parts[seat.part];
    if (state === undefined) return;
    const before = fifthsOf(state.shift);
    const change = fifthsOf(shift) - before;
    state.shift = shift;
    // A signature at the same place may have been read before the transposition.
    for (const [staff, fifths] of state.keys) state.keys.set(staff, fifths + change);
    const draft = desk.draft(seat.part, desk.bar);
    draft.keys.forEach((key, index) => {
      if (key.at.n === at.n && key.at.d === at.d) draft.keys[index] = { ...key, fifths: key.fifths + change };
    });
    const opposite = (value: number): number => (value === 0 ? 0 : -value);
    const own = draft.transpositions.findIndex((one) => one.at.n === at.n && one.at.d === at.d);
    if (own >= 0) draft.transpositions.splice(own, 1);
    draft.transpositions.push({
      at: beats(at),
      diatonic: opposite(shift.diatonic),
      chromatic: opposite(shift.chromatic),
    });
  });
};

const takeTempo = ({ desk, seat, line }: Context, place: Place, text: string): void => {
  const words = /^\[(.*)\]$/.exec(text)?.[1];
  if (words !== undefined) {
    desk.clock.before((at) => {
      if (words === '') return;
      const mark = { kind: 'tempoWords', at: beats(at), bar: desk.bar, text: words } as const;
      desk.draft(seat.part, desk.bar).marks.push({ mark, vague: null });
    });
    return;
  }
  const read = readFigure(text);
  if (read === null) {
    desk.log.say(
      'repair',
      'tempo-unreadable',
      `The tempo in line ${line} is "${text.slice(0, 40)}" quarters a minute, which is no tempo that can be played; it is left out.`,
      place,
    );
    return;
  }
  desk.clock.before((at) =>
    desk.draft(seat.part, desk.bar).marks.push({
      mark: {
        kind: 'tempo',
        at: beats(at),
        bar: desk.bar,
        unit: note(1, 4),
        perMinute: bpm(read.figure),
        printed: false,
      },
      vague: read.vague,
    }),
  );
};

/** Lines over or under the staff: octave lines begin with the next note and end with the note before. */
const takeLine = ({ desk, seat, strand }: Context, name: string): boolean => {
  const ends = name.startsWith('X') || name === 'Xped';
  const plain = ends ? name.slice(1) : name;
  const octave = lookUp(octaveLines, plain);
  if (octave === undefined && plain !== 'ped') return false;
  const kind = octave === undefined ? 'pedal' : 'octaveShift';
  const value = ends ? 'stop' : (octave ?? 'start');
  const put = (at: Strand['cursor'], bar: number): void => {
    const above = octave?.startsWith('down') ?? false;
    desk
      .draft(seat.part, bar)
      .directions.push({ at: beats(at), bar, staff: seat.staff, kind, value, number: 1, above });
  };
  if (ends) put(strand.cursor, desk.bar);
  else desk.clock.before((at) => put(at, desk.bar));
  return true;
};

/** Takes one interpretation of a spine of notes. */
export const interpret = (token: string, context: Context): void => {
  const { desk, strand, seat, line } = context;
  const place = desk.place(seat.part, line);
  const text = token.slice(1);
  const clef = /^clef(.*)$/.exec(text)?.[1];
  const metre = /^M(\d[\d+/]*|[XZ])$/.exec(text)?.[1];
  const symbol = /^met\(([cC]\|?)\)$/.exec(text)?.[1];
  const signature = /^k\[([^\]]*)\]$/.exec(text)?.[1];
  const key = /^([a-gA-G][#-]*):([a-z]*)$/.exec(text);
  if (clef !== undefined) {
    const read = readClef(clef);
    strand.percussion = read?.sign === 'percussion';
    if (read === null)
      desk.log.say(
        'repair',
        'clef-unknown',
        `The clef "${clef.slice(0, 30)}" is not known; the staff is kept without a clef.`,
        place,
      );
    desk.clock.before((at) => {
      const { clefs } = desk.draft(seat.part, desk.bar);
      const full = { at: beats(at), staff: seat.staff, ...(read ?? { sign: 'none', line: 3, octave: 0 }) };
      const known = clefs.some(
        (one) =>
          one.staff === full.staff &&
          one.sign === full.sign &&
          one.line === full.line &&
          one.octave === full.octave &&
          one.at.n === at.n &&
          one.at.d === at.d,
      );
      if (!known) clefs.push(full);
    });
  } else if (metre !== undefined) takeMetre(context, place, metre);
  else if (text.startsWith('M') && /^M[\d?]/.test(text)) takeMetre(context, place, text.slice(1));
  else if (symbol !== undefined) takeSymbol(context, symbol);
  else if (signature !== undefined) takeKeySignature(context, place, signature);
  else if (key !== null) takeKey(context, place, key[1] ?? '', key[2] ?? '');
  else if (text.startsWith('MM')) takeTempo(context, place, text.slice(2));
  else if (text.startsWith('ITr')) takeShift(context, place, text.slice(3));
  else if (/^Tr/.test(text))
    desk.log.say(
      'note',
      'score-transposed',
      `The file says that its notes were transposed (*${text.slice(0, 30)}); they sound as they stand in the file.`,
      place,
    );
  else if (text === 'cue' || text === 'Xcue') strand.small = text === 'cue';
  else if (text === 'ossia' || text === 'Xossia') {
    strand.ossia = text === 'ossia';
    if (!strand.ossia) strand.fresh = true;
  } else if (takeLine(context, text)) return;
  else if (text.startsWith('S/') || text === 'S-')
    strand.strophe = /^S\/(?!fin)(.{1,40})/.exec(text)?.[1] ?? '';
  else if (text === '!' || silent.test(token)) return;
  else notKept(desk.log, `*${text.slice(0, 30)}`, `The remark "*${text.slice(0, 30)}"`, place);
};
