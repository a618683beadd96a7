/**
 * What a click became on its way (loudspeaker or headphones, room, microphone): one filter, by least squares over stretches of the
 * recording with a click in each, frequency by frequency.
 */
import { fft } from './fft.ts';

/** Samples of a stretch: 186 ms, with 29 ms before the click. */
export const size = 4096;
export const lead = 640;
/** Samples before the click that the filter reaches: 6 ms. */
const early = 128;
/** Samples of the filter: 70 ms of room. */
const longest = 1536;
/** Frequencies of a real signal's spectrum, from 0 to half the rate. */
export const bins = size / 2 + 1;
/** A third of an octave, on each side half of it: over so much what is between click and microphone is taken to be alike. Our choice. */
const alike = 2 ** (1 / 6);

export interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A stretch of the recording, and the click as it was sent out into it. */
export interface Stretch {
  readonly sent: Spectrum;
  readonly heard: Spectrum;
}

export interface ClickFilter {
  readonly filter: Spectrum;
  /** Mean square of what the filter may be off, by frequency, before it was cut to the length of a room. */
  readonly off: Float64Array;
}

/** How much of the filter counts at a sample, 0 to 1; those before the click stand at its end. */
export const keptOf = (n: number): number =>
  n >= size - early ? 1 : Math.max(0, Math.min(1, 2 - (2 * n) / longest));

/**
 * How much each sample of a stretch counts where a click is so many samples long: all from where the filter begins to where click and room are over, less and
 * less towards both ends. Cut off hard, each partial of the music would lie over all frequencies (Harris 1978, Proc. IEEE 66:51), and what
 * does so at every click is taken for click: with notes that all begin beside one, their attacks.
 */
export const stretchWindow = (click: number): Float64Array => {
  const [up, down] = [lead - early, size - Math.min(size - early, lead + click + longest)];
  return Float64Array.from({ length: size }, (_, n) => {
    const part = Math.min(1, (n + 0.5) / up, (size - n - 0.5) / down);
    return 0.5 - 0.5 * Math.cos(Math.PI * part);
  });
};

const { run } = fft(size);

/** Of real samples, from the first on; what lies beyond `size` is left out. */
export const spectrumOf = (samples: Float32Array): Spectrum => {
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  re.set(samples.subarray(0, size));
  run(re, im);
  return { re: re.subarray(0, bins), im: im.subarray(0, bins) };
};

/** Real samples of a spectrum. */
export const samplesOf = ({ re, im }: Spectrum): Float64Array => {
  const [wholeRe, wholeIm] = [new Float64Array(size), new Float64Array(size)];
  wholeRe.set(re);
  wholeIm.set(im);
  for (let k = 1; k < size / 2; k += 1) {
    wholeRe[size - k] = re[k] ?? 0;
    wholeIm[size - k] = -(im[k] ?? 0);
  }
  run(wholeRe, wholeIm, true);
  return wholeRe.map((value) => value / size);
};

/** A sound's spectrum when it begins `at` samples (a fraction) into the stretch. */
export const shifted = ({ re, im }: Spectrum, at: number): Spectrum => {
  const [outRe, outIm] = [new Float64Array(bins), new Float64Array(bins)];
  const angle = (-2 * Math.PI * at) / size;
  const [stepC, stepS] = [Math.cos(angle), Math.sin(angle)];
  // From one frequency to the next the turn grows by the same angle.
  let [c, s] = [1, 0];
  for (let k = 0; k < bins; k += 1) {
    outRe[k] = (re[k] ?? 0) * c - (im[k] ?? 0) * s;
    outIm[k] = (re[k] ?? 0) * s + (im[k] ?? 0) * c;
    [c, s] = [c * stepC - s * stepS, c * stepS + s * stepC];
  }
  return { re: outRe, im: outIm };
};

/** A sound's spectrum behind a filter. */
export const filtered = (sound: Spectrum, filter: Spectrum): Spectrum => {
  const [re, im] = [new Float64Array(bins), new Float64Array(bins)];
  for (let k = 0; k < bins; k += 1) {
    const [a, b, c, d] = [sound.re[k] ?? 0, sound.im[k] ?? 0, filter.re[k] ?? 0, filter.im[k] ?? 0];
    re[k] = a * c - b * d;
    im[k] = a * d + b * c;
  }
  return { re, im };
};

/** What a filter leaves of a stretch. */
export const leftOf = ({ sent, heard }: Stretch, filter: Spectrum): Spectrum => {
  const { re, im } = filtered(sent, filter);
  for (let k = 0; k < bins; k += 1) {
    re[k] = (heard.re[k] ?? 0) - (re[k] ?? 0);
    im[k] = (heard.im[k] ?? 0) - (im[k] ?? 0);
  }
  return { re, im };
};

/** Frequencies on each side over which the power of music and noise is taken: 54 Hz. Our choice. */
const around = 10;
/** As good as silence: 24 bits. */
const silence = 1e-12;

/** The power around each frequency of what is left of a stretch. */
export const powerAround = ({ re, im }: Spectrum): Float64Array => {
  const sums = new Float64Array(bins + 1);
  for (let k = 0; k < bins; k += 1) sums[k + 1] = (sums[k] ?? 0) + (re[k] ?? 0) ** 2 + (im[k] ?? 0) ** 2;
  const out = new Float64Array(bins);
  for (let k = 0; k < bins; k += 1) {
    const from = Math.max(0, k - around);
    const to = Math.min(bins, k + around + 1);
    out[k] = ((sums[to] ?? 0) - (sums[from] ?? 0)) / (to - from) + silence;
  }
  return out;
};

/** No filter: nothing is known of the click yet. */
export const nothing: Spectrum = { re: new Float64Array(bins), im: new Float64Array(bins) };

/** For each frequency the mean of `values` over a third of an octave, each counting by its weight; 0 where none does. */
const smoothed = (values: Float64Array, weights: Float64Array): Float64Array => {
  const [sums, counts] = [new Float64Array(bins + 1), new Float64Array(bins + 1)];
  for (let k = 0; k < bins; k += 1) {
    sums[k + 1] = (sums[k] ?? 0) + (values[k] ?? 0) * (weights[k] ?? 0);
    counts[k + 1] = (counts[k] ?? 0) + (weights[k] ?? 0);
  }
  return Float64Array.from({ length: bins }, (_, k) => {
    const from = Math.max(0, Math.min(k - 2, Math.floor(k / alike)));
    const to = Math.min(bins, 1 + Math.max(k + 2, Math.ceil(k * alike)));
    const count = (counts[to] ?? 0) - (counts[from] ?? 0);
    return count > 0 ? ((sums[to] ?? 0) - (sums[from] ?? 0)) / count : 0;
  });
};

/**
 * The filter, by weighted least squares: at each frequency a stretch counts by the power that an earlier filter leaves of it there, which is that of
 * music and noise. How far it is off is told from what is left, without taking these powers for true (White 1980, Econometrica 48:817),
 * and more so where few stretches count (effective number, Kish 1965, Survey Sampling). Of each frequency so much is kept as makes the error least (Wiener
 * 1949), with the filter's size taken over a third of an octave: where there is more music than click, nothing is taken along.
 */
export const clickFilter = (stretches: Iterable<Stretch>, earlier: Spectrum): ClickFilter => {
  const sums = () => new Float64Array(bins);
  const [crossRe, crossIm, own, ownSquares] = [sums(), sums(), sums(), sums()];
  // For the squares of what is left, each by the square of its weight: |y - f x|² x² = y² x² - 2 Re(f* x* y) x² + f² x⁴.
  const [squares, mixedRe, mixedIm] = [sums(), sums(), sums()];
  for (const stretch of stretches) {
    const { sent, heard } = stretch;
    const music = powerAround(leftOf(stretch, earlier));
    for (let k = 0; k < bins; k += 1) {
      const [a, b, c, d] = [sent.re[k] ?? 0, sent.im[k] ?? 0, heard.re[k] ?? 0, heard.im[k] ?? 0];
      const weight = 1 / (music[k] ?? 1);
      const power = weight * (a * a + b * b);
      const [re, im] = [weight * (c * a + d * b), weight * (d * a - c * b)];
      crossRe[k] = (crossRe[k] ?? 0) + re;
      crossIm[k] = (crossIm[k] ?? 0) + im;
      own[k] = (own[k] ?? 0) + power;
      ownSquares[k] = (ownSquares[k] ?? 0) + power * power;
      squares[k] = (squares[k] ?? 0) + weight * power * (c * c + d * d);
      mixedRe[k] = (mixedRe[k] ?? 0) + power * re;
      mixedIm[k] = (mixedIm[k] ?? 0) + power * im;
    }
  }
  const [re, im, size2, off, sureness] = [sums(), sums(), sums(), sums(), sums()];
  for (let k = 0; k < bins; k += 1) {
    const power = Math.max(1e-30, own[k] ?? 0);
    const [a, b] = [(crossRe[k] ?? 0) / power, (crossIm[k] ?? 0) / power];
    const fourth = ownSquares[k] ?? 0;
    const left =
      (squares[k] ?? 0) - 2 * (a * (mixedRe[k] ?? 0) + b * (mixedIm[k] ?? 0)) + (a * a + b * b) * fourth;
    const free = Math.max(1e-3, 1 - fourth / power ** 2);
    const variance = Math.max(1e-9 * (a * a + b * b), left / power ** 2) / free + 1e-30;
    [re[k], im[k], size2[k], off[k], sureness[k]] = [a, b, a * a + b * b - variance, variance, 1 / variance];
  }
  const usual = smoothed(size2, sureness);
  for (let k = 0; k < bins; k += 1) {
    const [there, variance] = [Math.max(0, usual[k] ?? 0), off[k] ?? 0];
    const kept = there / (there + variance);
    re[k] = kept * (re[k] ?? 0);
    im[k] = kept * (im[k] ?? 0);
    off[k] = kept * variance;
  }
  const response = samplesOf({ re, im }).map((value, n) => value * keptOf(n));
  return { filter: spectrumOf(Float32Array.from(response)), off };
};
