import type { Key } from '../../model.ts';
import type { RawMidi } from './events.ts';
import { unitsOf, type BarGrid, type BeatsTable } from './grid.ts';

/** The key signatures of a file; each holds for all parts from the bar line nearest to it. */
export class Keys {
  readonly list: readonly Key[];
  readonly #starts: number[] = [];

  constructor({ keys }: Pick<RawMidi, 'keys'>, grid: BarGrid, table: BeatsTable, ticksPerQuarter: number) {
    const list: Key[] = [];
    for (const { tick, value } of keys) {
      const position = unitsOf(tick, ticksPerQuarter);
      const { start, length } = grid.bar(grid.at(position));
      const late = position - start > length / 2 && start + length < grid.end;
      const from = late ? start + length : start;
      if (this.#starts.at(-1) === from) {
        this.#starts.pop();
        list.pop();
      }
      this.#starts.push(from);
      list.push({ at: table.of(from), staff: null, ...value });
    }
    this.list = list;
  }

  /** Sharps above zero, flats below, at a position in units; none before the first signature. */
  fifthsAt(position: number): number {
    let low = -1;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((this.#starts[middle] ?? 0) <= position) low = middle;
      else high = middle - 1;
    }
    return this.list[low]?.fifths ?? 0;
  }
}
