/** Breath and bow: one stretch of noise for all, the same each time. */
import { seeded } from '../../units/index.ts';

export const noiseLength = 16_384;

/** Values from -1 to 1, a little darker than white: each the mean of two neighbours. */
export const noiseTable: Float32Array = (() => {
  const random = seeded(1);
  let before = 0;
  return Float32Array.from({ length: noiseLength }, () => {
    const value = random() * 2 - 1;
    const dark = (value + before) / 2;
    before = value;
    return dark;
  });
})();
