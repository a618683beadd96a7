import { describe, expect, it } from 'vitest';
import { loudness, surround, weighting } from '../../src/sound/loudness.ts';

const rate = 48_000;

/** Sine of so many seconds at each peak level in dBFS, one after the other. */
const sine = (pieces: readonly (readonly [number, number])[], frequency = 1000, at = rate): Float64Array => {
  const total = pieces.reduce((sum, [seconds]) => sum + Math.round(seconds * at), 0);
  const sound = new Float64Array(total);
  let n = 0;
  for (const [seconds, level] of pieces) {
    const peak = 10 ** (level / 20);
    for (const end = n + Math.round(seconds * at); n < end; n += 1)
      sound[n] = peak * Math.sin((2 * Math.PI * frequency * n) / at);
  }
  return sound;
};
const stereo = (pieces: readonly (readonly [number, number])[]) => {
  const sound = sine(pieces);
  return loudness([sound, sound], rate);
};
const repeated = <T>(count: number, items: readonly T[]): readonly T[] =>
  Array.from({ length: count }, () => items).flat();

describe('loudness', () => {
  // ITU-R BS.1770-4, tables 1 and 2.
  it('has the printed filter coefficients at 48 kHz', () => {
    const [shelf, pass] = weighting(48_000);
    const printed = [
      [1.53512485958697, -2.69169618940638, 1.19839281085285],
      [-1.69065929318241, 0.73248077421585],
      [1, -2, 1],
      [-1.99004745483398, 0.99007225036621],
    ];
    const ours = [shelf.b, shelf.a, pass.b, pass.a];
    printed.forEach((row, i) => row.forEach((value, j) => expect(ours[i]?.[j]).toBeCloseTo(value, 6)));
  });

  // EBU Tech 3341, minimum requirements test signals 1 to 5 and 9, 12 (levels as in the check values), +-0.1 LU.
  it.each([-23, -33])('reads M = S = I = %d LUFS of a steady tone', (level) => {
    const found = stereo([[20, level]]);
    for (const value of [found.integrated, found.momentary, found.shortTerm])
      expect(Math.abs(value - level)).toBeLessThanOrEqual(0.1);
  });
  const core: readonly (readonly [number, number])[] = [
    [10, -36],
    [60, -23],
    [10, -36],
  ];
  it.each([
    { name: 'softer before and after', pieces: core },
    { name: 'near silence before and after that', pieces: [[10, -72] as const, ...core, [10, -72] as const] },
    { name: 'a louder middle', pieces: [[20, -26] as const, [20.1, -20] as const, [20, -26] as const] },
  ])('gates: $name gives -23.0', ({ pieces }) => {
    expect(Math.abs(stereo(pieces).integrated + 23)).toBeLessThanOrEqual(0.1);
  });
  it('reads S and M of pulsed tones', () => {
    const slow = stereo(repeated(5, [[1.34, -20] as const, [1.66, -30] as const]));
    expect(Math.abs(slow.shortTerm + 23)).toBeLessThanOrEqual(0.1);
    const quick = stereo(repeated(25, [[0.18, -20] as const, [0.22, -30] as const]));
    expect(Math.abs(quick.momentary + 23)).toBeLessThanOrEqual(0.1);
  });
  // EBU Tech 3341, minimum requirements test signal 6 (levels from memory), +-0.1 LU.
  it('weighs the channels of a surround sound: -23.0', () => {
    const channels = [-28, -28, -24, -30, -30].map((level) => sine([[20, level]]));
    const { integrated } = loudness(channels, rate, [1, 1, 1, surround, surround]);
    expect(Math.abs(integrated + 23)).toBeLessThanOrEqual(0.1);
  });
  // BS.1770-4, end of annex 1; 22,050 Hz is the rate at which the ear weighs the notes that it hears.
  it.each([48_000, 44_100, 96_000, 22_050])('reads -3.01 of a full tone in one channel at %d Hz', (at) => {
    const tone = sine([[5, 0]], 997, at);
    expect(Math.abs(loudness([tone, new Float64Array(tone.length)], at).integrated + 3.01)).toBeLessThan(
      0.05,
    );
  });
  // EBU Tech 3342, minimum requirements test signals 1 to 4, +-1 LU.
  it.each([
    { levels: [-20, -30], range: 10 },
    { levels: [-20, -15], range: 5 },
    { levels: [-40, -20], range: 20 },
    { levels: [-50, -35, -20, -35, -50], range: 15 },
  ])('reads a range of $range LU', ({ levels, range }) => {
    expect(Math.abs(stereo(levels.map((level) => [20, level] as const)).range - range)).toBeLessThanOrEqual(
      1,
    );
  });
  it('reads silence as nothing', () => {
    expect(loudness([new Float64Array(rate * 4)], rate)).toEqual({
      integrated: -Infinity,
      momentary: -Infinity,
      shortTerm: -Infinity,
      range: 0,
    });
  });
});
