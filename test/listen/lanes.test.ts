/**
 * What is worked out sooner comes to the same, to the last bit: vector instructions against TypeScript, and likenesses that are kept against those
 * worked out anew. Both add up in one order, and IEEE 754 (double precision) leaves no choice in the rest.
 */
import { describe, expect, it } from 'vitest';
import { fft } from '../../src/listen/fft.ts';
import { lanes } from '../../src/listen/lanes/lanes.ts';
import { convolved } from '../../src/listen/mix/net.ts';
import { likenesses } from '../../src/listen/pathLikeness.ts';
import { gaussian, shifted, smoothed } from '../../src/listen/shifted.ts';
import { seeded } from '../../src/units/index.ts';

const numbers = (count: number, seed: number): Float64Array => {
  const random = seeded(seed);
  return Float64Array.from({ length: count }, () => random() - 0.5);
};

describe('sums by vector instructions', () => {
  it('can be had here', () => {
    expect(lanes()).not.toBeNull();
  });

  it.each([
    { outputs: 4, inputs: 1, moments: 1, dilation: 1, width: 1 },
    { outputs: 8, inputs: 3, moments: 3, dilation: 2, width: 7 },
    { outputs: 48, inputs: 49, moments: 5, dilation: 8, width: 91 },
    // Not by fours: in TypeScript either way.
    { outputs: 2, inputs: 5, moments: 1, dilation: 1, width: 10 },
  ])('are those of the convolution in TypeScript: %o', ({ outputs, inputs, moments, dilation, width }) => {
    const layer = {
      weights: numbers(outputs * inputs * moments, 1),
      biases: numbers(outputs, 2),
      dilation,
    };
    const rows = numbers(inputs * width, 3);
    expect(convolved(layer, rows, width)).toStrictEqual(convolved(layer, rows, width, null));
  });

  it('are a sum worked by hand', () => {
    // Two inputs of three frames, weights 2 and -1 for the first output: 2 x 1 - 4 = -2, 2 x 2 - 5 = -1, 2 x 3 - 6 = 0, and 10 to each.
    const layer = {
      weights: Float64Array.of(2, -1, 0, 0, 0, 1, 1, 0),
      biases: Float64Array.of(10, 0, 0, 0),
      dilation: 1,
    };
    const found = convolved(layer, [1, 2, 3, 4, 5, 6], 3);
    expect([...found]).toEqual([8, 9, 10, 0, 0, 0, 4, 5, 6, 1, 2, 3]);
  });

  it('are those of a partial in TypeScript, within the signal and beyond its ends', () => {
    const signal = Float32Array.from(numbers(6000, 4));
    const [first, later] = [gaussian(44), gaussian(7)];
    for (const from of [-900, 0, 1500, 5500, 5999]) {
      const waves = [lanes(), null].map((by) => {
        const values = shifted(signal, 523.25, from, 143, 22, first, by);
        return { values, wave: smoothed(values, 30, 21, later, by) };
      });
      expect(waves[0]).toStrictEqual(waves[1]);
    }
  });

  it.each([4, 8, 512, 4096])(
    'are those of a Fourier transform of %d values in TypeScript, both ways',
    (size) => {
      const found = [lanes(), null].map((by) => {
        const [re, im] = [numbers(size, 7), numbers(size, 8)];
        const { run } = fft(size, by);
        run(re, im);
        const there = { re: re.slice(), im: im.slice() };
        run(re, im, true);
        return { there, back: { re, im } };
      });
      expect(found[0]).toStrictEqual(found[1]);
      // There and back is `size` times what it was.
      const [was, is] = [numbers(size, 7), found[0]?.back.re ?? new Float64Array(0)];
      const off = was.reduce((most, value, i) => Math.max(most, Math.abs((is[i] ?? NaN) / size - value)), 0);
      expect(off).toBeLessThan(1e-12);
    },
  );

  it('need not be had: long after short and short after long come to the same', () => {
    const signal = Float32Array.from(numbers(200_000, 5));
    const first = gaussian(22);
    for (const length of [5, 15_000, 6])
      expect(shifted(signal, 440, 100, length, 11, first)).toStrictEqual(
        shifted(signal, 440, 100, length, 11, first, null),
      );
  });
});

describe('likenesses of events', () => {
  const frames = 9;
  const pitches = [60, 64, 67];
  const likeness = Float32Array.from(numbers(frames * pitches.length, 6), (x) => x + 0.5);
  const lists = [[0], [0, 2], [], [0, 2], [1]];
  const like = likenesses({ frames, pitches, likeness }, lists);

  it('have one number for the same pitches', () => {
    expect([...like.kinds]).toEqual([0, 1, 2, 1, 3]);
  });

  it('are the root of the sum of squares, 1 at most, in any order of asking', () => {
    const wanted = (frame: number, columns: readonly number[]): number => {
      const t = Math.max(0, Math.min(frames - 1, frame));
      const own = columns.map((column) => likeness[t * pitches.length + column] ?? NaN);
      const [only] = own;
      if (only === undefined) return 0.45;
      return own.length === 1 ? only : Math.min(1, Math.hypot(...own));
    };
    for (const frame of [0, 3, 1, 5, -2, 4, 8, 12, 2, 6, 7, 3])
      lists.forEach((columns, i) => {
        expect(like.at(frame, like.kinds[i] ?? -1)).toBeCloseTo(wanted(frame, columns), 12);
      });
  });
});
