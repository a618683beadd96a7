/** Puts a MusicXML document together: parts side by side, bars laid out, positions made absolute, ties merged. */
import { beats, F, ok, Refusal, refusable, type Beats, type Result } from '../../../units/index.ts';
import { assemblePart, type PartDraft } from '../../assemble.ts';
import type { Bar, Mark, Part, Score } from '../../model.ts';
import type { WrittenNote } from '../../notes.ts';
import type { XmlElement } from '../xml.ts';
import { aligned } from './align.ts';
import { coursesOf } from './course.ts';
import type { MarkDraft, MeasureDraft } from './draft.ts';
import { jumpsOf } from './jumps.ts';
import { framesOf, type BarFrame } from './lengths.ts';
import { createLog, type Log } from './log.ts';
import { inBar, marksOf } from './marks.ts';
import { createPartReader } from './measure.ts';
import { metresOf, type Row } from './metres.ts';
import { shapeOf, titleOf, type PartShape } from './shape.ts';

interface Column {
  readonly shape: PartShape;
  readonly staves: number;
  readonly drafts: readonly (MeasureDraft | null)[];
}

const columnsOf = (parts: readonly PartShape[], log: Log): readonly Column[] => {
  const measures = aligned(parts, log);
  return parts.map((shape, index): Column => {
    const column = measures[index] ?? [];
    const reader = createPartReader(shape.id, column, log);
    const drafts = column.map((element, bar) => (element === null ? null : reader.read(element, bar)));
    return { shape, drafts, staves: reader.staves() };
  });
};

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

const partDraft = ({ shape, staves, drafts }: Column, frames: readonly BarFrame[], log: Log): PartDraft => {
  const { id, name, abbreviation, sound, program } = shape;
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
 * The score in a document whose root is `score-partwise` or `score-timewise`. Errors: `no-bars`, `divisions-absurd`.
 */
export const scoreOf = (root: XmlElement): Result<Score> =>
  refusable(() => {
    const log = createLog();
    const columns = columnsOf(shapeOf(root, log), log);
    const count = columns.reduce((most, { drafts }) => Math.max(most, drafts.length), 0);
    if (count === 0) throw new Refusal('no-bars', 'The file is MusicXML but has no bars.');
    const rows = Array.from({ length: count }, (_, index): Row =>
      columns.map(({ drafts }) => drafts[index] ?? null),
    );
    const metres = metresOf(
      rows,
      columns.map(({ shape }) => shape.id),
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
      title: titleOf(root),
      source: 'musicxml',
      bars,
      parts: assembled.map(({ part }) => part),
      marks,
    };
    return ok(score, [...log.all(), ...assembled.flatMap(({ problems }) => problems)]);
  });

/** End of the last bar: the length of the score as written. */
export const writtenLength = (bars: readonly Bar[]): Beats => {
  const last = bars.at(-1);
  return last === undefined ? beats(F.zero) : beats(F.add(last.start, last.length));
};
