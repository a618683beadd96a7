/**
 * From what each part says of each bar to the score: bars laid end to end, positions made absolute, repeats, signs and
 * tempi of all parts brought together, ties merged. Every reader of written music ends here.
 */
import { F, ok, Refusal, type Beats, type Result } from '../../../units/index.ts';
import { assemblePart, type PartDraft } from '../../assemble.ts';
import type { Bar, Mark, Part, Score, SourceFormat } from '../../model.ts';
import type { WrittenNote } from '../../notes.ts';
import { coursesOf } from './course.ts';
import type { MarkDraft, MeasureDraft } from './draft.ts';
import { jumpsOf } from './jumps.ts';
import { framesOf, type BarFrame } from './lengths.ts';
import type { Log } from './log.ts';
import { inBar, marksOf } from './marks.ts';
import { metresOf, type Row } from './metres.ts';

/** Who plays, as the file tells it; see the fields of Part. */
export type PartHead = Pick<Part, 'id' | 'name' | 'abbreviation' | 'sound' | 'program'>;

/** One part from first to last bar; null where it has nothing to say of a bar. */
export interface Column {
  readonly head: PartHead;
  readonly staves: number;
  readonly drafts: readonly (MeasureDraft | null)[];
}

export interface Drafts {
  readonly title: string;
  readonly source: SourceFormat;
  /** In score order; the nth drafts of all belong to one bar. */
  readonly columns: readonly Column[];
}

/** A whole-bar rest lasts its bar, whatever its duration says. */
const placedNote = (note: WrittenNote, frame: BarFrame, part: string, log: Log): WrittenNote => {
  const onset = inBar(note.onset, frame.start, frame.length);
  const tooLong = note.wholeBar && F.less(frame.length, note.duration);
  if (!tooLong) return { ...note, onset };
  log.tally(
    'repair',
    'rest-too-long',
    '',
    (many) => `A rest for the whole bar is longer than its bar (${many}); it lasts as long as the bar.`,
    { part, bar: frame.number },
  );
  return { ...note, onset, duration: frame.length };
};

/** Adds things of one bar, moved to their place in the score. */
const addShifted = <T extends { readonly at: Beats }>(
  to: T[],
  items: readonly T[],
  frame: BarFrame,
): void => {
  for (const item of items) to.push({ ...item, at: inBar(item.at, frame.start, frame.length) });
};

const partDraft = ({ head, staves, drafts }: Column, frames: readonly BarFrame[], log: Log): PartDraft => {
  const { id, name, abbreviation, sound, program } = head;
  const written: WrittenNote[] = [];
  const directions: Part['directions'][number][] = [];
  const clefs: Part['clefs'][number][] = [];
  const keys: Part['keys'][number][] = [];
  const transpositions: Part['transpositions'][number][] = [];
  frames.forEach((frame, index) => {
    const draft = drafts[index];
    if (draft === undefined || draft === null) return;
    for (const note of draft.notes) written.push(placedNote(note, frame, id, log));
    addShifted(directions, draft.directions, frame);
    addShifted(clefs, draft.clefs, frame);
    addShifted(keys, draft.keys, frame);
    addShifted(transpositions, draft.transpositions, frame);
  });
  const byPosition = (a: { at: Beats }, b: { at: Beats }): number => F.compare(a.at, b.at);
  return {
    id,
    name,
    abbreviation,
    sound,
    program,
    staves,
    transpositions: transpositions.sort(byPosition),
    clefs: clefs.sort(byPosition),
    keys: keys.sort(byPosition),
    written,
    directions: directions.sort(byPosition),
  };
};

const absoluteMarks = (columns: readonly Column[], frames: readonly BarFrame[]): readonly MarkDraft[] =>
  columns.flatMap(({ drafts }) =>
    drafts.flatMap((draft, index) => {
      const frame = frames[index];
      if (draft === null || frame === undefined) return [];
      return draft.marks.map(({ mark, vague }): MarkDraft => {
        const at = inBar(mark.at, frame.start, frame.length);
        const moved: Mark = { ...mark, at };
        return { mark: moved, vague };
      });
    }),
  );

/**
 * The score that the parts' drafts make. `log` holds what their reader had to say; its findings come first among the
 * problems. Errors, as a Refusal for `refusable`: `no-bars`, `divisions-absurd`.
 */
export const layOut = ({ title, source, columns }: Drafts, log: Log): Result<Score> => {
  const count = columns.reduce((most, { drafts }) => Math.max(most, drafts.length), 0);
  if (count === 0) throw new Refusal('no-bars', 'The file has no bars: there is no music in it.');
  const rows = Array.from({ length: count }, (_, index): Row =>
    columns.map(({ drafts }) => drafts[index] ?? null),
  );
  const metres = metresOf(
    rows,
    columns.map(({ head }) => head.id),
    log,
  );
  const courses = coursesOf(rows, log);
  const endsSection = (bar: number): boolean => {
    const course = courses[bar];
    return (
      course !== undefined &&
      (course.repeatEnd > 0 ||
        course.barline === 'final' ||
        course.barline === 'double' ||
        courses[bar + 1]?.repeatStart === true)
    );
  };
  const frames = framesOf(rows, metres, endsSection, log);
  const numbers = frames.map(({ number }) => number);
  const jumps = jumpsOf(
    rows,
    frames.map(({ length }) => length),
    numbers,
    log,
  );
  const bars = frames.map((frame, index): Bar => {
    const { number, start, length, metre, pickup } = frame;
    const course = courses[index] ?? {
      repeatStart: false,
      repeatEnd: 0,
      repeatAfterJump: false,
      ending: null,
      barline: 'regular',
      fermata: false,
    };
    return { index, number, start, length, metre, pickup, ...course, jumps: jumps[index] ?? [] };
  });
  const marks = marksOf(absoluteMarks(columns, frames), numbers, log);
  const assembled = columns.map((column) => assemblePart(partDraft(column, frames, log), bars));
  const score: Score = {
    title,
    source,
    bars,
    parts: assembled.map(({ part }) => part),
    marks,
  };
  return ok(score, [...log.all(), ...assembled.flatMap(({ problems }) => problems)]);
};
