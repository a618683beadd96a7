/** Where things of a reading lie on the bar lines of its charts: the passage once, every repetition over the same bars. */
import type { ChartBar } from '../figure/index.ts';
import type { Reading, ReadingBar, ReadingNote } from './reading.ts';

type Bar = Pick<ReadingBar, 'barIndex' | 'pass' | 'rep'>;

const once = ({ barIndex, pass }: Bar): string => `${barIndex}/${pass}`;
const each = (bar: Bar): string => `${bar.rep}/${once(bar)}`;

export interface ChartPlaces {
  readonly bars: readonly ChartBar[];
  /** Index of a bar; null for one that the drill has not. */
  readonly barOf: (bar: Bar) => number | null;
  /** Share of its bar that has gone by at a time that the drill asks for, 0 to 1. */
  readonly within: (bar: Bar, time: number) => number;
  /** The time that is asked for at a beat, where a note stands on it; else that of the bar line. */
  readonly timeOf: (place: Bar & { readonly beat: string }) => number;
}

export const chartPlaces = ({ played, notes }: Pick<Reading, 'played' | 'notes'>): ChartPlaces => {
  const index = new Map<string, number>();
  const bars: ChartBar[] = [];
  for (const bar of played) {
    if (index.has(once(bar))) continue;
    index.set(once(bar), bars.length);
    bars.push({ label: bar.bar, start: bar.start, end: bar.end });
  }
  const byRep = new Map(played.map((bar) => [each(bar), bar]));
  const onBeat = new Map(notes.map((note: ReadingNote) => [`${each(note)}/${note.beat}`, note.expected]));
  return {
    bars,
    barOf: (bar) => index.get(once(bar)) ?? null,
    within: (bar, time) => {
      const { start, end } = byRep.get(each(bar)) ?? { start: 0, end: 0 };
      return end > start ? Math.min(1, Math.max(0, (time - start) / (end - start))) : 0;
    },
    timeOf: (place) => onBeat.get(`${each(place)}/${place.beat}`) ?? byRep.get(each(place))?.start ?? 0,
  };
};
