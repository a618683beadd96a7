/** Where the tempo is asked to give way, by the score or by the players themselves: no tempo is told there. */
import type { ReadingFigures } from '../reading.ts';

interface Where {
  readonly barIndex: number;
  readonly pass: number;
  readonly rep: number;
}

const same = (a: Where, b: Where): boolean =>
  a.barIndex === b.barIndex && a.pass === b.pass && a.rep === b.rep;

/** Whether it gives way in this bar. */
export const givesIn = (where: Where, { played }: Pick<ReadingFigures, 'played'>): boolean =>
  played.some((bar) => bar.gives && same(bar, where));

/** Or in the one before, from which a line comes and after which a click is met again. */
export const givesAround = (where: Where, { played }: Pick<ReadingFigures, 'played'>): boolean => {
  const i = played.findIndex((bar) => same(bar, where));
  return played[i]?.gives === true || played[i - 1]?.gives === true;
};
