/** Tuplets: "(p:q:r" puts p notes into the time of q for the next r notes. Source: ABC 2.1, section 4.13. */
import type { WrittenNote } from '../../notes.ts';
import type { Log } from '../drafts/log.ts';
import { plainTuplet } from './events.ts';

type Mark = WrittenNote['tupletMarks'][number];

interface Open {
  readonly actual: number;
  readonly normal: number;
  left: number;
  begun: boolean;
}

/** Tuplets within tuplets; more are no notation. */
const deepest = 4;
/** Notes of one tuplet; more are a slip of digits. */
const largest = 999;

/** q where it is not given: `compound` says whether the beat has three parts. */
const usualNormal = (actual: number, compound: boolean): number => {
  switch (actual) {
    case 2:
    case 4:
    case 8:
      return 3;
    case 3:
    case 6:
      return 2;
    default:
      return compound ? 3 : 2;
  }
};

export class Tuplets {
  #open: Open[] = [];
  readonly #log: Log;

  constructor(log: Log) {
    this.#log = log;
  }

  /** Begins a tuplet; 0 for a number that is not given. Where it makes no sense its notes keep their length. */
  begin(p: number, q: number, r: number, compound: boolean, place: { line: number; column: number }): void {
    const normal = q === 0 ? usualNormal(p, compound) : q;
    const count = r === 0 ? p : r;
    if (p < 1 || p > largest || normal > largest || count > largest || this.#open.length >= deepest) {
      this.#log.say(
        'repair',
        'tuplet-unreadable',
        p < 1 || p > largest || normal > largest || count > largest
          ? `A tuplet of ${p} in the time of ${normal} for ${count} notes makes no sense; its notes keep their length.`
          : `A tuplet stands within ${deepest} others, which makes no sense; its notes keep their length.`,
        place,
      );
      return;
    }
    this.#open.push({ actual: p, normal, left: count, begun: false });
  }

  /** The next note: the ratio that holds for it, and the brackets that begin and end with it. */
  take(): { ratio: WrittenNote['tuplet']; starts: Mark[] | null; finish: Mark[] | null } {
    if (this.#open.length === 0) return { ratio: plainTuplet, starts: null, finish: null };
    let [actual, normal] = [1, 1];
    const starts: Mark[] = [];
    const finish: Mark[] = [];
    this.#open.forEach((tuplet, index) => {
      actual *= tuplet.actual;
      normal *= tuplet.normal;
      if (!tuplet.begun) starts.push({ type: 'start', number: index + 1 });
      tuplet.begun = true;
      tuplet.left -= 1;
      if (tuplet.left <= 0) finish.unshift({ type: 'stop', number: index + 1 });
    });
    // An outer tuplet that ends takes the inner ones along.
    const ends = this.#open.findIndex(({ left }) => left <= 0);
    if (ends >= 0) {
      this.#open.slice(ends).forEach(({ left }, index) => {
        if (left > 0) finish.unshift({ type: 'stop', number: ends + index + 1 });
      });
      this.#open = this.#open.slice(0, ends);
    }
    return {
      ratio: { actual, normal },
      starts: starts.length > 0 ? starts : null,
      finish: finish.length > 0 ? finish : null,
    };
  }

  /** The music ends: a tuplet that lacks notes is told. */
  finish(place: { line: number; column: number }): void {
    for (const { actual, left } of this.#open)
      this.#log.say(
        'repair',
        'tuplet-unreadable',
        `A tuplet of ${actual} lacks ${left === 1 ? 'a note' : `${left} notes`} at the end; those that are there keep their place in it.`,
        place,
      );
    this.#open = [];
  }
}
