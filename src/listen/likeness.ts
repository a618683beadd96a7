/** How much each frame sounds like each expected pitch. */
import { frames, frameCount, type Peaks } from './spectra.ts';
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

/** Peaks of many frames, one after the other in large pieces: an array for each frame would take twice as much. */
const keptPeaks = (frames: number): KeptPeaks => {
  const size = 1 << 20;
  const pieces: Float32Array[] = [];
  const [places, lengths, norms] = [
    new Uint32Array(frames),
    new Uint16Array(frames),
    new Float64Array(frames),
  ];
  let [count, used] = [0, size];
  return {
    push: (peaks, norm) => {
      if (used + peaks.length > size) {
        pieces.push(new Float32Array(size));
        used = 0;
      }
      pieces.at(-1)?.set(peaks, used);
      places[count] = Math.max(0, pieces.length - 1) * size + used;
      lengths[count] = peaks.length;
      norms[count] = norm;
      used += peaks.length;
      count += 1;
    },
    forEach: (each) => {
      for (let t = 0; t < count; t += 1) {
        const place = places[t] ?? 0;
        const from = place % size;
        const own = pieces[Math.floor(place / size)]?.subarray(from, from + (lengths[t] ?? 0));
        each(own ?? new Float32Array(0), norms[t] ?? 0, t);
      }
    },
  };
};

/** The coarse view of a take for the notes that are expected in it; `cents`: its tuning where it is known. */
export const coarseView = (
  signal: Float32Array,
  notes: readonly ExpectedNote[],
  cents: number | null,
): Coarse => {
  const pitches = [...new Set(notes.flatMap(({ midi }) => (midi === null ? [] : [midi])))].sort(
    (a, b) => a - b,
  );
  const count = frameCount(signal.length);
  const likeness = new Float32Array(count * pitches.length);
  const compare = (t: number, peaks: Peaks, norm: number, hertz: readonly number[]): void => {
    hertz.forEach((f, p) => {
      likeness[t * pitches.length + p] = likenessOf(peaks, norm, f);
    });
  };
  const hertzAt = (tuning: number): readonly number[] => pitches.map((midi) => hertzOf(midi + tuning / 100));
  // Where the tuning is known, no peaks need be kept until it is.
  const known = cents === null ? null : hertzAt(cents);
  const kept = keptPeaks(count);
  const level = new Float32Array(count);
  const flux = new Float32Array(count);
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
  if (cents !== null) return { frames: count, pitches, likeness, level, flux, tuning: cents };
  const histogram = pitchHistogram();
  kept.forEach((peaks, norm, i) => {
    if ((level[i] ?? 0) > -30) histogram.add(peaks, norm);
  });
  const [tuning] = histogram.best(notes);
  const hertz = hertzAt(tuning);
  kept.forEach((peaks, norm, i) => compare(i, peaks, norm, hertz));
  return { frames: count, pitches, likeness, level, flux, tuning };
};
