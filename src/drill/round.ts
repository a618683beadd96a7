/**
 * One playing of a passage, laid out from 0: its upbeat, its bars as they are played, and the bars counted again after
 * a fermata. Every repetition of a drill is this round once more.
 */
import type { BarGrid } from '../rhythm/beats.ts';
import type { Bar, Part } from '../score/model.ts';
import type { Visit } from '../score/playing.ts';
import { beats, F, note, plus, type Beats } from '../units/index.ts';

/** A stretch of a bar as it is played. */
export interface Stretch {
  readonly kind: 'bar';
  /** From the round's beginning. */
  readonly start: Beats;
  readonly length: Beats;
  readonly bar: Bar;
  readonly visit: Visit;
  /** From the bar's start as it is to where this stretch begins. */
  readonly offset: Beats;
  /** Counts full bars from the passage's first, from 0; a pickup goes with the bar before it. Null in the upbeat. */
  readonly barCount: number | null;
}

/** A bar counted again before the music goes on after a fermata. */
export interface Recount {
  readonly kind: 'hold';
  readonly start: Beats;
  readonly length: Beats;
  /** The bar whose count is given, and the place in it, from its start, at which the music goes on. */
  readonly bar: Bar;
  readonly offset: Beats;
}

export type RoundBar = Stretch | Recount;

export interface Round {
  readonly bars: readonly RoundBar[];
  readonly length: Beats;
  /** Length of what stands before the first full bar. */
  readonly upbeat: Beats;
}

/** A stretch of written music during which time stands still for the click: [from, to). */
export interface Fermata {
  readonly from: Beats;
  readonly to: Beats;
}

/**
 * Fermatas of the parts, those that overlap as one, in order. Time stands still from where the last of them begins:
 * until then someone still moves.
 */
export const fermatas = (parts: readonly Part[]): readonly Fermata[] => {
  const marked = parts
    .flatMap((part) => part.written)
    .filter(({ marks, kind }) => marks.fermata !== null && kind !== 'grace')
    .map(({ onset, duration }) => ({ from: onset, to: beats(F.add(onset, duration)) }))
    .filter(({ from, to }) => F.less(from, to))
    .sort((a, b) => F.compare(a.from, b.from));
  const merged: Fermata[] = [];
  for (const next of marked) {
    const last = merged.at(-1);
    if (last !== undefined && F.less(next.from, last.to)) {
      merged[merged.length - 1] = { from: next.from, to: beats(F.max(last.to, next.to)) };
    } else merged.push(next);
  }
  return merged;
};

/** What is to be played of one bar. */
interface Played {
  readonly bar: Bar;
  readonly visit: Visit;
  readonly offset: Beats;
  readonly length: Beats;
  /** Whether it stands before the passage, be it a whole bar. */
  readonly upbeat: boolean;
}

/**
 * Lays out a round. `before` is the bar played before the passage and how much of its end is the upbeat. After each
 * fermata, over notes or a bar line, that ends inside the passage a whole bar is counted again, if `recount` is set.
 */
export const layRound = (
  bars: readonly Bar[],
  grids: readonly BarGrid[],
  passage: {
    readonly visits: readonly Visit[];
    readonly before: { readonly visit: Visit; readonly length: Beats } | null;
  },
  options: { readonly fermatas: readonly Fermata[]; readonly recount: boolean },
): Round => {
  const played = passage.visits.flatMap((visit): Played[] => {
    const bar = bars[visit.barIndex];
    return bar === undefined ? [] : [{ bar, visit, offset: note(0), length: bar.length, upbeat: false }];
  });
  const first = passage.before;
  const firstBar = first === null ? undefined : bars[first.visit.barIndex];
  if (first !== null && firstBar !== undefined && F.isPositive(first.length)) {
    const offset = beats(F.sub(firstBar.length, first.length));
    played.unshift({ bar: firstBar, visit: first.visit, offset, length: first.length, upbeat: true });
  }

  const row: RoundBar[] = [];
  let at = note(0);
  let upbeat = note(0);
  let barCount: number | null = null;
  const push = (entry: Omit<Stretch, 'start'> | Omit<Recount, 'start'>) => {
    row.push({ ...entry, start: at });
    at = plus(at, entry.length);
  };
  played.forEach(({ bar, visit, offset, length, upbeat: before }, i) => {
    const end = F.add(offset, length);
    const begins = !bar.pickup && !before;
    if (begins) barCount = barCount === null ? 0 : barCount + 1;
    const count = barCount;
    const last = played[i - 1]?.bar;
    const afterFree = last?.metre.components.length === 0;
    // Music without metre has no click, and under a fermata over a bar line time stands still: what follows either
    // is counted in again.
    const counts = afterFree || last?.fermata === true;
    if (options.recount && counts && row.at(-1)?.kind !== 'hold' && bar.metre.components.length > 0) {
      push({ kind: 'hold', bar, offset, length: grids[bar.index]?.full ?? bar.length });
    }
    if (count === null) upbeat = plus(upbeat, length);
    let from = offset;
    for (const { to } of options.recount ? options.fermatas : []) {
      const place = beats(F.sub(to, bar.start));
      if (!F.less(from, place) || F.less(end, place)) continue;
      const next = played[i + 1];
      const inside = F.less(place, end);
      const goesOn = inside ? bar : next?.bar;
      // Without a metre there is nothing to count.
      if (goesOn === undefined || goesOn.metre.components.length === 0) continue;
      push({ kind: 'bar', bar, visit, offset: from, length: beats(F.sub(place, from)), barCount: count });
      const full = grids[goesOn.index]?.full ?? goesOn.length;
      push({ kind: 'hold', bar: goesOn, offset: inside ? place : (next?.offset ?? note(0)), length: full });
      from = place;
    }
    if (F.less(from, end)) {
      push({ kind: 'bar', bar, visit, offset: from, length: beats(F.sub(end, from)), barCount: count });
    }
  });
  return { bars: row, length: at, upbeat };
};
