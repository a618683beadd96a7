import { expect, it } from 'vitest';
import { fuzzDrills } from './fuzz.ts';

// Definition: whatever is asked of whatever score, a drill that holds together or a plain refusal.
it('makes of 400 broken scores a drill that holds together, or says why not', () => {
  const { made, refused } = fuzzDrills(3, 400);
  // Both ways out are tried, also where only the project's own small score is there to be broken (32 made, measured).
  expect(made).toBeGreaterThan(20);
  expect(refused).toBeGreaterThan(20);
});
