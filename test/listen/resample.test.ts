/** The resampler against sines whose samples at any rate are known. */
import { describe, expect, it } from 'vitest';
import { resampled, resampler } from '../../src/listen/resample.ts';

const sine = (hertz: number, rate: number, count: number): Float32Array =>
  Float32Array.from({ length: count }, (_, n) => Math.sin((2 * Math.PI * hertz * n) / rate));

/** Level of what is not the sine that should be there, in dB against it, away from the ends. */
const impurity = (sound: Float32Array, hertz: number, rate: number): number => {
  let [noise, tone] = [0, 0];
  for (let n = 400; n < sound.length - 400; n += 1) {
    const right = Math.sin((2 * Math.PI * hertz * n) / rate);
    noise += ((sound[n] ?? 0) - right) ** 2;
    tone += right ** 2;
  }
  return 10 * Math.log10(noise / tone);
};

describe('resampling', () => {
  it.each([
    [44_100, 1000],
    [48_000, 1000],
    [48_000, 9000],
    [96_000, 5000],
    [8_000, 1000],
    [44_101, 3000],
  ])('from %d Hz keeps a sine of %d Hz on its very phase, pure to 75 dB', (rate, hertz) => {
    const out = resampled(sine(hertz, rate, rate), rate, 22_050);
    expect(out.length).toBe(22_050);
    expect(impurity(out, hertz, 22_050)).toBeLessThan(-75);
  });

  it('takes away what the lower rate cannot hold', () => {
    const out = resampled(sine(13_000, 48_000, 48_000), 48_000, 22_050);
    expect(Math.max(...out.subarray(400, 21_000).map(Math.abs))).toBeLessThan(3e-4);
  });

  it('gives the same whether the sound comes at once or in pieces', () => {
    const sound = sine(700, 48_000, 20_000);
    const whole = resampled(sound, 48_000, 22_050);
    const { push, end } = resampler(48_000, 22_050);
    const pieces: number[] = [];
    for (let at = 0; at < sound.length; at += 777) pieces.push(...push(sound.subarray(at, at + 777)));
    pieces.push(...end());
    expect(Float32Array.from(pieces)).toEqual(whole);
  });
});
