/** Players' own markings in a score: printed, heard and minded like the score's own, and told apart from them. */
import { asWritten, barGrids, beatOffset } from '../rhythm/beats.ts';
import type { Direction, Mark, Part, Score } from '../score/model.ts';
import type { WrittenNote } from '../score/notes.ts';
import { F, plus, type Beats } from '../units/index.ts';
import type { MarkingText } from './shelf/records.ts';

/** A marking at its written position. */
interface Placed extends MarkingText {
  readonly at: Beats;
}

const articulations: Readonly<Record<string, string>> = { breath: 'breath-mark', caesura: 'caesura' };
const technical = new Set(['up-bow', 'down-bow']);
const tempoWords: Readonly<Record<string, string>> = { rit: 'rit.', 'a-tempo': 'a tempo' };

/** The note that sounds or has sounded last at a place; of a chord its first. Null in front of all notes. */
const noteAt = (written: readonly WrittenNote[], at: Beats): WrittenNote | null =>
  written.reduce<WrittenNote | null>((found, one) => {
    if (one.kind !== 'note' || one.chord || F.less(at, one.onset)) return found;
    return found === null || F.less(found.onset, one.onset) ? one : found;
  }, null);

const markedNote = (note: WrittenNote, { kind }: Placed): WrittenNote => {
  const { marks } = note;
  const sign = articulations[kind];
  if (sign !== undefined)
    return marks.articulations.includes(sign)
      ? note
      : { ...note, marks: { ...marks, articulations: [...marks.articulations, sign] } };
  return { ...note, marks: { ...marks, technical: [...marks.technical, { name: kind, text: '' }] } };
};

const directionOf = ({ kind, text, at, bar }: Placed): Direction => ({
  at,
  bar,
  staff: 1,
  kind: 'words',
  value: text,
  number: 1,
  above: kind !== 'dynamics',
  own: true,
});

const isNoteMark = ({ kind }: Placed): boolean => articulations[kind] !== undefined || technical.has(kind);

/** Without a part a marking on notes is one for all; words for all stand over the uppermost part. */
const concerns = ({ part }: Placed, { id }: Part, uppermost: boolean, notes: boolean): boolean =>
  part === id || (part === '' && (notes || uppermost));

const markPart = (part: Part, placed: readonly Placed[], uppermost: boolean): Part => {
  const onNotes = placed.filter((one) => isNoteMark(one) && concerns(one, part, uppermost, true));
  const words = placed.filter(
    (one) => !isNoteMark(one) && one.text.trim() !== '' && concerns(one, part, uppermost, false),
  );
  const written = onNotes.reduce<readonly WrittenNote[]>((notes, one) => {
    const note = noteAt(notes, one.at);
    return note === null ? notes : notes.map((other) => (other === note ? markedNote(note, one) : other));
  }, part.written);
  const directions = [...part.directions, ...words.map(directionOf)].sort((a, b) => F.compare(a.at, b.at));
  return { ...part, written, directions };
};

/**
 * The score with what the players wrote into it. A ritardando is one of the tempo: the click is silent over it; a breath
 * parts phrases. Markings whose bar, beat or part the score does not have are left out.
 */
export const markScore = (score: Score, markings: readonly MarkingText[]): Score => {
  if (markings.length === 0) return score;
  const grids = barGrids(score, asWritten);
  const placed = markings.flatMap((marking): readonly Placed[] => {
    const [bar, grid] = [score.bars[marking.bar], grids[marking.bar]];
    const offset = grid === undefined ? null : beatOffset(grid, marking.beat);
    return bar === undefined || offset?.ok !== true
      ? []
      : [{ ...marking, at: plus(bar.start, offset.value) }];
  });
  const marks = placed.flatMap(({ kind, at, bar }): readonly Mark[] => {
    const text = tempoWords[kind];
    return text === undefined ? [] : [{ kind: 'tempoWords', at, bar, text, own: true }];
  });
  const others = placed.filter(({ kind }) => tempoWords[kind] === undefined);
  return {
    ...score,
    marks: [...score.marks, ...marks].sort((a, b) => F.compare(a.at, b.at)),
    parts: score.parts.map((part, i) => markPart(part, others, i === 0)),
  };
};
