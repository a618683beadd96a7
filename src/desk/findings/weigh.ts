/** How sure a figure is and how much it matters: what may be told, and in which order. */
import { normalQuantile } from '../../together/quantiles.ts';
import type { Figure, ReadingFigures } from '../reading.ts';
import type { Caution, Finding, FindingKind, Try } from './model.ts';

/** A figure whose interval is known. */
export interface Sure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export const sure = (figure: Figure | null): Sure | null =>
  figure === null || figure.low === null || figure.high === null
    ? null
    : { value: figure.value, low: figure.low, high: figure.high };

/** Sizes of a figure in another unit; a negative factor turns it round. */
export const scaled = ({ value, low, high }: Sure, by: number): Sure => ({
  value: value * by,
  low: by < 0 ? high * by : low * by,
  high: by < 0 ? low * by : high * by,
});

/** The first less the second, which do not depend on each other: half intervals add as the sides of a right angle. */
export const less = (a: Sure, b: Sure): Sure => {
  const value = a.value - b.value;
  return {
    value,
    low: value - Math.hypot(a.value - a.low, b.high - b.value),
    high: value + Math.hypot(a.high - a.value, b.value - b.low),
  };
};

/** As a size: above zero whichever way it points. */
export const upright = (figure: Sure): Sure => (figure.value < 0 ? scaled(figure, -1) : figure);

/** The 97.5 % quantile of the normal distribution: half of a 95 % interval in standard deviations. */
const half95 = normalQuantile(0.975) ?? 1.96;

/** By how much wider the interval of one of `among` figures has to be (Bonferroni; normal errors). */
export const widening = (among: number): number =>
  among <= 1 ? 1 : (normalQuantile(1 - 0.025 / among) ?? half95) / half95;

/**
 * The interval of one of `among` figures that is picked because it is the clearest: wider, so that it holds for all of them together 95 times in
 * 100. `by`: how much, where it is known already.
 */
export const widened = ({ value, low, high }: Sure, among: number, by = widening(among)): Sure => ({
  value,
  low: value - by * (value - low),
  high: value + by * (high - value),
});

/** Whether zero lies outside. */
export const tells = ({ low, high }: Sure): boolean => low > 0 || high < 0;

/**
 * From which size on a difference is worth a word, in the figure's unit (of `drift`, `bar-tempo` and `bend`: as a share of the tempo;
 * of `evenness`: as a logarithm). Onsets less than some 20 ms apart are hardly told in order (Hirsh 1959, J Acoust Soc Am 31:759), and
 * good ensembles differ by 30 to 50 ms (Rasch 1979, Acustica 43:121); steady tempi are told apart from some 3 % on (Drake & Botte 1993,
 * Percept Psychophys 54:277); all from memory. The others are our choice.
 */
export const worth: Readonly<Record<FindingKind, number>> = {
  spread: 30,
  lead: 20,
  'first-entry': 30,
  entry: 30,
  'cued-entry': 30,
  drift: 0.03,
  'bar-tempo': 0.04,
  'bar-line': 20,
  'seam-time': 20,
  'seam-level': 3,
  'seam-length': 0.15,
  'seam-level-slope': 1.5,
  'seam-tempo-slope': 0.04,
  'after-syncopation': 20,
  length: 0.1,
  evenness: 0.1,
  bend: 0.04,
};

/** Kinds that are a matter of taste or of agreement before they are one of playing: they count half. Our choice. */
const taste: ReadonlySet<FindingKind> = new Set(['lead', 'length', 'evenness']);

/** What to try; where nothing can be told, more of the same tells more. */
const toTry: Readonly<Record<FindingKind, Try>> = {
  spread: 'subdivide',
  lead: 'swap-lead',
  'first-entry': 'breathe',
  entry: 'breathe',
  'cued-entry': 'cue-breath',
  drift: 'less-click',
  'bar-tempo': 'click-a-bar',
  'bar-line': 'lead-to-bar',
  'seam-time': 'play-along',
  'seam-level': 'match-level',
  'seam-length': 'match-length',
  'seam-level-slope': 'one-direction',
  'seam-tempo-slope': 'one-pulse',
  'after-syncopation': 'click-between',
  length: 'agree-length',
  evenness: 'agree-inequality',
  bend: 'bend-together',
};

/** Notes, pairs or places below which a figure is said to rest on few. Our choice; kinds that are measured at one place have none. */
const fewest: Partial<Readonly<Record<FindingKind, number>>> = {
  spread: 12,
  lead: 12,
  drift: 16,
  'bar-tempo': 4,
  'seam-time': 4,
  'seam-level': 4,
  'seam-length': 4,
  'seam-level-slope': 4,
  'seam-tempo-slope': 4,
  'after-syncopation': 4,
  length: 10,
  evenness: 10,
};

/** Share of notes that were not surely heard from which on it is said. Our choice. */
const mostUnsure = 0.25;

/** What each reason for caution leaves of a finding's weight. Our choice. */
const doubt = 0.7;

/** A finding in the making. */
export interface Seen extends Pick<
  Finding,
  'kind' | 'bar' | 'barIndex' | 'beat' | 'pass' | 'rep' | 'times' | 'toBar' | 'parts' | 'n' | 'among'
> {
  readonly unit: Finding['figure']['unit'];
  readonly figure: Sure;
  /** What the figure and `worth` are held against: 1, or a tempo. */
  readonly whole?: number;
  /** What of the figure counts; the figure itself if nothing is said. */
  readonly counts?: Sure;
  readonly value?: string;
  readonly asked?: number;
}

const cautionOf = (
  { kind, n, figure, parts, barIndex, toBar }: Seen,
  told: boolean,
  { notes }: ReadingFigures,
): readonly Caution[] => {
  const near = notes.filter(
    (note) => parts.includes(note.part) && (toBar !== null || Math.abs(note.barIndex - barIndex) <= 1),
  );
  const unsure = near.filter(({ state }) => state !== 'heard').length;
  return [
    ...(n < (fewest[kind] ?? 0) ? (['few-notes'] as const) : []),
    ...(told && (figure.high - figure.low) / 2 > Math.abs(figure.value) / 2
      ? (['wide-interval'] as const)
      : []),
    ...(unsure > mostUnsure * near.length ? (['unsure-notes'] as const) : []),
  ];
};

/**
 * The finding with its weight: by how much the nearer end of its interval exceeds nothing, in steps of what is worth a word, so that what is
 * large and unsure counts no more than what is small and sure.
 */
export const weighed = (seen: Seen, reading: ReadingFigures): Finding => {
  const { kind, figure, unit, whole = 1, counts = figure, value, asked, ...rest } = seen;
  const told = tells(counts);
  const step = worth[kind] * whole;
  const caution = cautionOf(seen, told, reading);
  const surely = told ? Math.min(Math.abs(counts.low), Math.abs(counts.high)) / step : 0;
  return {
    kind,
    told,
    small: told && Math.abs(counts.value) < step,
    bar: rest.bar,
    barIndex: rest.barIndex,
    beat: rest.beat,
    pass: rest.pass,
    rep: rest.rep,
    times: rest.times,
    toBar: rest.toBar,
    parts: rest.parts,
    figure: { unit, value: figure.value, low: figure.low, high: figure.high },
    n: rest.n,
    among: rest.among,
    value: value ?? null,
    asked: asked ?? null,
    caution,
    toTry: told ? toTry[kind] : 'again',
    weight: surely * (taste.has(kind) ? 0.5 : 1) * doubt ** caution.length,
  };
};
