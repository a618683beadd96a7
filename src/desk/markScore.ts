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

/** Staff and voice of a note as a marking names them. */
const noteName = ({ staff, voice }: Pick<WrittenNote, 'staff' | 'voice'>): string => `${staff}/${voice}`;

const staffOf = (note: string): number => {
  const staff = Number(/^(\d{1,3})\//.exec(note)?.[1] ?? '1');
  return Math.max(1, staff);
};

/** The note that sounds or has sounded last at a place; of a chord its first. Null in front of all notes. */
const latest = (written: readonly WrittenNote[], at: Beats): WrittenNote | null =>
  written.reduce<WrittenNote | null>((found, one) => {
    if (one.kind !== 'note' || one.chord || F.less(at, one.onset)) return found;
    return found === null || F.less(found.onset, one.onset) ? one : found;
  }, null);

/** The note that a marking names, where one begins there; else the one that sounds there. */
const noteAt = (written: readonly WrittenNote[], { at, note }: Placed): WrittenNote | null => {
  const named = written.find(
    (one) => one.kind === 'note' && !one.chord && F.equal(one.onset, at) && noteName(one) === note,
  );
  return named ?? latest(written, at);
};

/** What the score has already is not written once more. */
const markedNote = (note: WrittenNote, { kind }: Placed): WrittenNote => {
  const { marks } = note;
  const sign = articulations[kind];
  const name = sign ?? kind;
  if ([...marks.articulations, ...marks.technical.map((one) => one.name)].includes(name)) return note;
  const own = [...(marks.own ?? []), name];
  return sign === undefined
    ? { ...note, marks: { ...marks, technical: [...marks.technical, { name, text: '' }], own } }
    : { ...note, marks: { ...marks, articulations: [...marks.articulations, name], own } };
};

const hairpins: Readonly<Record<string, true>> = { 'cresc.': true, 'dim.': true };

const directionOf = ({ kind, part, text, at, bar, time, note }: Placed): Direction => {
  const loud = kind === 'dynamics' && hairpins[text] !== true;
  return {
    at,
    bar,
    staff: staffOf(note),
    kind: loud ? 'dynamics' : 'words',
    value: text,
    number: 1,
    above: kind !== 'dynamics',
    own: true,
    ...(kind === 'leads' || kind === 'cue' ? { role: kind } : {}),
    ...(part === '' ? { shared: true } : {}),
    ...(kind === 'dynamics' && time !== null ? { time } : {}),
  };
};

const isNoteMark = ({ kind }: Placed): boolean => articulations[kind] !== undefined || technical.has(kind);

const markPart = (part: Part, placed: readonly Placed[]): Part => {
  const mine = placed.filter((one) => one.part === part.id || one.part === '');
  const words = mine.filter((one) => !isNoteMark(one) && one.text.trim() !== '');
  const written = mine.filter(isNoteMark).reduce<readonly WrittenNote[]>((notes, one) => {
    const note = noteAt(notes, one);
    return note === null ? notes : notes.map((other) => (other === note ? markedNote(note, one) : other));
  }, part.written);
  const directions = [...part.directions, ...words.map(directionOf)].sort((a, b) => F.compare(a.at, b.at));
  return { ...part, written, directions };
};

/**
 * The score with what the players wrote into it. A ritardando is one of the tempo: the click is silent over it; a breath
 * parts phrases; dynamics sound. What concerns all stands in every part. Markings whose bar, beat or part the score does
 * not have are left out.
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
    parts: score.parts.map((part) => markPart(part, others)),
  };
};
