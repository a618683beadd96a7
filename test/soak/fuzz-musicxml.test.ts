import { expect, test } from 'vitest';
import { fuzzMusicXml } from '../score/musicxml-fuzz.ts';

test('20,000 mutations of real and small files: a score that holds together, or an error', () => {
  const { read, refused } = fuzzMusicXml(7, 20_000);
  expect(read + refused).toBe(20_000);
  // Both ways out are taken often, so the mutations are neither harmless nor all fatal (8341 and 11659 with all the files).
  expect(read).toBeGreaterThan(4000);
  expect(refused).toBeGreaterThan(4000);
});
