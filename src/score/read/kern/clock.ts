/**
 * At what time of its bar each line stands. Lines on which a note begins know it; lines in between (a hairpin that ends
 * while all notes sound on) are spread evenly between their neighbours. Interpretations take effect at the next line of
 * data, in whichever bar that stands.
 */
import { F, type Fraction } from '../../../units/index.ts';

type Act = (at: Fraction) => void;

export interface Clock {
  /** Acts at the next line of data. */
  readonly before: (act: Act) => void;
  /** A line of data begins; null where its time is not known. */
  readonly line: (time: Fraction | null) => void;
  /** Acts at the line that began last. */
  readonly at: (act: Act) => void;
  /** The bar ends: what waits between the last line and here is placed. */
  readonly barEnds: (length: Fraction) => void;
  /** No line follows: what waits for one acts here. */
  readonly end: (at: Fraction) => void;
}

export const createClock = (): Clock => {
  let last: Fraction = F.zero;
  let unknown: Act[][] = [];
  let waiting: Act[] = [];

  const place = (next: Fraction): void => {
    const gap = F.sub(F.max(next, last), last);
    const count = unknown.length + 1;
    unknown.forEach((acts, index) => {
      const time = F.add(last, F.mul(gap, F.fraction(index + 1, count)));
      for (const act of acts) act(time);
    });
    unknown = [];
  };

  let known: Fraction | null = F.zero;
  return {
    before: (act) => waiting.push(act),
    line: (time) => {
      known = time;
      if (time === null) {
        unknown.push(waiting);
        waiting = [];
        return;
      }
      place(time);
      last = time;
      const acts = waiting;
      waiting = [];
      for (const act of acts) act(time);
    },
    at: (act) => {
      if (known === null) unknown.at(-1)?.push(act);
      else act(known);
    },
    barEnds: (length) => {
      place(length);
      last = F.zero;
      known = F.zero;
    },
    end: (at) => {
      const acts = waiting;
      waiting = [];
      for (const act of acts) act(at);
    },
  };
};
