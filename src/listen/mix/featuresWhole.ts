/** The whole sound of a mixture through time: level, level of what is high, and suddenness of the spectrum. */
import { fft } from '../fft.ts';
import { listeningRate } from '../model.ts';
import { frameHop } from './featuresPartial.ts';

export interface WholeSound {
  /** Frames `frameHop` samples apart, the first centred on sample 0. */
  readonly frames: number;
  /** dB below full scale, of what lies above 100 Hz and of what lies above 3 kHz. */
  readonly level: Float32Array;
  readonly high: Float32Array;
  /** Rise of the log spectrum over 16 ms, mean over its bins, in units of four times the recording's mean. */
  readonly flux: Float32Array;
}

const window = 512;
/** Frames over which a rise is taken. */
const lag = 4;
/** Half a window of the level in samples: 8 ms in all. */
const half = 88;

/** A one-pole high-pass at `hertz`, twice. */
const highPassed = (signal: Float32Array, hertz: number): Float32Array => {
  const keep = Math.exp((-2 * Math.PI * hertz) / listeningRate);
  const out = new Float32Array(signal.length);
  let [x1, y1, z1] = [0, 0, 0];
  for (let i = 0; i < signal.length; i += 1) {
    const x = signal[i] ?? 0;
    const y = keep * (y1 + x - x1);
    const z = keep * (z1 + y - y1);
    [x1, y1, z1] = [x, y, z];
    out[i] = z;
  }
  return out;
};

const levelOf = (signal: Float32Array, frames: number): Float32Array => {
  const sums = new Float64Array(signal.length + 1);
  for (let i = 0; i < signal.length; i += 1) sums[i + 1] = (sums[i] ?? 0) + (signal[i] ?? 0) ** 2;
  return Float32Array.from({ length: frames }, (_, f) => {
    const from = Math.max(0, f * frameHop - half);
    const to = Math.min(signal.length, f * frameHop + half);
    const sum = Math.max(0, (sums[to] ?? 0) - (sums[from] ?? 0));
    return 10 * Math.log10(sum / (2 * half) + 1e-12);
  });
};

const fluxOf = (signal: Float32Array, frames: number): Float32Array => {
  const { run } = fft(window);
  const bins = window / 2;
  const hann = Float64Array.from(
    { length: window },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / window),
  );
  const [re, im] = [new Float64Array(window), new Float64Array(window)];
  const kept = Array.from({ length: lag + 1 }, () => new Float32Array(bins).fill(-7));
  const out = new Float32Array(frames);
  // Two frames in one transform: the second as the imaginary part.
  for (let f = 0; f < frames; f += 2) {
    const start = f * frameHop - window / 2;
    for (let i = 0; i < window; i += 1) {
      re[i] = (signal[start + i] ?? 0) * (hann[i] ?? 0);
      im[i] = (signal[start + frameHop + i] ?? 0) * (hann[i] ?? 0);
    }
    run(re, im);
    for (let second = 0; second < 2 && f + second < frames; second += 1) {
      const now = kept[(f + second) % (lag + 1)] ?? new Float32Array(bins);
      for (let k = 1; k < bins; k += 1) {
        const [a, b] = [re[k] ?? 0, im[k] ?? 0];
        const [c, d] = [re[window - k] ?? 0, im[window - k] ?? 0];
        const [x, y] = second === 0 ? [a + c, b - d] : [b + d, c - a];
        // 1e-3 of full scale is as good as silence.
        now[k] = Math.log(0.5 * Math.sqrt(x * x + y * y) + 1e-3 * (window / 4));
      }
      const before = kept[(f + second + 1) % (lag + 1)] ?? now;
      let sum = 0;
      for (let k = 1; k < bins; k += 1) sum += Math.max(0, (now[k] ?? 0) - (before[k] ?? 0));
      // The rise from 16 ms before belongs to the middle between the two.
      out[Math.max(0, f + second - lag / 2)] = sum / bins;
    }
  }
  const mean = out.reduce((a, b) => a + b, 0) / Math.max(1, frames);
  return out.map((value) => Math.min(2, value / (4 * mean + 1e-6)));
};

/** Looks at a whole recording at the listening rate. */
export const wholeSound = (signal: Float32Array): WholeSound => {
  const frames = Math.max(1, Math.ceil(signal.length / frameHop));
  // Quiet recordings and loud ones are alike: brought to one level first.
  const power = signal.reduce((sum, x) => sum + x * x, 0) / Math.max(1, signal.length);
  const gain = 0.1 / Math.sqrt(power + 1e-12);
  const usual = signal.map((x) => x * gain);
  return {
    frames,
    level: levelOf(highPassed(usual, 100), frames),
    high: levelOf(highPassed(usual, 3000), frames),
    flux: fluxOf(usual, frames),
  };
};
