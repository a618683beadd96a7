import { expect, it } from 'vitest';
import { fuzzDrills } from '../drill/fuzz.ts';
import { sharedData } from '../shared.ts';

it('makes of 10,000 broken scores a drill that holds together, or says why not', () => {
  const { made, refused } = fuzzDrills(4, 10_000);
  expect(made).toBeGreaterThan(sharedData === null ? 500 : 1000);
  expect(refused).toBeGreaterThan(500);
});
