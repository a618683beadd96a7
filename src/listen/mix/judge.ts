/** From how likely a beginning is where to a time, how sure it is, and whether anything may rest on it. */
import { coveredBy } from './around.ts';
import type { MixNote, OnsetDistribution, Trust } from './types.ts';

export interface MixOnset {
  /** Seconds in the recording. Of an unsure note it leans on the tempo of all players; else it is from what was heard of the note alone. */
  readonly beat: number;
  /** One standard deviation, in seconds, that serves for 68 and for 95 %. */
  readonly spread: number;
  readonly trust: Trust;
  /** Seconds by which the physical start comes before. */
  readonly lag: number;
}

/** Seconds on each side of the likeliest place that belong to one and the same beginning. */
const oneBeginning = 0.035;
/** Share that has to lie there: else there are two beginnings, or none. */
const leastShare = 0.7;
/** One standard deviation in seconds up to which a time is useful; as for single recordings (player.ts). */
const widest = 0.025;
/** Seconds: no time is known better. */
const leastSpread = 0.002;
/** Seconds: how far players usually are from the tempo of all of them, for what is shown where little was heard. */
const shownSpread = 0.03;
/** Seconds: two beginnings of one player are no closer. */
const closest = 0.03;

interface Summary {
  readonly middle: number;
  readonly spread: number;
  readonly share: number;
}

const at = ({ start, step }: OnsetDistribution, k: number): number => start + k * step;

/** The likeliest beginning: the place around which most lies, its mean, and half the interval that holds the inner 68 or 95 %. */
const summaryOf = (heard: OnsetDistribution): Summary => {
  const { p, step, grain = 0 } = heard;
  const reach = Math.round(oneBeginning / step);
  const sums = new Float64Array(p.length + 1);
  for (let k = 0; k < p.length; k += 1) sums[k + 1] = (sums[k] ?? 0) + (p[k] ?? 0);
  const within = (k: number, wide: number): number =>
    (sums[Math.min(p.length, k + wide + 1)] ?? 0) - (sums[Math.max(0, k - wide)] ?? 0);
  let best = 0;
  const narrow = Math.max(1, Math.round(0.006 / step));
  for (let k = 1; k < p.length; k += 1) if (within(k, narrow) > within(best, narrow)) best = k;
  let [weight, sum] = [0, 0];
  for (let k = Math.max(0, best - reach); k <= Math.min(p.length - 1, best + reach); k += 1) {
    weight += p[k] ?? 0;
    sum += (p[k] ?? 0) * at(heard, k);
  }
  const middle = weight > 0 ? sum / weight : at(heard, best);
  /** How much lies before a time; a value's share lies evenly about its middle. */
  const before = (time: number): number => {
    const place = Math.max(0, Math.min(p.length, (time - heard.start) / step + 0.5));
    const k = Math.floor(place);
    return (sums[k] ?? 0) + (place - k) * (p[k] ?? 0);
  };
  /** Distance from the middle within which a share of all lies, by halving. */
  const half = (share: number): number => {
    let [low, high] = [0, p.length * step];
    for (let round = 0; round < 16; round += 1) {
      const d = (low + high) / 2;
      if (before(middle + d) - before(middle - d) >= share) high = d;
      else low = d;
    }
    return high;
  };
  const spread = Math.max(half(0.68), half(0.95) / 1.96);
  return {
    middle,
    spread: Math.sqrt(Math.max(leastSpread ** 2, spread ** 2 - grain ** 2)),
    share: within(best, reach),
  };
};

/** A prior that a learnt search has in it, taken out: two normal curves in one (sums of precisions). */
const withoutPrior = (
  { middle, spread, share }: Summary,
  note: MixNote,
  prior: number | undefined,
): Summary => {
  if (prior === undefined || spread >= 0.8 * prior) return { middle, spread, share };
  const gain = prior ** 2 / (prior ** 2 - spread ** 2);
  return { middle: note.time + gain * (middle - note.time), spread: spread * Math.sqrt(gain), share };
};

/** What is shown where little was heard: what was heard and the tempo of all players, by their precisions. */
const leaning = ({ middle, spread }: Summary, { time }: MixNote): MixOnset => {
  const [own, curve] = [1 / spread ** 2, 1 / shownSpread ** 2];
  const beat = (own * middle + curve * time) / (own + curve);
  return { beat, spread: Math.max(shownSpread, Math.abs(beat - middle) / 2), trust: 'unsure', lag: 0 };
};

const trustIn = (heard: OnsetDistribution, { share, spread }: Summary, found: boolean): Trust => {
  if (!found) return 'unsure';
  const clear = heard.calibrated === true || (share >= leastShare && spread <= widest);
  return clear ? heard.trust : 'unsure';
};

/** Times of all notes, in their order. */
export const onsetsOf = (
  notes: readonly MixNote[],
  heard: readonly (OnsetDistribution | null)[],
): readonly MixOnset[] => {
  const found = notes.map((note, i): MixOnset => {
    const distribution = heard[i] ?? null;
    if (distribution === null) return { beat: note.time, spread: note.spread, trust: 'unsure', lag: 0 };
    const summary = withoutPrior(summaryOf(distribution), note, distribution.prior);
    const trust = trustIn(distribution, summary, note.found);
    if (trust === 'unsure') return leaning(summary, note);
    const { middle: beat, spread } = summary;
    // Of two who begin one pitch together it cannot be told which of them was heard.
    return trust === 'rough' || coveredBy(notes, i, 'unison')
      ? { beat, spread, trust: 'rough', lag: 0 }
      : { beat, spread, trust, lag: distribution.lag ?? 0 };
  });
  return inOrder(notes, found);
};

/** Of two notes of one player in the wrong order the rough one, or the one less well known, has no time of its own. */
const inOrder = (notes: readonly MixNote[], found: readonly MixOnset[]): readonly MixOnset[] => {
  const out = [...found];
  const last = new Map<number, number>();
  notes.forEach((note, i) => {
    const own = out[i];
    if (own === undefined || own.trust === 'unsure') return;
    const before = last.get(note.part);
    const earlier = before === undefined ? undefined : out[before];
    // Notes of one chord begin together.
    const chord = before !== undefined && Math.abs((notes[before]?.time ?? 0) - note.time) < 1e-6;
    if (before !== undefined && earlier !== undefined && !chord && own.beat - earlier.beat < closest) {
      const weaker = own.trust === earlier.trust ? own.spread > earlier.spread : own.trust === 'rough';
      const loser = weaker ? i : before;
      const lost = out[loser];
      if (lost !== undefined) out[loser] = { ...lost, trust: 'unsure' };
      if (loser === i) return;
    }
    last.set(note.part, i);
  });
  return out;
};
