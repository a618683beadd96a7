import { describe, expect, it } from 'vitest';
import { measureNote } from '../../bench/hear/onset.mjs';

const rate = 48_000;

/** A tone of one second after `silence`, whose amplitude rises in a line over `rise` seconds, and stops after `length`. */
const ramp = (silence: number, rise: number, length: number, hertz: number): Float32Array =>
  Float32Array.from({ length: Math.round((silence + length + 0.2) * rate) }, (_, n) => {
    const t = n / rate - silence;
    if (t < 0 || t > length) return 0;
    return Math.min(1, t / rise) * Math.sin(2 * Math.PI * hertz * t);
  });

const measured = (samples: Float32Array): { physical: number; perceived: number; end: number } => {
  const found = measureNote(samples, rate);
  if (found === null) throw new Error('Silence.');
  return { physical: found.physical / rate, perceived: found.perceived / rate, end: found.end / rate };
};

describe('the truth of one note', () => {
  // A line of rise T passes 40 dB below its end at T / 100 and 15 dB below at T x 10^(-15/20) = 0.178 T: arithmetic.
  it.each([
    [0.02, 880],
    [0.1, 440],
    [0.3, 220],
  ])('finds both thresholds of a rise of %f s at %i Hz', (rise, hertz) => {
    const found = measured(ramp(0.25, rise, 1, hertz));
    // A window of 2 ms and one period of the tone are the most that either can be off.
    expect(Math.abs(found.physical - 0.25 - rise / 100)).toBeLessThan(0.001 + 1 / hertz);
    expect(Math.abs(found.perceived - 0.25 - 0.1778 * rise)).toBeLessThan(0.005 + 1 / hertz);
  });

  it('finds the end', () => {
    const found = measured(ramp(0.1, 0.01, 0.7, 440));
    expect(Math.abs(found.end - 0.8)).toBeLessThan(0.006);
  });

  it('does not hear the beat of a slow attack earlier than its start', () => {
    const found = measured(ramp(0.3, 0.2, 1, 330));
    expect(found.perceived).toBeGreaterThan(found.physical + 0.02);
  });

  it('is the same at any level', () => {
    const loud = ramp(0.25, 0.05, 0.5, 500);
    expect(
      measureNote(
        loud.map((value) => value * 0.004),
        rate,
      ),
    ).toEqual(measureNote(loud, rate));
  });

  it('says nothing of silence', () => {
    expect(measureNote(new Float32Array(4800), rate)).toBeNull();
  });
});
