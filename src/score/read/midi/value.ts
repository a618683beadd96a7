import { noteTypes, type NoteValue, type WrittenNote } from '../../notes.ts';
import { whole } from './grid.ts';

/** What is drawn for a length. */
export interface Drawn {
  readonly value: NoteValue | null;
  readonly tuplet: WrittenNote['tuplet'];
}

const untupled = { actual: 1, normal: 1 } as const;
/** The usual tuplets: three in the time of two and so on. */
const tuplets = [
  untupled,
  { actual: 3, normal: 2 },
  { actual: 5, normal: 4 },
  { actual: 7, normal: 4 },
  { actual: 9, normal: 8 },
];

const nothing: Drawn = { value: null, tuplet: untupled };

/** All lengths that one note can have, in units: values from breve to 256th with up to two dots, in each tuplet. */
const lengths: ReadonlyMap<number, Drawn> = (() => {
  const table = new Map<number, Drawn>();
  for (const tuplet of tuplets) {
    // No dots in tuplets: the length of a dotted one is that of a plainer note, or of none that is usual.
    for (const dots of tuplet === untupled ? [0, 1, 2] : [0]) {
      noteTypes.forEach((type, k) => {
        const plain = whole * 4 * 2 ** (1 - k);
        const length = (plain * (2 - 2 ** -dots) * tuplet.normal) / tuplet.actual;
        if (k >= 2 && Number.isInteger(length) && !table.has(length))
          table.set(length, { value: { type, dots }, tuplet });
      });
    }
  }
  return table;
})();

/** The value of a length in units; none where it would take several tied notes. */
export const drawn = (length: number): Drawn => lengths.get(length) ?? nothing;
