import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { LongFirst } from './test/support/longFirst.ts';

const soak = process.env['LEVARE_SOAK'] === '1';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: soak ? [] : ['test/soak/**'],
    // Modules hold no state of their own: they are read once for many files.
    isolate: false,
    globalSetup: ['test/support/once.ts'],
    sequence: { sequencer: LongFirst },
    // A browser takes a core: with more at once than there are cores each test takes longer, and all of them no less.
    maxWorkers: availableParallelism(),
    // Only a hang should meet it, on a busy machine too. Milliseconds.
    testTimeout: soak ? 3_600_000 : 180_000,
    hookTimeout: 180_000,
  },
});
