/** Bars by index, and as they are written in the margin: printed numbers, or "@12" where a number would not do. */
import type { Overview } from '../desk/index.ts';

type Bars = Overview['look']['bars'];

/** What means this bar and no other. */
const nameOfBar = (bars: Bars, index: number): string => {
  const number = bars[index]?.number ?? '';
  const once = bars.filter((bar) => bar.number === number).length === 1;
  return once && /^[\p{L}\p{N}]+$/u.test(number) ? number : `@${index}`;
};

/** The bar that is written; null where it is none: a rehearsal mark, say. */
const barNamed = (bars: Bars, text: string): number | null => {
  const index = /^@(\d{1,6})$/.exec(text.trim())?.[1];
  const at = index === undefined ? bars.findIndex(({ number }) => number === text.trim()) : Number(index);
  return at >= 0 && at < bars.length ? at : null;
};

/** Bars in a row, by index, both included. */
export interface BarRange {
  readonly first: number;
  readonly last: number;
}

/** Bars that are asked for; null where they are not written by number. Nothing written is the whole piece. */
export const rangeAsked = (
  bars: Bars,
  asked: { readonly from: string; readonly to: string },
): BarRange | null => {
  const [from, to] = [asked.from.trim(), asked.to.trim()];
  if (from === '' && to === '') return { first: 0, last: bars.length - 1 };
  const first = barNamed(bars, from === '' ? to : from);
  const last = barNamed(bars, to === '' ? from : to);
  return first === null || last === null || last < first ? null : { first, last };
};

/** The same bars in words for the margin. */
export const askedRange = (bars: Bars, { first, last }: BarRange): { from: string; to: string } => ({
  from: nameOfBar(bars, first),
  to: nameOfBar(bars, last),
});

/** A click placement whose bars apart and hemiola are named after another numbering. */
export const renumberedClick = (click: string, renumber: (number: string) => string): string =>
  click
    .split(',')
    .map((clause) => {
      const [, hemiola = '', bars, own = ''] = /^(\s*hemiola:)?\s*([^:]+?)\s*(:[^:]*)?$/.exec(clause) ?? [];
      if (bars === undefined || (hemiola === '' && own === '')) return clause;
      return `${hemiola}${bars.split('-').map(renumber).join('-')}${own}`;
    })
    .join(',');
