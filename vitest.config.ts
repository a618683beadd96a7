import { defineConfig } from 'vitest/config';

const soak = process.env['LEVARE_SOAK'] === '1';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: soak ? [] : ['test/soak/**'],
    testTimeout: soak ? 3_600_000 : 60_000,
  },
});
