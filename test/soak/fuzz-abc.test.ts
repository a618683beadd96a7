import { expect, test } from 'vitest';
import { fuzzAbc } from '../score/abc-fuzz.ts';

test('20,000 mutations of ABC files: a score that holds together, or an error', () => {
  const { read, refused } = fuzzAbc(11, 20_000);
  expect(read + refused).toBe(20_000);
  // Lines of text are read as far as they go, so few are refused.
  expect(read).toBeGreaterThan(15_000);
});
