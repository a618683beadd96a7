/**
 * Whether printed bar numbers follow on from each other. "12" is followed by "13" or "12a"; labels such as "X1" go
 * anywhere. A number that has been there, or that lies behind the last one, overlaps; one that leaves others out
 * leaves a gap. The reader warns by this rule and the writer says "renumbered" by it.
 */
export type Following = 'on' | 'gap' | 'overlap';

/** "12" and "12a" count as 12; null for every other label. */
const counted = (label: string): number | null => {
  const match = /^(\d{1,9})[A-Za-z]{0,3}$/.exec(label);
  return match === null ? null : Number(match[1]);
};

export class Numbering {
  readonly #used = new Set<string>();
  #last: number | null = null;

  /** The last number given, 0 before the first; "12a" counts as 12. */
  get last(): number {
    return this.#last ?? 0;
  }

  has(label: string): boolean {
    return this.#used.has(label);
  }

  /** How a label would follow on, without taking it. */
  follows(label: string): Following {
    if (label === '') return 'on';
    if (this.#used.has(label)) return 'overlap';
    const number = counted(label);
    if (number === null || this.#last === null) return 'on';
    const plain = /^\d+$/.test(label);
    if (number < this.#last || (plain && number === this.#last)) return 'overlap';
    return number > this.#last + 1 ? 'gap' : 'on';
  }

  /** The pickup's "0" is used up, but numbers may begin anywhere after it. */
  takePickup(): void {
    this.#used.add('0');
  }

  take(label: string): void {
    this.#used.add(label);
    this.#last = counted(label) ?? this.#last;
  }
}
