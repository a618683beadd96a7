import { expect, it } from 'vitest';
import { fuzzMidi } from '../score/midi-fuzz.ts';

it('survives 20,000 mutated MIDI files', () => {
  const { read, refused } = fuzzMidi(2, 20_000);
  expect(read).toBeGreaterThan(2000);
  expect(refused).toBeGreaterThan(400);
});
