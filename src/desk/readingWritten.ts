/** How the notes of a reading are written, and where the tempo is asked to give way: what may not be told of those who play it. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { fermatas } from '../drill/round.ts';
import { takenBars } from '../drill/taken.ts';
import { gradualSpans } from '../rhythm/gradual.ts';
import type { NoteShape } from '../sound/parts/shapes.ts';
import { F, type Beats } from '../units/index.ts';
import { freeNotes } from './freeTimes.ts';
import type { ReadingWritten } from './reading.ts';

/** What is written on the score's notes, by their ids: articulation, slurs, dynamics. */
export type Written = ReadonlyMap<string, NoteShape>;

/** Of all notes of a drill, in its order. */
export const writtenOf = (
  { parts, timeline: { notes } }: WorkedDrill,
  shapes: Written,
): readonly ReadingWritten[] => {
  const free = freeNotes(parts);
  return notes.flatMap(({ id, note, length }) => {
    const shape = shapes.get(note);
    if (shape === undefined) return [];
    const { share, slurred, level } = shape;
    const why = free.get(note);
    const written = { id, length: F.format(length), share, slurred, level };
    return [why === undefined ? written : { ...written, free: why }];
  });
};

/** How a note is to be held: notes of which this is the same are written alike in length. */
export const heldAs = ({ length, share, slurred }: ReadingWritten): string =>
  `${length} ${share} ${slurred ? 'slurred' : 'plain'}`;

/** Bars that the tempo is asked to give way in: written or by the players' own markings, and under fermatas. `bar/pass` as in `barKey`. */
export const givingBars = (worked: WorkedDrill): ReadonlySet<string> => {
  const spans: readonly { readonly from: Beats; readonly to: Beats }[] = [
    ...gradualSpans(worked.score),
    ...fermatas(worked.score.parts),
  ];
  return new Set(
    takenBars(worked.round)
      .filter(({ source, offset, length }) => {
        const from = F.add(source.start, offset);
        const to = F.add(from, length);
        return spans.some((span) => F.less(span.from, to) && F.less(from, span.to));
      })
      .map(({ source, pass }) => barKey({ barIndex: source.index, pass })),
  );
};

export const barKey = ({ barIndex, pass }: { readonly barIndex: number; readonly pass: number }): string =>
  `${barIndex}/${pass}`;
