/** The coarse view of a recording: spectral peaks, level and suddenness, 43 frames a second. */
import { fft } from './fft.ts';
import { listeningRate } from './model.ts';

/** Samples from frame to frame: 23 ms. */
export const coarseHop = 512;
/** Samples of the long window (93 ms: a semitone apart from about 180 Hz on) and of the short one (23 ms). */
const long = 2048;
const short = 512;
export const frameSeconds = coarseHop / listeningRate;
/** Hz: partials above tell little of pitch. */
const highest = 5000;
const lowest = 55;

/**
 * Spectral peaks, by frequency: in turn the frequency in Hz and the square root of the magnitude (so that strong partials
 * do not drown the others). Kept flat, as an hour has some millions.
 */
export type Peaks = Float32Array;

export interface Frame {
  readonly peaks: Peaks;
  /** Root of the sum of squared sizes. */
  readonly norm: number;
  /** Mean square. */
  readonly power: number;
  /** Half-wave rectified rise of the log spectrum since the frame before, mean over bins; 0 and up. */
  readonly flux: number;
}

const hann = (n: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / n));

/** Number of frames of so many samples; frame t is centred on sample t · coarseHop. */
export const frameCount = (samples: number): number => Math.ceil(samples / coarseHop);

/** Finds the peaks and writes them into `out`, of which it gives the part that was needed. */
const peaksOf = (magnitude: Float64Array, out: Float32Array): Peaks => {
  const from = Math.max(2, Math.ceil((lowest * long) / listeningRate));
  const to = Math.min(long / 2 - 2, Math.floor((highest * long) / listeningRate));
  let strongest = 0;
  for (let k = from; k <= to; k += 1) strongest = Math.max(strongest, magnitude[k] ?? 0);
  let length = 0;
  for (let k = from; k <= to; k += 1) {
    const a = magnitude[k - 1] ?? 0;
    const b = magnitude[k] ?? 0;
    const c = magnitude[k + 1] ?? 0;
    if (b < a || b <= c || b < 0.003 * strongest) continue;
    const [la, lb, lc] = [Math.log(a + 1e-12), Math.log(b + 1e-12), Math.log(c + 1e-12)];
    const bend = la - 2 * lb + lc;
    const shift = bend < 0 ? (0.5 * (la - lc)) / bend : 0;
    out[length] = ((k + shift) * listeningRate) / long;
    out[length + 1] = Math.sqrt(b);
    length += 2;
  }
  return out.subarray(0, length);
};

/** Fills `out` with the samples from one on; silence beyond the signal's ends. */
export const samplesAt = (signal: Float32Array, from: number, out: Float32Array): void => {
  out.fill(0);
  out.set(signal.subarray(Math.max(0, from), Math.max(0, from + out.length)), Math.max(0, -from));
};

/** What stands out of a frame's long spectrum: until the next frame is asked for. */
export type FramePeaks = Pick<Frame, 'peaks' | 'norm'>;

/** Looks at the samples of the long window, which are handed in. */
const longSpectrum = (): ((heard: Float32Array) => FramePeaks) => {
  const { run } = fft(long);
  const window = hann(long);
  const [re, im] = [new Float64Array(long), new Float64Array(long)];
  const magnitude = new Float64Array(long / 2);
  const found = new Float32Array(long);
  return (heard) => {
    for (let i = 0; i < long; i += 1) {
      re[i] = (heard[i] ?? 0) * (window[i] ?? 0);
      im[i] = 0;
    }
    run(re, im);
    for (let k = 0; k < long / 2; k += 1) {
      const a = re[k] ?? 0;
      const b = im[k] ?? 0;
      magnitude[k] = Math.sqrt(a * a + b * b);
    }
    const peaks = peaksOf(magnitude, found);
    let sum = 0;
    for (let i = 1; i < peaks.length; i += 2) sum += (peaks[i] ?? 0) ** 2;
    return { peaks, norm: Math.sqrt(sum) };
  };
};

/** Fills `heard` with the samples of the long window of frame `t`. */
const windowAt = (signal: Float32Array, t: number, heard: Float32Array): void =>
  samplesAt(signal, t * coarseHop - long / 2, heard);

/** What stands out of the frames from one on, as in `frames`. */
export function* peaksFrom(signal: Float32Array, first: number): Generator<FramePeaks> {
  const look = longSpectrum();
  const heard = new Float32Array(long);
  const count = frameCount(signal.length);
  for (let t = first; t < count; t += 1) {
    windowAt(signal, t, heard);
    yield look(heard);
  }
}

/** Frames of a signal at the listening rate, one after another, so that no more than one need be held; its peaks are overwritten by the next one's. */
export function* frames(signal: Float32Array): Generator<Frame> {
  const look = longSpectrum();
  const { run } = fft(short);
  const window = hann(short);
  const [re, im] = [new Float64Array(short), new Float64Array(short)];
  const heard = new Float32Array(long);
  let [now, before] = [new Float64Array(short / 2), new Float64Array(short / 2).fill(-12)];
  const count = frameCount(signal.length);
  for (let t = 0; t < count; t += 1) {
    windowAt(signal, t, heard);
    let power = 0;
    for (let i = 0; i < short; i += 1) {
      const x = heard[(long - short) / 2 + i] ?? 0;
      power += x * x;
      re[i] = x * (window[i] ?? 0);
      im[i] = 0;
    }
    run(re, im);
    let flux = 0;
    for (let k = 1; k < short / 2; k += 1) {
      // -60 dB below full scale is as good as silence for suddenness.
      const a = re[k] ?? 0;
      const b = im[k] ?? 0;
      now[k] = Math.log(Math.sqrt(a * a + b * b) + 1e-3 * (short / 4));
      flux += Math.max(0, (now[k] ?? 0) - (before[k] ?? 0));
    }
    [now, before] = [before, now];
    yield { ...look(heard), power: power / short, flux: flux / (short / 2) };
  }
}
