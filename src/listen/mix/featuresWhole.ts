/** The whole sound of a mixture through time: level, level of what is high, and suddenness of the spectrum. */
import { fft } from '../fft.ts';
import { listeningRate } from '../model.ts';
import { samplesAt } from '../spectra.ts';
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

/** Power of a one-pole high-pass at `hertz`, twice, over each `frameHop` samples in turn. Nothing as long as the recording is kept. */
const powersOf = (signal: Float32Array, gain: number, frames: number, hertz: number): Float64Array => {
  const keep = Math.exp((-2 * Math.PI * hertz) / listeningRate);
  const out = new Float64Array(frames);
  let [x1, y1, z1] = [0, 0, 0];
  for (let block = 0; block < frames; block += 1) {
    let sum = 0;
    const end = Math.min(signal.length, (block + 1) * frameHop);
    for (let i = block * frameHop; i < end; i += 1) {
      const x = (signal[i] ?? 0) * gain;
      const y = keep * (y1 + x - x1);
      const z = keep * (z1 + y - y1);
      [x1, y1, z1] = [x, y, z];
      sum += z * z;
    }
    out[block] = sum;
  }
  return out;
};

/** dB of a frame: what lies within one hop (4 ms) on each side of its middle. */
const levelOf = (signal: Float32Array, gain: number, frames: number, hertz: number): Float32Array => {
  const powers = powersOf(signal, gain, frames, hertz);
  return Float32Array.from({ length: frames }, (_, f) => {
    const sum = (powers[f - 1] ?? 0) + (powers[f] ?? 0);
    return 10 * Math.log10(sum / (2 * frameHop) + 1e-12);
  });
};

const fluxOf = (signal: Float32Array, gain: number, frames: number): Float32Array => {
  const { run } = fft(window);
  const bins = window / 2;
  const hann = Float64Array.from(
    { length: window },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / window),
  );
  const [re, im] = [new Float64Array(window), new Float64Array(window)];
  const heard = new Float32Array(window + frameHop);
  const kept = Array.from({ length: lag + 1 }, () => new Float32Array(bins).fill(-7));
  const out = new Float32Array(frames);
  // Two frames in one transform: the second as the imaginary part.
  for (let f = 0; f < frames; f += 2) {
    samplesAt(signal, f * frameHop - window / 2, heard);
    for (let i = 0; i < window; i += 1) {
      re[i] = gain * (heard[i] ?? 0) * (hann[i] ?? 0);
      im[i] = gain * (heard[frameHop + i] ?? 0) * (hann[i] ?? 0);
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
  return {
    frames,
    level: levelOf(signal, gain, frames, 100),
    high: levelOf(signal, gain, frames, 3000),
    flux: fluxOf(signal, gain, frames),
  };
};
