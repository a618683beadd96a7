/** The written notes of an extract: kept notes as they are, the others as rests, all marks that reach out cut. */
import type { BarGrid } from '../rhythm/beats.ts';
import { noMarks, type WrittenNote } from '../score/notes.ts';
import type { Part } from '../score/model.ts';
import { beats, F, type Beats } from '../units/index.ts';
import { partnered } from './balance.ts';
import { placeIn, type Taken } from './taken.ts';
import { mergedRests, plainValue } from './rests.ts';

/** A written note on its way into the extract. */
interface Copied {
  readonly from: WrittenNote;
  readonly to: WrittenNote;
}

const restFrom = (piece: WrittenNote): WrittenNote => ({
  ...piece,
  kind: 'rest',
  chord: false,
  pitch: null,
  display: null,
  wholeBar: false,
  tieStart: false,
  tieStop: false,
  accidental: '',
  stem: null,
  notehead: '',
  beams: [],
  marks: { ...noMarks, fermata: piece.marks.fermata },
  lyrics: [],
});

/** Notes grouped with the chord notes and the grace notes that belong to them. */
interface Stem {
  readonly graces: readonly WrittenNote[];
  readonly heads: readonly WrittenNote[];
}

const stemsOf = (written: readonly WrittenNote[]): readonly Stem[] => {
  const stems: { graces: WrittenNote[]; heads: WrittenNote[] }[] = [];
  const waiting = new Map<string, WrittenNote[]>();
  for (const piece of written) {
    const voice = `${piece.staff} ${piece.voice}`;
    const graces = waiting.get(voice) ?? [];
    const last = stems.at(-1);
    if (piece.kind === 'grace') waiting.set(voice, [...graces, piece]);
    else if (piece.chord && last !== undefined) last.heads.push(piece);
    else {
      stems.push({ graces, heads: [piece] });
      waiting.delete(voice);
    }
  }
  for (const graces of waiting.values()) if (graces.length > 0) stems.push({ graces, heads: [] });
  return stems;
};

/** One stem with only its kept heads; a rest where none is left; grace notes go with their note. */
const filtered = (
  { graces, heads }: Stem,
  isKept: (piece: WrittenNote) => boolean,
): readonly WrittenNote[] => {
  if (heads.length === 0) return graces;
  const left = heads.filter((piece) => piece.kind === 'rest' || isKept(piece));
  const [first] = left;
  const [head] = heads;
  if (first === undefined) return head === undefined ? [] : [restFrom(head)];
  return [...graces, ...left.map((piece) => ({ ...piece, chord: piece !== first }))];
};

/** A note that sounds into the stretch is drawn from its beginning. */
const clipped = (piece: WrittenNote, bar: Taken): WrittenNote | null => {
  const place = placeIn(bar, piece.onset);
  if (place !== null) return { ...piece, bar: bar.index, onset: place };
  const from = F.add(bar.source.start, bar.offset);
  const end = F.add(piece.onset, piece.duration);
  if (!F.less(piece.onset, from) || F.atMost(end, from)) return null;
  const duration = beats(F.sub(end, from));
  return {
    ...piece,
    bar: bar.index,
    onset: bar.start,
    duration,
    value: plainValue(duration),
    tieStop: false,
  };
};

/** A tie holds where both of its notes are in the extract and touch there. */
const tied = (row: readonly Copied[]): readonly WrittenNote[] => {
  const begins = new Set<string>();
  const key = (pitch: WrittenNote['pitch'], voice: string, at: Beats) =>
    `${pitch?.step ?? '-'} ${pitch?.alter ?? 0} ${pitch?.octave ?? 0} ${voice} ${F.format(at)}`;
  const spot = ({ pitch, voice }: WrittenNote, at: Beats) => key(pitch, voice, at);
  const ends = new Set<string>();
  for (const { to } of row) {
    if (to.kind !== 'note') continue;
    if (to.tieStart) begins.add(spot(to, beats(F.add(to.onset, to.duration))));
    if (to.tieStop) ends.add(spot(to, to.onset));
  }
  return row.map(({ to }) => ({
    ...to,
    tieStart: to.tieStart && ends.has(spot(to, beats(F.add(to.onset, to.duration)))),
    tieStop: to.tieStop && begins.has(spot(to, to.onset)),
  }));
};

/** Slurs and tuplet brackets only where both ends are here; beams only where the whole beamed group is. */
const cutMarks = (written: readonly WrittenNote[]): readonly WrittenNote[] => {
  const slurs = written.flatMap((piece, i) =>
    piece.marks.slurs.map((slur) => ({ ...slur, i, voice: piece.voice })),
  );
  const goodSlur = partnered(
    slurs.map(({ type, number }) => ({ type: type === 'continue' ? 'other' : type, key: String(number) })),
  );
  const brackets = written.flatMap((piece, i) =>
    piece.tupletMarks.map((mark) => ({ ...mark, i, voice: piece.voice })),
  );
  const goodBracket = partnered(
    brackets.map(({ type, number, voice }) => ({ type, key: `${number} ${voice}` })),
  );
  const beamed = wholeBeams(written);
  const slursAt = byNote(slurs.filter((_, i) => goodSlur[i] === true));
  const bracketsAt = byNote(brackets.filter((_, i) => goodBracket[i] === true));
  return written.map((piece, i) => ({
    ...piece,
    beams: beamed.has(i) ? piece.beams : [],
    tupletMarks: (bracketsAt.get(i) ?? []).map(({ type, number }) => ({ type, number })),
    marks: { ...piece.marks, slurs: (slursAt.get(i) ?? []).map(({ type, number }) => ({ type, number })) },
  }));
};

const byNote = <T extends { readonly i: number }>(row: readonly T[]): ReadonlyMap<number, readonly T[]> => {
  const map = new Map<number, T[]>();
  for (const entry of row) map.set(entry.i, [...(map.get(entry.i) ?? []), entry]);
  return map;
};

/** Indices of the notes in beams that begin and end with nothing missing between. */
const wholeBeams = (written: readonly WrittenNote[]): ReadonlySet<number> => {
  const good = new Set<number>();
  const open = new Map<string, number[]>();
  written.forEach((piece, i) => {
    const voice = `${piece.kind === 'grace' ? 'grace' : ''} ${piece.bar} ${piece.voice}`;
    const [outer] = piece.beams;
    if (outer === undefined) {
      // A rest where a beamed note was breaks the beam; a rest that was under the beam does not exist in beams.
      if (!piece.chord) open.delete(voice);
      return;
    }
    if (outer === 'begin') open.set(voice, [i]);
    else open.get(voice)?.push(i);
    if (outer === 'end') {
      for (const member of open.get(voice) ?? []) good.add(member);
      open.delete(voice);
    }
  });
  return good;
};

/**
 * A part's written notes for the taken bars. `kept` are ids of sounding notes. New ids: part, bar of the extract, count;
 * `named` is told each with the written note that it came from.
 */
export const extractNotes = (
  part: Part,
  taken: readonly Taken[],
  kept: ReadonlySet<string>,
  grids: readonly BarGrid[],
  named?: (id: string, source: string) => void,
): readonly WrittenNote[] => {
  const keptPieces = new Set(part.notes.filter(({ id }) => kept.has(id)).flatMap(({ written }) => written));
  const isKept = (piece: WrittenNote): boolean => piece.cue || keptPieces.has(piece.id);
  const byBar = new Map<number, WrittenNote[]>();
  for (const piece of part.written) {
    const row = byBar.get(piece.bar);
    if (row === undefined) byBar.set(piece.bar, [piece]);
    else row.push(piece);
  }
  const copied = taken.flatMap((bar) =>
    stemsOf(byBar.get(bar.source.index) ?? [])
      .flatMap((stem) => filtered(stem, isKept))
      .flatMap((from): readonly Copied[] => {
        const to = clipped(from, bar);
        return to === null ? [] : [{ from, to }];
      }),
  );
  const cut = cutMarks(tied(copied));
  return taken.flatMap((bar) => {
    const grid = grids[bar.source.index];
    const inBar = cut.filter((piece) => piece.bar === bar.index);
    const rested = grid === undefined ? inBar : mergedRests(inBar, bar, grid);
    return rested.map((piece, i) => {
      const id = `${part.id}-m${bar.index}-n${i + 1}`;
      named?.(id, piece.id);
      return { ...piece, id };
    });
  });
};
