/**
 * Expansions: the order in which sections are played, as the file spells it out. The score's own signs tell the order; an
 * expansion that says otherwise is told. Source: MEI Guidelines 5, 2.1.3 "Structural repetition", expansion.
 */
import { ok, problem, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { playingOrder } from '../../playing.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { referred } from './tree.ts';
import { tokens } from './values.ts';

export interface Expansion {
  readonly element: XmlElement;
  /** Id of the section it stands in; may be empty. */
  readonly home: string;
}

/** No piece is played in so many bars. */
const mostBars = 200_000;

/** The bars of the first expansion; null where it can not be followed to its end. */
const barsOf = (
  { element }: Expansion,
  barsById: ReadonlyMap<string, readonly number[]>,
): readonly number[] | null => {
  const bars: number[] = [];
  for (const uri of tokens(attribute(element, 'plist'))) {
    const [from, end] = barsById.get(referred(uri)) ?? [];
    if (from === undefined) return null;
    for (let bar = from; bar < (end ?? from + 1); bar += 1) {
      bars.push(bar);
      if (bars.length > mostBars) return null;
    }
  }
  return bars;
};

/** The first expansion of each section; a section may offer several orders. */
const firstOfEach = (expansions: readonly Expansion[]): readonly Expansion[] =>
  expansions.filter((one, index) => expansions.findIndex(({ home }) => home === one.home) === index);

/** Tells of the orders that are not compared. */
export const tellFurther = (expansions: readonly Expansion[], log: Log): void => {
  const first = new Set(firstOfEach(expansions));
  for (const one of expansions)
    if (!first.has(one)) notKept(log, 'expansion', 'A further order of playing that the file spells out', {});
};

/** Adds a problem where the first expansion of a section is not the order that the score is played in. */
export const compareExpansions = (
  result: Result<Score>,
  expansions: readonly Expansion[],
  barsById: ReadonlyMap<string, readonly number[]>,
): Result<Score> => {
  if (!result.ok || expansions.length === 0) return result;
  const { order } = playingOrder(result.value);
  const played = order.visits.map(({ barIndex }) => barIndex);
  const differing = firstOfEach(expansions).flatMap((one) => {
    const asked = barsOf(one, barsById);
    // Only what lies in the section of the expansion is compared.
    const [from, end] = one.home === '' ? [] : (barsById.get(one.home) ?? []);
    const here = played.filter((bar) => from === undefined || (bar >= from && bar < (end ?? bar + 1)));
    if (asked !== null && asked.length === here.length && asked.every((bar, index) => bar === here[index]))
      return [];
    return [
      problem(
        'repair',
        'expansion-differs',
        asked === null
          ? 'The file spells out an order of playing that can not be followed; its repeat signs are.'
          : 'The file spells out an order of playing that is not that of its repeat signs; the signs are followed.',
        from === undefined ? {} : { bar: result.value.bars[from]?.number ?? '' },
      ),
    ];
  });
  return ok(result.value, [...result.problems, ...differing]);
};
