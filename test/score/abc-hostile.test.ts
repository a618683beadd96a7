import { expect, test } from 'vitest';
import { fuzzAbc } from './abc-fuzz.ts';

test('a thousand mutations of ABC files: a score that holds together, or an error', () => {
  const { read, refused } = fuzzAbc(3, 1000);
  expect(read + refused).toBe(1000);
  expect(read).toBeGreaterThan(700);
});
