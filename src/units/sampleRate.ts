import { problem, type Problem } from './problem.ts';

/** Sample rates that are taken, in Hz, both ends included. */
const sampleRates = { lowest: 8_000, highest: 192_000 } as const;

/** What is wrong with a sample rate in Hz, or null: `sample-rate` for what is no whole number in that range. */
export const checkSampleRate = (rate: number): Problem | null => {
  const { lowest, highest } = sampleRates;
  return Number.isInteger(rate) && rate >= lowest && rate <= highest
    ? null
    : problem(
        'error',
        'sample-rate',
        `A sample rate of ${rate} Hz cannot be used. Take a whole number from ${lowest} to ${highest}; 48000 is usual.`,
      );
};
