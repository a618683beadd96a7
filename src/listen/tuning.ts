/** At which pitch a take is played: any A from 392 to 466 Hz (design section 8). */
import type { ExpectedNote } from './model.ts';
import type { Peaks } from './spectra.ts';

/** Hz of a key at A = 440. */
export const hertzOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

/** Cents of A = 392 and of A = 466 against 440, with a little room. */
const lowest = -215;
const highest = 115;
const step = 5;
/** Bins of 5 cents from 27.5 Hz on, ten octaves. */
const bins = 2400;
const base = 27.5;

export interface PitchHistogram {
  readonly add: (peaks: Peaks, norm: number) => void;
  /** Cents against A = 440 that fit the expected notes best, and the runner-up at least 50 cents away. */
  readonly best: (notes: readonly Pick<ExpectedNote, 'midi' | 'duration'>[]) => readonly [number, number];
}

/** Partials of a note by which it is known. */
const partials = 6;

/** Collects the spectral peaks of a take. */
export const pitchHistogram = (): PitchHistogram => {
  const counts = new Float64Array(bins);
  const add = (peaks: Peaks, norm: number): void => {
    if (norm <= 0) return;
    for (let i = 0; i < peaks.length; i += 2) {
      const b = Math.round((1200 * Math.log2((peaks[i] ?? base) / base)) / step);
      if (b >= 0 && b < bins) counts[b] = (counts[b] ?? 0) + (peaks[i + 1] ?? 0) / norm;
    }
  };
  const best = (notes: readonly Pick<ExpectedNote, 'midi' | 'duration'>[]): readonly [number, number] => {
    const template = new Float64Array(bins);
    for (const { midi, duration } of notes) {
      if (midi === null) continue;
      for (let h = 1; h <= partials; h += 1) {
        const centre = Math.round((1200 * Math.log2((hertzOf(midi) * h) / base)) / step);
        for (let d = -4; d <= 4; d += 1) {
          const b = centre + d;
          if (b >= 0 && b < bins)
            template[b] = (template[b] ?? 0) + (duration / h) * Math.exp(-0.5 * (d / 2) ** 2);
        }
      }
    }
    const scores: { cents: number; score: number }[] = [];
    for (let cents = lowest; cents <= highest; cents += step) {
      let score = 0;
      for (let b = 0; b < bins; b += 1) score += (template[b] ?? 0) * (counts[b + cents / step] ?? 0);
      scores.push({ cents, score });
    }
    scores.sort((a, b) => b.score - a.score);
    const first = scores[0]?.cents ?? 0;
    const second = scores.find(({ cents }) => Math.abs(cents - first) >= 50)?.cents ?? first;
    return [first, second];
  };
  return { add, best };
};
