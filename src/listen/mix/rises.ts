/**
 * The fine search by signal processing alone: each note from the rise of the partials that are its own, in the shortest windows in which they stand
 * clear. What every learnt search is held against.
 */
import { hop, listeningRate } from '../model.ts';
import { coveredBy, pitchesAround } from './around.ts';
import { clearPartials } from './partials.ts';
import type { MixNote, OnsetDistribution, Refine } from './types.ts';

const frame = hop / listeningRate;
/** Seconds on each side of the expected time: what is looked at, and where a beginning may lie. */
const looked = 0.25;
const sought = 0.16;
/** Frames on each side of a rise: 24 to 36 ms. */
const span = 15;
/** Share of the partials that count at each frame: one may be weak or covered. */
const bestShare = 0.6;
/** dB: what lies so far below a partial's highest is floor; partials that are much softer than the strongest count as if they were not. */
const depth = 40;
const softest = 20;
/** Frames on each side of the steepest place in which the lowest and the highest level are sought. */
const around = 35;
/** What a dB of rise is worth in logarithms of odds, and what no rise at all is worth. Set on the bench's tuning half. */
const perDecibel = 0.25;
const nothing = 1;
/** Rises below this, in dB, are no candidates; and how many are kept. */
const leastRise = 1.5;
const most = 8;

const step = 0.002;
const values = 2 * Math.round(0.2 / step) + 1;

interface Found {
  /** Seconds in the recording of the perceived beat, and the physical start before it. */
  readonly beat: number;
  readonly lag: number;
  /** One standard deviation, in seconds. */
  readonly spread: number;
  /** Logarithm of odds. */
  readonly worth: number;
}

/** Mean rise at each frame of the partials that rise most. */
const riseOf = (curves: readonly Float64Array[], count: number): Float64Array => {
  const counted = Math.max(1, Math.ceil(bestShare * curves.length));
  return Float64Array.from({ length: count }, (_, f) => {
    if (f < span || f + span >= count) return 0;
    const rises = curves.map((curve) => (curve[f + span] ?? 0) - (curve[f - span] ?? 0));
    rises.sort((a, b) => b - a);
    let sum = 0;
    for (let i = 0; i < counted; i += 1) sum += rises[i] ?? 0;
    return sum / counted;
  });
};

/** Moments at which the sum of the partials passes levels, around a steepest frame. */
const momentsOf = (own: Float64Array, f: number, start: number) => {
  const to = Math.min(own.length - 1, f + around);
  let low = Math.max(0, f - around);
  for (let g = low; g < f + 5; g += 1) if ((own[g] ?? 0) < (own[low] ?? 0)) low = g;
  let high = -Infinity;
  for (let g = low; g <= to; g += 1) high = Math.max(high, own[g] ?? -Infinity);
  const floor = own[low] ?? 0;
  const crossing = (level: number): number => {
    let g = low;
    while (g < to && (own[g] ?? 0) < level) g += 1;
    const [a, b] = [own[g - 1] ?? 0, own[g] ?? 0];
    const part = g > low && b > a ? (level - a) / (b - a) : 1;
    return start + (g - 1 + part) * frame;
  };
  const rise = high - floor;
  // Within 10 dB of the highest where that can be seen, else the middle of the rise: nearest to the perceived beat on the tuning half.
  const beat = crossing(rise > 20 ? high - 10 : floor + 0.5 * rise);
  return { rise, beat, lag: Math.max(0, beat - crossing(floor + 0.1 * rise)) };
};

/** One standard deviation of a beat in seconds, by how deep the rise is and how short the windows are; fitted to the tuning half. */
const spreadOf = (rise: number, window: number, { slurred, repeated }: MixNote): number =>
  (0.003 + 0.25 * window + 0.05 / Math.max(4, rise)) * (slurred || repeated ? 1.3 : 1);

const candidatesOf = (signal: Float32Array, note: MixNote, others: readonly number[]): readonly Found[] => {
  const first = Math.round(((note.time - looked) * listeningRate) / hop) * hop;
  const count = 2 * Math.round(looked / frame) + 1;
  const start = first / listeningRate;
  const clear = clearPartials(signal, first, count, note.hertz, others);
  // An octave above what sounds there is no partial of its own: then what there is has to do.
  const used = clear.length > 0 ? clear : clearPartials(signal, first, count, note.hertz, []);
  if (used.length === 0) return [];
  const tops = used.map(({ energy }) => energy.reduce((high, value) => Math.max(high, value), 0));
  const strongest = Math.max(1e-12, ...tops);
  const curves = used.map(({ energy }, i) => {
    const floor = Math.max(tops[i] ?? 0, strongest * 10 ** (-softest / 10)) * 10 ** (-depth / 10);
    return energy.map((value) => 10 * Math.log10(Math.max(value, floor)));
  });
  const sum = new Float64Array(count);
  for (const curve of curves)
    for (let f = 0; f < count; f += 1) sum[f] = (sum[f] ?? 0) + 10 ** ((curve[f] ?? 0) / 10);
  const own = sum.map((value) => 10 * Math.log10(value));
  const window = used.reduce((total, { spread }) => total + spread, 0) / used.length;
  const rises = riseOf(curves, count);
  const found: Found[] = [];
  for (let f = span; f + span < count; f += 1) {
    const rise = rises[f] ?? 0;
    if (rise < leastRise || rise < (rises[f - 1] ?? 0) || rise <= (rises[f + 1] ?? 0)) continue;
    const at = start + f * frame;
    if (Math.abs(at - note.time) > sought) continue;
    const { rise: whole, beat, lag } = momentsOf(own, f, start);
    const shift = (at - note.time) / note.spread;
    found.push({
      beat,
      lag,
      spread: spreadOf(whole, window, note),
      worth: perDecibel * rise - 0.5 * shift ** 2,
    });
  }
  return found.sort((a, b) => b.worth - a.worth).slice(0, most);
};

/** A sum of normal curves at the candidates, and a wide one for the case that none of them is right. */
const spreadOut = (note: MixNote, found: readonly Found[], unsure: boolean): OnsetDistribution => {
  const start = note.time - ((values - 1) / 2) * step;
  const p = new Float32Array(values);
  const lay = (at: number, spread: number, worth: number): void => {
    const weight = Math.exp(worth) / spread;
    for (let k = 0; k < values; k += 1)
      p[k] = (p[k] ?? 0) + weight * Math.exp(-0.5 * ((start + k * step - at) / spread) ** 2);
  };
  for (const { beat, spread, worth } of found) lay(beat, spread, worth);
  lay(note.time, note.spread, nothing);
  const sum = p.reduce((total, value) => total + value, 0);
  for (let k = 0; k < values; k += 1) p[k] = (p[k] ?? 0) / sum;
  return { start, step, p, lag: found[0]?.lag ?? null, trust: unsure ? 'unsure' : 'sure' };
};

/** Looks for each note by the rise of its own partials. */
export const refineByRises: Refine = (signal, notes) =>
  notes.map((note, i) => {
    if (note.hertz <= 0) return null;
    const found = candidatesOf(signal, note, pitchesAround(notes, i));
    return spreadOut(note, found, coveredBy(notes, i));
  });
