/**
 * A complete bar of one part: what only the whole bar can tell is worked out here, and its notes are written down.
 * Accidentals: kern tells sounding pitch and not what is printed; they are set by the usual rule (common practice, no source):
 * where a note differs from the key signature or from the last alteration of the same line or space in its bar; never at the end of a tie.
 */
import { beats, F, type Fraction } from '../../../units/index.ts';
import { noMarks, plainRest, type WrittenNote } from '../../notes.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { notKept } from '../drafts/log.ts';
import { alterIn, shifted } from './pitch.ts';
import { tupletsOf, type Tuplets } from './tuplets.ts';
import type { Desk, Entry, PartState } from './types.ts';

const accidentalNames: Readonly<Record<number, string>> = {
  [-3]: 'triple-flat',
  [-2]: 'flat-flat',
  [-1]: 'flat',
  0: 'natural',
  1: 'sharp',
  2: 'double-sharp',
  3: 'triple-sharp',
};

const lengthOf = (entry: Entry): Fraction =>
  entry.token.grace === 'none' ? (entry.recip?.length ?? F.zero) : F.zero;

interface Accidentals {
  readonly of: (entry: Entry, pitch: WrittenNote['pitch']) => string;
}

const accidentalsOf = (state: PartState): Accidentals => {
  const current = new Map<string, number>();
  return {
    of: ({ token, staff }, pitch) => {
      if (pitch === null) return '';
      const key = `${staff} ${pitch.step}${pitch.octave}`;
      const before = current.get(key) ?? alterIn(state.keys.get(staff) ?? 0, pitch.step);
      const tieKey = `${key} ${pitch.alter}`;
      // A tie to the same note under another name shows its accidental.
      const tied = token.tieStop && state.ties.has(tieKey);
      if (token.tieStart) state.ties.add(tieKey);
      else state.ties.delete(tieKey);
      if (!tied) current.set(key, pitch.alter);
      if (token.accidental === 'hidden') return '';
      const differs = before !== pitch.alter && !tied;
      const shown = differs || token.accidental === 'shown' || (token.natural && !tied);
      return shown ? (accidentalNames[pitch.alter] ?? '') : '';
    },
  };
};

/** Comparisons up to which small notes are looked at one by one: far more than a bar of music needs. */
const mostCompared = 1_000_000;

/** A small note is one to listen for, and silent, where the player rests beside it; else it is played. */
const cuesOf = (all: readonly Entry[]): ReadonlySet<Entry> => {
  const small = all.filter((entry) => entry.small && !entry.cue);
  const normal = all.filter((entry) => !entry.small && !(entry.token.rest > 0 && entry.token.hidden));
  const cues = new Set<Entry>();
  if (small.length * normal.length > mostCompared) return cues;
  for (const entry of small) {
    const to = F.add(entry.onset, lengthOf(entry));
    const beside = normal.filter(
      (other) =>
        other.staff === entry.staff &&
        other.voice !== entry.voice &&
        F.less(other.onset, to) &&
        F.less(entry.onset, F.add(other.onset, lengthOf(other))),
    );
    if (beside.length > 0 && beside.every(({ token }) => token.rest > 0)) cues.add(entry);
  }
  return cues;
};

const marksOf = ({ token, slurs }: Entry): WrittenNote['marks'] => {
  const { articulations, ornaments, technical, dynamics, fermata, arpeggio } = token;
  const some =
    articulations.length + ornaments.length + technical.length + dynamics.length + slurs.length > 0;
  if (!some && !fermata && !arpeggio) return noMarks;
  return {
    articulations,
    ornaments,
    technical,
    fermata: fermata ? 'normal' : null,
    slurs,
    dynamics,
    arpeggio,
  };
};

const writtenNote = (
  entry: Entry,
  id: string,
  bar: number,
  state: PartState,
  accidentals: Accidentals,
  tuplets: Tuplets,
  cue: boolean,
): WrittenNote => {
  const { token, recip } = entry;
  const rest = token.rest > 0;
  const placed = token.pitch;
  const unpitched = !rest && (entry.percussion || token.unpitched);
  const pitch = rest || unpitched || placed === null ? null : shifted(placed, state.shift);
  const drawn = rest || unpitched ? placed : null;
  const wholeBar = token.rest === 2 && F.isZero(entry.onset);
  const drawnAs = tuplets.nested.get(entry) ?? recip;
  return {
    id,
    kind: token.grace !== 'none' ? 'grace' : rest ? 'rest' : 'note',
    bar,
    onset: beats(entry.onset),
    duration: beats(lengthOf(entry)),
    staff: entry.staff,
    voice: entry.voice,
    value: wholeBar ? null : (drawnAs?.value ?? null),
    tuplet: wholeBar || drawnAs === null ? plainRest.tuplet : drawnAs.tuplet,
    tupletMarks: tuplets.marks.get(entry) ?? plainRest.tupletMarks,
    chord: entry.chord,
    pitch,
    display: drawn === null ? null : { step: drawn.step, octave: drawn.octave },
    wholeBar,
    tieStart: !rest && token.tieStart,
    tieStop: !rest && token.tieStop,
    slash: token.grace === 'slashed',
    cue,
    printed: !token.hidden,
    accidental: accidentals.of(entry, pitch),
    stem: entry.stemless ? 'none' : token.stem,
    notehead: '',
    beams: entry.beams,
    marks: marksOf(entry),
    lyrics: entry.lyrics,
  };
};

/** Writes the part's notes of the bar into its draft. */
export const finishBar = (desk: Desk, part: number, draft: MeasureDraft): void => {
  const state = desk.parts[part];
  if (state === undefined || state.entries.length === 0) return;
  const { entries } = state;
  state.entries = [];
  const tuplets = tupletsOf(entries);
  const accidentals = accidentalsOf(state);
  const id = desk.plan.parts[part]?.head.id ?? '';
  const cues = cuesOf(entries);
  entries.forEach((entry, index) => {
    const cue = entry.cue || cues.has(entry);
    if (entry.small && !cue) notKept(desk.log, 'small', 'That notes are printed small', desk.place(part));
    draft.notes.push(
      writtenNote(entry, `${id}-m${desk.bar}-n${index + 1}`, desk.bar, state, accidentals, tuplets, cue),
    );
  });
};
