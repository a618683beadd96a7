/** Which notes of the chosen parts the line filter keeps. */
import type { Part } from '../score/model.ts';
import { beats, F, ok, problem, type Beats, type Problem, type Result } from '../units/index.ts';
import { keeps, mindsTuplets, parseKeep } from './keep.ts';
import type { Round } from './round.ts';

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

/**
 * The ids of the sounding notes kept. Problems tell of tuplets left out, and of a filter that leaves nothing in the
 * passage. Fails with `keep-unknown`.
 */
export const chooseKept = (
  parts: readonly Part[],
  text: string,
  round: Round,
): Result<ReadonlySet<string>> => {
  const keep = parseKeep(text);
  if (!keep.ok) return keep;
  const kept = new Set<string>();
  const inPassage = new Set(round.bars.map(({ bar }) => bar.index));
  let tuplets = 0;
  let present = 0;
  let keptHere = 0;
  for (const part of parts) {
    const drawn = drawnLengths(part);
    for (const found of part.notes) {
      const keepIt = keeps(keep.value, found, ({ id, duration }) => drawn.get(id) ?? duration);
      if (keepIt) kept.add(found.id);
      if (!inPassage.has(found.bar)) continue;
      present++;
      if (keepIt) keptHere++;
      else if (found.tuplet) tuplets++;
    }
  }
  const problems: Problem[] = [];
  if (tuplets > 0 && !mindsTuplets(keep.value)) {
    const message = `${tuplets} notes in tuplets are left out: they are a class of their own. Add 1/8t (or another value with t) to keep them.`;
    problems.push(problem('note', 'tuplets-left-out', message));
  }
  if (present > 0 && keptHere === 0) {
    problems.push(
      problem('note', 'nothing-kept', `No note of the passage is "${text}": only the click is left.`),
    );
  }
  return ok(kept, problems);
};
