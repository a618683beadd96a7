/**
 * One take of a place, judged: did it hold, did it break, or can that not be told? Each figure comes with the interval that holds it 95
 * times in 100, and only what lies wholly on one side of its bound (bounds.ts) is concluded.
 */
import { normalQuantile } from '../together/quantiles.ts';
import { bounds } from './bounds.ts';

/** A figure and the ends of its 95 % interval; null where there is too little to tell. */
export interface TakeFigure {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** Two players of a take. */
export interface TakePair {
  readonly parts: readonly [string, string];
  /** Places that both play and that were surely heard. */
  readonly n: number;
  /** Milliseconds: standard deviation of their asynchrony, freed of the measuring noise; null where none could be told. */
  readonly sd: TakeFigure | null;
}

/** What of a reading the steps need. */
export interface TakeFigures {
  /** Whether the players held to a click. */
  readonly playing: 'click' | 'free';
  /** What the players said of it themselves, where nothing was read; else null, or left out. */
  readonly told?: 'held' | 'not-yet' | null;
  /** Notes surely heard, of how many. */
  readonly heard: number;
  readonly notes: number;
  readonly pairs: readonly TakePair[];
  /**
   * Where a click falls once a bar or less: milliseconds by which the players' bar lines come after it on the whole, and the milliseconds
   * from click to click. Else null.
   */
  readonly arrival: { readonly late: TakeFigure; readonly spacing: number } | null;
  /**
   * In free playing: percent by which the tempo grows from the first third of the bars to the last, bars without a marked ritardando,
   * breath or fermata only. Else null.
   */
  readonly change: TakeFigure | null;
}

/** "open": the interval reaches over the bound. */
export type Told = 'holds' | 'breaks' | 'open';

export interface Judged {
  /** Whether the players judged it themselves, by their ears. */
  readonly byEars: boolean;
  /** "unheard": too little was heard to judge at all. */
  readonly verdict: Told | 'unheard';
  /** The pair that is furthest apart, its interval widened for having been picked; null where none could be told. */
  readonly apart: {
    readonly parts: readonly [string, string];
    readonly sd: TakeFigure;
    readonly told: Told;
  } | null;
  /** Bar lines under a sparse click, or the tempo of free playing; null where the click itself keeps the pulse. */
  readonly pulse:
    | { readonly kind: 'arrival'; readonly figure: TakeFigure; readonly bound: number; readonly told: Told }
    | { readonly kind: 'change'; readonly figure: TakeFigure; readonly bound: number; readonly told: Told }
    | null;
}

const half95 = normalQuantile(0.975) ?? 1.96;

/** Bonferroni, on a logarithmic scale: a spread is above zero. */
const widened = ({ value, low, high }: TakeFigure, among: number): TakeFigure => {
  const by = among <= 1 ? 1 : (normalQuantile(1 - 0.025 / among) ?? half95) / half95;
  const wider = (end: number | null): number | null =>
    end === null ? null : end > 0 && value > 0 ? value * (end / value) ** by : end;
  return { value, low: wider(low), high: wider(high) };
};

const apartOf = (pairs: readonly TakePair[]): Judged['apart'] => {
  const known = pairs.flatMap(({ parts, n, sd }) =>
    sd === null || sd.high === null || n < bounds.fewest.value
      ? []
      : [{ parts, sd: widened(sd, pairs.length) }],
  );
  const [widest] = [...known].sort((a, b) => (b.sd.high ?? 0) - (a.sd.high ?? 0));
  if (widest === undefined) return null;
  const breaking = known.find(({ sd }) => (sd.low ?? 0) > bounds.apart.value);
  if (breaking !== undefined) return { ...breaking, told: 'breaks' };
  // Of a pair that was not heard well enough nothing is known: the others do not speak for it.
  const all = known.length === pairs.length && (widest.sd.high ?? Infinity) < bounds.apart.value;
  return { ...widest, told: all ? 'holds' : 'open' };
};

/** Whether a figure that should be near zero is: its interval within the bound, without it, or over its edge. */
const near = ({ low, high }: TakeFigure, bound: number): Told =>
  low === null || high === null
    ? 'open'
    : low > bound || high < -bound
      ? 'breaks'
      : low > -bound && high < bound
        ? 'holds'
        : 'open';

const pulseOf = ({ arrival, change, playing }: TakeFigures): Judged['pulse'] => {
  if (playing === 'free') {
    if (change === null) return null;
    const bound = bounds.change.value;
    const { low, high } = change;
    const wide = low === null || high === null || (high - low) / 2 > bounds.changeTold.value;
    const told = near(change, bound);
    // Free playing may breathe: only what has surely moved counts, and only where the tempo can be told at all.
    return { kind: 'change', figure: change, bound, told: wide ? 'open' : told === 'open' ? 'holds' : told };
  }
  if (arrival === null) return null;
  const bound = Math.max(bounds.arrivalLeast.value, bounds.arrival.value * arrival.spacing);
  return { kind: 'arrival', figure: arrival.late, bound, told: near(arrival.late, bound) };
};

/** Judges one take. The same figures give the same judgement. */
export const judgeTake = (figures: TakeFigures): Judged => {
  const { heard, notes, pairs, told: said = null } = figures;
  if (said !== null)
    return { byEars: true, verdict: said === 'held' ? 'holds' : 'breaks', apart: null, pulse: null };
  const apart = apartOf(pairs);
  const pulse = pulseOf(figures);
  if (apart === null || heard < bounds.heard.value * notes)
    return { byEars: false, verdict: 'unheard', apart, pulse };
  const told = [apart.told, ...(pulse === null ? [] : [pulse.told])];
  const verdict = told.includes('breaks')
    ? 'breaks'
    : told.every((one) => one === 'holds')
      ? 'holds'
      : 'open';
  return { byEars: false, verdict, apart, pulse };
};
