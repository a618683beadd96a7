import { expect, it } from 'vitest';
import { fuzzDrills } from './fuzz.ts';

// Definition: whatever is asked of whatever score, a drill that holds together or a plain refusal.
it('makes of 400 broken scores a drill that holds together, or says why not', () => {
  const { made, refused } = fuzzDrills(3, 400);
  expect(made).toBeGreaterThan(50);
  expect(refused).toBeGreaterThan(20);
});
