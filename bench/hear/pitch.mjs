/** The pitch that a source's note really has. */

/**
 * How far the steady tone lies from equal temperament at 440 Hz, by autocorrelation over 0.4 s (the real pitch goes into
 * the transposition); null where it is more than a semitone off, has no clear period, or its fundamental lies 30 dB
 * under its strongest partial (a model that overblows): such a note is not used, its neighbour is.
 */
export const pitchOf = (samples, rate, midi) => {
  const hertz = 440 * 2 ** ((midi - 69) / 12);
  const steady = samples.subarray(Math.round(0.8 * rate), Math.round(1.2 * rate));
  const likeness = (lag) => {
    let [both, one, two] = [0, 0, 0];
    for (let n = 0; n + lag < steady.length; n += 1) {
      both += steady[n] * steady[n + lag];
      one += steady[n] ** 2;
      two += steady[n + lag] ** 2;
    }
    return both / Math.sqrt(one * two);
  };
  // Several periods at once, so that high notes are measured finely too.
  const periods = Math.max(1, Math.round(0.02 * hertz));
  const reach = 2 ** (1 / 12);
  const close = (centre, width) => {
    let best = { lag: 0, value: -1 };
    for (let lag = Math.floor(centre / width); lag <= Math.ceil(centre * width); lag += 1) {
      const value = likeness(lag);
      if (value > best.value) best = { lag, value };
    }
    const [before, after] = [likeness(best.lag - 1), likeness(best.lag + 1)];
    const bend = before - 2 * best.value + after;
    return { lag: best.lag + (bend === 0 ? 0 : (before - after) / (2 * bend)), value: best.value };
  };
  const one = close(rate / hertz, reach);
  if (one.value < 0.8) return null;
  const many = close(periods * one.lag, 1 + 0.3 / Math.max(2, periods));
  const period = many.lag / periods;
  const cents = 1200 * Math.log2(rate / hertz / period);
  const partials = [1, 2, 3, 4, 5, 6].map((k) => strength(steady, k / period));
  if (Math.abs(cents) > 100 || partials[0] < Math.max(...partials) * 10 ** (-30 / 20)) return null;
  return { cents };
};

/** Amplitude at `frequency` (cycles a sample), Hann window. */
const strength = (samples, frequency) => {
  let [re, im] = [0, 0];
  for (let n = 0; n < samples.length; n += 1) {
    const w = (0.5 - 0.5 * Math.cos((2 * Math.PI * n) / samples.length)) * samples[n];
    re += w * Math.cos(2 * Math.PI * frequency * n);
    im += w * Math.sin(2 * Math.PI * frequency * n);
  }
  return Math.hypot(re, im);
};
