/** The clock of a recording, and the click taken out of it, on click tracks with known offset and rate. */
import { describe, expect, it } from 'vitest';
import { clickSound } from '../../src/desk/hearTask.ts';
import { clickLikeness } from '../../src/listen/clickPeaks.ts';
import { clickScores, followClicks } from '../../src/listen/clock.ts';
import { listeningRate, type ClickSound, type Clock, type ExpectedClick } from '../../src/listen/model.ts';
import { withoutClicks } from '../../src/listen/subtract.ts';
import { seeded } from '../../src/units/index.ts';
import { addClicks } from './sounds.ts';

const sound = ((): ClickSound => {
  const made = clickSound(48_000, 'middle');
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
})();

/** A count-in in halves and quarters, then a click on every beat. */
const beats = (count: number): readonly ExpectedClick[] => [
  ...[0, 1.2, 2.4, 3, 3.6, 4.2].map((time, i) => ({ time, first: i === 0 || i === 2 })),
  ...Array.from({ length: count }, (_, i) => ({ time: 4.8 + 0.6 * i, first: i % 4 === 0 })),
];

/** Tones that change every half second under noise: what a player's microphone may hear beside the click. */
const music = (seconds: number, level: number, noise: number): Float32Array => {
  const random = seeded(7);
  let hertz = 440;
  return Float32Array.from({ length: Math.round(seconds * listeningRate) }, (_, n) => {
    if (n % 11_025 === 0) hertz = 440 * 2 ** (Math.floor(random() * 12) / 12);
    const t = n / listeningRate;
    let x = 0;
    for (let h = 1; h <= 6; h += 1) x += Math.sin(2 * Math.PI * h * hertz * t) / h;
    return level * 0.3 * x + noise * (random() - 0.5);
  });
};

const clockOf = (signal: Float32Array, clicks: readonly ExpectedClick[]): Clock | null => {
  const likeness = clickLikeness(signal, sound);
  const { least, scores } = clickScores(likeness, clicks);
  const best = scores.reduce((top, score, o) => (score > (scores[top] ?? 0) ? o : top), 0);
  return followClicks(likeness, clicks, least + (best * 44) / listeningRate);
};

describe('the clock', () => {
  // Aims of the project: within 2 ms and 5 ppm.
  it.each([
    { offset: 1.7, ppm: 0, gain: 0.5, count: 100, noise: 0.01 },
    { offset: 93.21, ppm: 80, gain: 0.1, count: 150, noise: 0.01 },
    { offset: 0.4, ppm: -100, gain: 0.05, count: 200, noise: 0.02 },
    { offset: 3.1, ppm: 35, gain: 0.2, count: 120, noise: 0.2 },
  ])('is found: $offset s, $ppm ppm, click at $gain', ({ offset, ppm, gain, count, noise }) => {
    const clicks = beats(count);
    const signal = music(offset + 6 + 0.6 * count, 0.3, noise);
    addClicks(signal, clicks, sound, { offset, ppm, gain });
    const clock = clockOf(signal, clicks);
    expect(clock).not.toBeNull();
    if (clock === null) return;
    const middle = 0.3 * count;
    expect(Math.abs(clock.offset + middle * clock.ppm * 1e-6 - offset - middle * ppm * 1e-6)).toBeLessThan(
      0.002,
    );
    expect(Math.abs(clock.ppm - ppm)).toBeLessThan(5);
    expect(Math.abs(clock.ppm - ppm)).toBeLessThan(4 * clock.ppmError);
    expect(Math.abs(clock.offset - offset)).toBeLessThan(4 * clock.offsetError);
  });

  it('is found from a count-in alone', () => {
    const clicks = beats(0);
    const signal = music(30, 0.3, 0.01);
    addClicks(signal, clicks, sound, { offset: 5.3, ppm: 0, gain: 0.2 });
    const clock = clockOf(signal, clicks);
    expect(Math.abs(clock?.ppm ?? 99)).toBeLessThan(5);
    expect(clock?.clicksHeard).toBeGreaterThanOrEqual(4);
    expect(Math.abs((clock?.offset ?? 0) - 5.3)).toBeLessThan(0.002);
  });
});

describe('taking the click out', () => {
  it('leaves the music: the click falls by 12 dB or more, and the music stays', () => {
    const clicks = beats(100);
    const without = music(70, 0.3, 0.01);
    const signal = without.slice();
    // At whole samples, so that the test's own rounding leaves nothing behind.
    const clock = { offset: 1.2, ppm: 0 };
    // The click by way of a small loudspeaker: softened, and an echo 3 ms later.
    const echo = (shape: Float32Array): Float32Array =>
      Float32Array.from(
        { length: shape.length + 66 },
        (_, n) => (shape[n] ?? 0) + 0.4 * (shape[n - 66] ?? 0),
      );
    addClicks(signal, clicks, { beat: echo(sound.beat), first: echo(sound.first) }, { ...clock, gain: 0.4 });
    const { signal: cleaned } = withoutClicks(signal.slice(), clicks, sound, clock);
    let [click, left] = [0, 0];
    signal.forEach((x, n) => {
      click += (x - (without[n] ?? 0)) ** 2;
      left += ((cleaned[n] ?? 0) - (without[n] ?? 0)) ** 2;
    });
    // 106 clicks under music that has about four times their energy in each stretch: least squares cannot leave less
    // than 4 / 106 of the click, 14 dB, but for what is known of the filter's length.
    expect(10 * Math.log10(click / left)).toBeGreaterThan(12);
  });
});
