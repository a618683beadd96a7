/** From a token of a spine of notes to entries of the bar: chords, lengths, and what can not be read. */
import { F, type Fraction } from '../../../units/index.ts';
import { notKept } from '../drafts/log.ts';
import { refuseTooFine } from '../drafts/values.ts';
import { takeBeams, takeSlurs } from './beams.ts';
import { createRecips, type Recip } from './recip.ts';
import { readToken, type KernNote } from './token.ts';
import type { Desk, Entry, Seat, Strand } from './types.ts';

export interface Reading {
  readonly token: KernNote;
  readonly recip: Recip | null;
}

/** A token's notes, read before it is known when they begin. Null where there is nothing in it that lasts or sounds. */
export interface Chord {
  readonly notes: readonly Reading[];
  /** Until the next token of the spine; zero for grace notes. */
  readonly length: Fraction;
  readonly grace: boolean;
  readonly wholeBar: boolean;
}

/** Tokens and notes of tokens that are told word by word are cut here. */
const shown = (text: string): string => (text.length > 30 ? `${text.slice(0, 30)}...` : text);

const mostNotes = 200;

export const createChords = (desk: Desk) => {
  const recips = createRecips();
  let tokens = new Map<string, KernNote>();

  /** Music repeats itself: a token that was read once is not read again. */
  const cached = (text: string): KernNote => {
    const found = tokens.get(text);
    if (found !== undefined) return found;
    const token = readToken(text);
    if (tokens.size > 20_000) tokens = new Map();
    if (text.length < 60) tokens.set(text, token);
    return token;
  };

  const lengthProblem = (token: KernNote, text: string, part: number, line: number, taken: boolean): void => {
    const code =
      token.duration === ''
        ? 'duration-missing'
        : token.duration === '?'
          ? 'duration-unreadable'
          : 'duration-out-of-range';
    const fact = token.duration === '' ? 'has no length' : 'has a length that can not be';
    desk.log.say(
      'repair',
      code,
      `The note "${shown(text)}" in line ${line} ${fact}; it ${taken ? 'lasts as long as its chord' : 'is left out'}.`,
      desk.place(part, line),
    );
  };

  const read = (text: string, part: number, line: number): Chord | null => {
    const all = text.split(' ').filter((piece) => piece !== '');
    const pieces = all.slice(0, mostNotes);
    if (all.length > pieces.length)
      notKept(
        desk.log,
        'chord',
        `A chord of more than ${mostNotes} notes, of which the rest`,
        desk.place(part, line),
      );
    const notes: Reading[] = [];
    let lead: Recip | null = null;
    for (const piece of pieces) {
      const token = cached(piece);
      for (const what of token.unkept) notKept(desk.log, what, what, desk.place(part, line));
      if (token.strange !== '')
        notKept(
          desk.log,
          `sign ${token.strange.slice(0, 3)}`,
          `The sign "${token.strange.slice(0, 3)}", which means nothing in **kern`,
          desk.place(part, line),
        );
      const grace = token.grace !== 'none';
      if (grace && token.rest > 0) {
        notKept(
          desk.log,
          'grace-rest',
          'A rest among grace notes, which takes no time',
          desk.place(part, line),
        );
        continue;
      }
      if (token.rest === 0 && token.pitch === null) {
        desk.log.say(
          'repair',
          'pitch-unreadable',
          `"${shown(piece)}" in line ${line} is no note and no rest that can be read; ${token.duration === '' ? 'it is left out' : 'its time is kept as a rest'}.`,
          desk.place(part, line),
        );
      }
      const own = token.duration === '' || token.duration === '?' ? null : recips(token.duration);
      const recip: Recip | null = own ?? (grace ? null : lead);
      if (own === null && !grace) {
        if (recip !== null || token.rest > 0 || token.pitch !== null)
          lengthProblem(token, piece, part, line, recip !== null);
        if (recip === null) continue;
      }
      lead ??= own;
      if (!grace && own !== null && lead !== null && !F.equal(own.length, lead.length))
        desk.log.tally(
          'repair',
          'chord-lengths-differ',
          '',
          (many) =>
            `Notes of a chord have different lengths (${many}); each keeps its own, and the next note follows after the first of them.`,
          desk.place(part, line),
        );
      const unread = token.rest === 0 && token.pitch === null;
      if (unread && (grace || notes.length > 0)) continue;
      notes.push({ token: unread ? { ...token, rest: 1, hidden: true } : token, recip });
    }
    const [first] = notes;
    if (first === undefined) return null;
    const grace = first.token.grace !== 'none';
    return {
      notes,
      length: grace ? F.zero : (first.recip?.length ?? F.zero),
      grace,
      wholeBar: first.token.rest === 2,
    };
  };
  return read;
};

/** What marks the whole chord, though it may be written at each note: kept at its first note, once. */
const lead = (notes: readonly Reading[], token: KernNote): KernNote => {
  if (notes.length === 1) return token;
  const tokens = notes.map((note) => note.token);
  const sum = (of: (one: KernNote) => readonly string[]): string[] => [...new Set(tokens.flatMap(of))];
  const beams = { open: 0, close: 0, right: 0, left: 0 };
  for (const one of tokens) {
    // Written at one note or at each of them: the chord has as many beams as its richest note.
    beams.open = Math.max(beams.open, one.beams.open);
    beams.close = Math.max(beams.close, one.beams.close);
    beams.right = Math.max(beams.right, one.beams.right);
    beams.left = Math.max(beams.left, one.beams.left);
  }
  return {
    ...token,
    beams,
    articulations: sum((one) => one.articulations),
    dynamics: sum((one) => one.dynamics),
    fermata: tokens.some((one) => one.fermata),
    arpeggio: tokens.some((one) => one.arpeggio),
    slurStarts: tokens.flatMap((one) => one.slurStarts),
    slurStops: tokens.flatMap((one) => one.slurStops),
    stem: tokens.find((one) => one.stem !== null)?.stem ?? null,
  };
};

/** Positions as fine as this are looked at. */
const fine = 1_000_000_000n;

const bare = { articulations: [], dynamics: [], fermata: false } as const;

/** Puts a chord into the bar at its time; the entries, the first of them first. */
export const putChord = (
  desk: Desk,
  chord: Chord,
  strand: Strand,
  seat: Seat,
  track: number,
  onset: Fraction,
  line: number,
): readonly Entry[] => {
  const state = desk.parts[seat.part];
  const [first] = chord.notes;
  if (state === undefined || first === undefined) return [];
  const end = F.add(onset, chord.length);
  if (end.d > fine) refuseTooFine(end, desk.place(seat.part, line));
  const main = lead(chord.notes, first.token);
  const beams = takeBeams(strand, main);
  const slurs = takeSlurs(desk, seat.part, state, main, track, strand.voice);
  const entries = chord.notes.map(({ token, recip }, index): Entry => {
    const user = Array.from(token.user);
    const small = strand.small || user.some((sign) => desk.signs.small.has(sign));
    const cue = user.some((sign) => desk.signs.cue.has(sign));
    for (const sign of user) {
      const { signs } = desk;
      if (signs.cue.has(sign) || signs.small.has(sign) || signs.stemless.has(sign) || signs.looks.has(sign))
        continue;
      const meaning = desk.signs.meanings.get(sign);
      notKept(
        desk.log,
        `user ${sign}`,
        meaning === undefined
          ? `The sign "${sign}", of which the file does not say what it means`
          : `"${meaning}" (${sign})`,
        desk.place(seat.part, line),
      );
    }
    const stemless = user.some((sign) => desk.signs.stemless.has(sign));
    const own = index === 0 ? main : { ...token, ...bare };
    return {
      voice: strand.voice,
      staff: seat.staff,
      onset,
      token: own,
      recip,
      chord: index > 0,
      small,
      stemless,
      cue,
      percussion: strand.percussion,
      beams: index === 0 ? beams : [],
      slurs: index === 0 ? slurs : [],
      lyrics: [],
    };
  });
  state.entries.push(...entries);
  return entries;
};
