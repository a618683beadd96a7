import { defineConfig } from 'vitest/config';

const soak = process.env['LEVARE_SOAK'] === '1';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: soak ? [] : ['test/soak/**'],
    // Only a hang should meet it, on a busy machine too. Milliseconds.
    testTimeout: soak ? 3_600_000 : 180_000,
  },
});
