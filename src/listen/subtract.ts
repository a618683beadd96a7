/**
 * Takes the click out of a recording. What the click became on its way (loudspeaker or headphones, room, microphone) is
 * one filter, found by least squares over all clicks in the frequency domain; each frequency counts as far as the clicks
 * agree on it (magnitude-squared coherence, Carter 1987, Proc. IEEE 75:236), so that music is not taken along.
 */
import { fft } from './fft.ts';
import { listeningRate, toRecording, type ClickSound, type Clock, type ExpectedClick } from './model.ts';

/** Samples of a stretch: 186 ms, with 6 ms before the click. */
const size = 4096;
const lead = 128;
/** Samples of the filter: 70 ms of room. */
const longest = 1536;

interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** The click's spectrum when it begins `at` samples (a fraction) into the stretch. */
const shifted = ({ re, im }: Spectrum, at: number): Spectrum => {
  const [outRe, outIm] = [new Float64Array(size), new Float64Array(size)];
  for (let k = 0; k < size; k += 1) {
    const f = k <= size / 2 ? k : k - size;
    const angle = (-2 * Math.PI * f * at) / size;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    outRe[k] = (re[k] ?? 0) * c - (im[k] ?? 0) * s;
    outIm[k] = (re[k] ?? 0) * s + (im[k] ?? 0) * c;
  }
  return { re: outRe, im: outIm };
};

/**
 * The recording without the click, and by how much the stretches around the clicks became softer, in dB. The click is
 * taken out of the array that is handed in, as an hour is not to be held twice. `clicks`: by time. With fewer than four
 * nothing can be learnt and nothing is done.
 */
export const withoutClicks = (
  signal: Float32Array,
  clicks: readonly ExpectedClick[],
  sound: ClickSound,
  clock: Pick<Clock, 'offset' | 'ppm'>,
): { readonly signal: Float32Array; readonly softer: number } => {
  const { run } = fft(size);
  const spectrumOf = (samples: Float32Array): Spectrum => {
    const [re, im] = [new Float64Array(size), new Float64Array(size)];
    re.set(samples.subarray(0, size));
    run(re, im);
    return { re, im };
  };
  const shapes = { beat: spectrumOf(sound.beat), first: spectrumOf(sound.first) };
  const placed = clicks.flatMap(({ time, first }) => {
    const at = toRecording(clock, time) * listeningRate;
    const start = Math.floor(at) - lead;
    return start >= 0 && start + size <= signal.length
      ? [{ start, part: at - start - lead, shape: first ? shapes.first : shapes.beat }]
      : [];
  });
  if (placed.length < 4) return { signal, softer: 0 };
  const [crossRe, crossIm, own, heard] = [0, 1, 2, 3].map(() => new Float64Array(size));
  if (crossRe === undefined || crossIm === undefined || own === undefined || heard === undefined)
    return { signal, softer: 0 };
  for (const { start, part, shape } of placed) {
    const x = shifted(shape, lead + part);
    const y = spectrumOf(signal.subarray(start, start + size));
    for (let k = 0; k < size; k += 1) {
      const [a, b, c, d] = [x.re[k] ?? 0, x.im[k] ?? 0, y.re[k] ?? 0, y.im[k] ?? 0];
      crossRe[k] = (crossRe[k] ?? 0) + c * a + d * b;
      crossIm[k] = (crossIm[k] ?? 0) + d * a - c * b;
      own[k] = (own[k] ?? 0) + a * a + b * b;
      heard[k] = (heard[k] ?? 0) + c * c + d * d;
    }
  }
  const strongest = own.reduce((high, value) => Math.max(high, value), 0);
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  const chance = 1 / placed.length;
  for (let k = 0; k < size; k += 1) {
    const [cr, ci, o, h] = [crossRe[k] ?? 0, crossIm[k] ?? 0, own[k] ?? 0, heard[k] ?? 0];
    const coherence = (cr * cr + ci * ci) / Math.max(1e-30, o * h);
    const trust = Math.max(0, (coherence - 2 * chance) / Math.max(coherence, 1e-9));
    const below = o + 1e-6 * strongest;
    re[k] = (trust * cr) / below;
    im[k] = (trust * ci) / below;
  }
  run(re, im, true);
  const [filterRe, filterIm] = [new Float64Array(size), new Float64Array(size)];
  for (let n = 0; n < longest; n += 1)
    filterRe[n] = ((re[n] ?? 0) / size) * (n < longest / 2 ? 1 : 2 - (2 * n) / longest);
  for (let n = 1; n <= lead; n += 1) filterRe[size - n] = (re[size - n] ?? 0) / size;
  run(filterRe, filterIm);

  let [before, after] = [0, 0];
  // What the last stretch was before the click was taken out of it: the next one may overlap it.
  let last = { start: -size, heard: signal.slice(0, 0) };
  for (const { start, part, shape } of placed) {
    const x = shifted(shape, lead + part);
    const [yr, yi] = [new Float64Array(size), new Float64Array(size)];
    for (let k = 0; k < size; k += 1) {
      const [a, b, c, d] = [x.re[k] ?? 0, x.im[k] ?? 0, filterRe[k] ?? 0, filterIm[k] ?? 0];
      yr[k] = a * c - b * d;
      yi[k] = a * d + b * c;
    }
    run(yr, yi, true);
    const heard = signal.slice(start, start + size);
    heard.set(last.heard.subarray(Math.min(size, start - last.start)));
    last = { start, heard };
    for (let n = 0; n < size; n += 1) {
      const value = heard[n] ?? 0;
      signal[start + n] = (signal[start + n] ?? 0) - (yr[n] ?? 0) / size;
      before += value * value;
      const left = value - (yr[n] ?? 0) / size;
      after += left * left;
    }
  }
  return { signal, softer: 10 * Math.log10(Math.max(1e-12, before) / Math.max(1e-12, after)) };
};
