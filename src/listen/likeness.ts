/** How much each frame sounds like each expected pitch. */
import { frames, frameCount, peaksFrom, type Peaks } from './spectra.ts';
import { hertzOf, pitchHistogram } from './tuning.ts';
import type { ExpectedNote } from './model.ts';

export interface Coarse {
  readonly frames: number;
  /** Distinct expected pitches, by key. */
  readonly pitches: readonly number[];
  /** frames x pitches, 0 to 1: cosine between the frame's peaks and a harmonic series. */
  readonly likeness: Float32Array;
  /** dB against the loud parts of the take (95th percentile). */
  readonly level: Float32Array;
  /** Suddenness against the take's own: 0 none, 1 as at a clear attack (95th percentile), at most 2. */
  readonly flux: Float32Array;
  /** Cents against A = 440. */
  readonly tuning: number;
}

/** Cents on each side within which a partial counts as the expected one: vibrato, drift and temperament. */
const tolerance = 38;
const partials = 12;
/** Weights of partials; roots of 1/h, as sizes are roots of magnitudes. */
const weights = Float64Array.from({ length: partials }, (_, i) => 1 / Math.sqrt(i + 1));
const weightNorm = Math.sqrt(weights.reduce((sum, w) => sum + w * w, 0));

const likenessOf = (peaks: Peaks, norm: number, hertz: number): number => {
  if (norm <= 0) return 0;
  const width = 2 ** (tolerance / 1200);
  let sum = 0;
  let next = 0;
  for (let h = 1; h <= partials; h += 1) {
    // 8 Hz: what the window blurs.
    const low = Math.min((h * hertz) / width, h * hertz - 8);
    const high = Math.max(h * hertz * width, h * hertz + 8);
    while (next < peaks.length && (peaks[next] ?? 0) < low) next += 2;
    let most = 0;
    for (let i = next; i < peaks.length && (peaks[i] ?? 0) <= high; i += 2)
      most = Math.max(most, peaks[i + 1] ?? 0);
    sum += most * (weights[h - 1] ?? 0);
  }
  return sum / (norm * weightNorm);
};

const percentile = (values: Float32Array, share: number): number => {
  const sorted = Float32Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
};

interface KeptPeaks {
  readonly push: (peaks: Peaks, norm: number) => void;
  readonly forEach: (each: (peaks: Peaks, norm: number, frame: number) => void) => void;
}

/** Numbers of a piece in which peaks are kept, and pieces: 8 MB, of some minutes of music. */
const [pieceSize, mostPieces] = [1 << 20, 2];

/**
 * Peaks of the first frames, one after the other in large pieces (an array for each frame would take twice as much); those of later ones, in a long take, are looked
 * for once more when they are asked for.
 */
const keptPeaks = (signal: Float32Array): KeptPeaks => {
  const pieces: Float32Array[] = [];
  const places: number[] = [];
  const lengths: number[] = [];
  const norms: number[] = [];
  let [used, full] = [pieceSize, false];
  return {
    push: (peaks, norm) => {
      if (used + peaks.length > pieceSize) {
        full ||= pieces.length >= mostPieces;
        if (!full) pieces.push(new Float32Array(pieceSize));
        used = 0;
      }
      if (full) return;
      pieces.at(-1)?.set(peaks, used);
      places.push((pieces.length - 1) * pieceSize + used);
      lengths.push(peaks.length);
      norms.push(norm);
      used += peaks.length;
    },
    forEach: (each) => {
      places.forEach((place, t) => {
        const from = place % pieceSize;
        const own = pieces[Math.floor(place / pieceSize)]?.subarray(from, from + (lengths[t] ?? 0));
        each(own ?? new Float32Array(0), norms[t] ?? 0, t);
      });
      if (!full) return;
      let t = places.length;
      for (const { peaks, norm } of peaksFrom(signal, t)) {
        each(peaks, norm, t);
        t += 1;
      }
    },
  };
};

/**
 * The coarse view of a take for the notes that are expected in it. `before`: a view of the same notes in as long a take, which knows its tuning; it is written over, as
 * an hour's is not to be held twice.
 */
export const coarseView = (
  signal: Float32Array,
  notes: readonly ExpectedNote[],
  before: Coarse | null = null,
): Coarse => {
  const pitches = [...new Set(notes.flatMap(({ midi }) => (midi === null ? [] : [midi])))].sort(
    (a, b) => a - b,
  );
  const count = frameCount(signal.length);
  const likeness = before?.likeness ?? new Float32Array(count * pitches.length);
  const compare = (t: number, peaks: Peaks, norm: number, hertz: readonly number[]): void => {
    hertz.forEach((f, p) => {
      likeness[t * pitches.length + p] = likenessOf(peaks, norm, f);
    });
  };
  const hertzAt = (tuning: number): readonly number[] => pitches.map((midi) => hertzOf(midi + tuning / 100));
  // Where the tuning is known, no peaks need be kept until it is.
  const known = before === null ? null : hertzAt(before.tuning);
  const kept = keptPeaks(signal);
  const level = before?.level ?? new Float32Array(count);
  const flux = before?.flux ?? new Float32Array(count);
  let t = 0;
  for (const frame of frames(signal)) {
    if (known === null) kept.push(frame.peaks, frame.norm);
    else compare(t, frame.peaks, frame.norm, known);
    level[t] = 10 * Math.log10(frame.power + 1e-12);
    flux[t] = frame.flux;
    t += 1;
  }
  const loud = percentile(level, 0.95);
  for (let i = 0; i < count; i += 1) level[i] = (level[i] ?? 0) - loud;
  const sudden = Math.max(1e-3, percentile(flux, 0.95));
  for (let i = 0; i < count; i += 1) flux[i] = Math.min(2, (flux[i] ?? 0) / sudden);
  if (before !== null) return before;
  const histogram = pitchHistogram();
  kept.forEach((peaks, norm, i) => {
    if ((level[i] ?? 0) > -30) histogram.add(peaks, norm);
  });
  const [tuning] = histogram.best(notes);
  const hertz = hertzAt(tuning);
  kept.forEach((peaks, norm, i) => compare(i, peaks, norm, hertz));
  return { frames: count, pitches, likeness, level, flux, tuning };
};
