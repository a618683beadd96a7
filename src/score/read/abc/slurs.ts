/** Slurs: which closing bracket ends which, and their numbers. Source: ABC 2.1, section 4.11. */
import type { Head } from './events.ts';

/** Slurs open at once in a voice; more are no notation. */
const deepest = 16;

/** Where a note stands in its voice: the count of its group, and its bar. */
export interface SlurPoint {
  readonly head: Head;
  readonly group: number;
  readonly bar: number;
}

export interface Slur {
  readonly from: SlurPoint;
  readonly to: SlurPoint;
  /** Slurs of one voice follow its order; between voices only bars are compared. */
  readonly voice: string;
}

export class Slurs {
  /** Null until the note comes that a slur begins on. */
  readonly #open: { from: SlurPoint | null }[] = [];
  /** Opened beyond the deepest, and so left out. */
  #beyond = 0;

  /** False where the slur has to be left out. */
  begin(): boolean {
    if (this.#open.length >= deepest) {
      this.#beyond += 1;
      return false;
    }
    this.#open.push({ from: null });
    return true;
  }

  /** The next note is there: slurs that wait begin on it. */
  attach(point: SlurPoint): void {
    for (let index = this.#open.length - 1; index >= 0; index -= 1) {
      const slur = this.#open[index];
      if (slur === undefined || slur.from !== null) break;
      slur.from = point;
    }
  }

  /**
   * Ends a slur on the last note: the innermost that began before it, so that "(c d (e) f)" is two slurs that meet on e.
   * Null where none is open, or only such as begin on this very note.
   */
  end(to: SlurPoint, voice: string): Slur | null {
    if (this.#beyond > 0) {
      this.#beyond -= 1;
      return null;
    }
    const index = this.#open.findLastIndex(({ from }) => from !== null && from.group !== to.group);
    const from = this.#open[index]?.from ?? null;
    if (from === null) {
      // A slur over one note alone is none.
      this.#open.pop();
      return null;
    }
    this.#open.splice(index, 1);
    return { from, to, voice };
  }

  /** How many are still open; they are forgotten. */
  finish(): number {
    const count = this.#open.length + this.#beyond;
    this.#open.length = 0;
    this.#beyond = 0;
    return count;
  }
}

const startsBefore = (a: Slur, b: Slur): number =>
  a.from.bar - b.from.bar ||
  (a.voice < b.voice ? -1 : a.voice > b.voice ? 1 : 0) ||
  a.from.group - b.from.group ||
  b.to.group - a.to.group;

const isOver = (old: Slur, next: Slur): boolean =>
  old.voice === next.voice ? old.to.group <= next.from.group : old.to.bar < next.from.bar;

/** Gives the slurs of a part their numbers, the lowest that is free, and writes them on their notes, ends before beginnings. */
export const numberSlurs = (slurs: readonly Slur[]): void => {
  const last: Slur[] = [];
  const numbered = slurs.toSorted(startsBefore).map((slur) => {
    const free = last.findIndex((old) => isOver(old, slur));
    const number = free < 0 ? last.length : free;
    last[number] = slur;
    return { slur, number: number + 1 };
  });
  for (const { slur, number } of numbered) (slur.to.head.slurs ??= []).push({ type: 'stop', number });
  for (const { slur, number } of numbered) (slur.from.head.slurs ??= []).push({ type: 'start', number });
};
