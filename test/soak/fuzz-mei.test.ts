import { expect, test } from 'vitest';
import { fuzzMei } from '../score/mei-fuzz.ts';

test('20,000 mutations of MEI files: a score that holds together, or an error', () => {
  const { read, refused } = fuzzMei(9, 20_000);
  expect(read + refused).toBe(20_000);
  // Both ways out are taken often, so the mutations are neither harmless nor all fatal.
  expect(read).toBeGreaterThan(4000);
  expect(refused).toBeGreaterThan(1000);
});
