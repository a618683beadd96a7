/** Which notes of the chosen parts the line filter keeps. */
import type { Part } from '../score/model.ts';
import { beats, F, ok, problem, type Beats, type Problem, type Result } from '../units/index.ts';
import { keeps, mindsTuplets, parseKeep, type Keep } from './keep.ts';
import type { RoundNote } from './roundNotes.ts';

/** The value drawn, tuplets undone, of each sounding note in a tuplet, by id. */
const drawnLengths = (part: Part): ReadonlyMap<string, Beats> => {
  const written = new Map(part.written.map((piece) => [piece.id, piece]));
  return new Map(
    part.notes
      .filter(({ tuplet }) => tuplet)
      .map(({ id, written: ids }) => {
        const lengths = ids.map((piece) => {
          const { duration, tuplet } = written.get(piece) ?? {
            duration: F.zero,
            tuplet: { actual: 1, normal: 1 },
          };
          return F.mul(duration, F.fraction(tuplet.actual, tuplet.normal));
        });
        return [id, beats(lengths.reduce(F.add, F.zero))];
      }),
  );
};

export interface Kept {
  readonly keep: Keep;
  /** Ids of the sounding notes kept, in the whole of the chosen parts. */
  readonly ids: ReadonlySet<string>;
}

/** The notes that a filter keeps. Fails with `keep-unknown`. */
export const chooseKept = (parts: readonly Part[], text: string): Result<Kept> => {
  const keep = parseKeep(text);
  if (!keep.ok) return keep;
  const ids = new Set<string>();
  for (const part of parts) {
    const drawn = drawnLengths(part);
    for (const found of part.notes) {
      if (keeps(keep.value, found, ({ id, duration }) => drawn.get(id) ?? duration)) ids.add(found.id);
    }
  }
  return ok({ keep: keep.value, ids });
};

/** Tells of tuplets that the passage loses to a filter silent about them, and of a filter that leaves nothing. */
export const keptProblems = (
  { keep }: Kept,
  text: string,
  parts: readonly Part[],
  notes: readonly RoundNote[],
): readonly Problem[] => {
  const tuplets = new Set(
    parts.flatMap((part) => part.notes.filter(({ tuplet }) => tuplet).map(({ id }) => id)),
  );
  const lost = notes.filter(({ note, kept }) => !kept && tuplets.has(note)).length;
  const problems: Problem[] = [];
  if (lost > 0 && !mindsTuplets(keep)) {
    const message = `${lost === 1 ? 'A note in a tuplet is left out: tuplets' : `${lost} notes in tuplets are left out: they`} are a class of their own. Add 1/8t (or another value with t) to keep them.`;
    problems.push(problem('note', 'tuplets-left-out', message));
  }
  if (notes.length > 0 && notes.every(({ kept }) => !kept)) {
    problems.push(
      problem('note', 'nothing-kept', `No note of the passage is "${text}": only the click is left.`),
    );
  }
  return problems;
};
