/** One beginning for each note: the best chain of candidates, by what is heard at each and how evenly they follow. */
import type { Candidate } from './rise.ts';

export interface Choice {
  /** Seconds in the recording where the note is expected by the coarse alignment. */
  readonly coarse: number;
  readonly candidates: readonly Candidate[];
  /** Same pitch as before: only suddenness tells it. */
  readonly repeated: boolean;
  readonly slurred: boolean;
}

/** Seconds: spread of beginnings around the coarse alignment. A narrower one would draw players together. */
const priorSpread = 0.05;
/** Seconds of unevenness between neighbours that cost one unit, and the most it costs. */
const evenSpread = 0.04;
const evenMost = 2;
/** Cost of a note for which no candidate is taken. */
const none = 4.5;

/** How much speaks for a candidate, in units of log odds. */
export const evidence = ({ rise, sudden }: Candidate, { repeated, slurred }: Choice): number =>
  Math.min(rise, 18) / 4 + (slurred ? 0.05 : repeated ? 0.3 : 0.15) * Math.min(sudden, 15);

/** The index of the candidate chosen for each note, or null. */
export const bestChain = (choices: readonly Choice[]): readonly (number | null)[] => {
  /** The last entry of each row stands for "none". */
  const rows: { score: number; from: number; shift: number; at: number }[][] = [];
  choices.forEach((choice, i) => {
    const previous = rows[i - 1];
    const options = [
      ...choice.candidates.map((candidate) => ({
        at: candidate.at,
        shift: candidate.at - choice.coarse,
        own: evidence(candidate, choice) - 0.5 * ((candidate.at - choice.coarse) / priorSpread) ** 2,
      })),
      { at: choice.coarse, shift: 0, own: -none + 5 },
    ];
    rows.push(
      options.map(({ at, shift, own }, o) => {
        if (previous === undefined) return { score: own, from: -1, shift, at };
        let [best, from] = [-Infinity, 0];
        previous.forEach((before, b) => {
          const free = o === options.length - 1 || b === previous.length - 1;
          const uneven = free ? 0.7 : Math.min(evenMost, Math.abs(shift - before.shift) / evenSpread);
          const order = at - before.at < 0.015 && !free ? 6 : 0;
          const score = before.score - uneven - order;
          if (score > best) [best, from] = [score, b];
        });
        return { score: best + own, from, shift, at };
      }),
    );
  });
  const chosen: (number | null)[] = [];
  let at = (rows.at(-1) ?? []).reduce(
    (best, { score }, o, row) => (score > (row[best]?.score ?? -Infinity) ? o : best),
    0,
  );
  for (let i = rows.length - 1; i >= 0; i -= 1) {
    chosen.push(at === (rows[i]?.length ?? 0) - 1 ? null : at);
    at = rows[i]?.[at]?.from ?? 0;
  }
  return chosen.reverse();
};
