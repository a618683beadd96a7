/** When a note is over, on levels whose truth is known. Bounds are the frames' own width. */
import { describe, expect, it } from 'vitest';
import { lastFrame } from '../../src/listen/fall.ts';

const frame = 0.002;

/** Mean square at each frame from dB at each time. */
const course = (seconds: number, db: (time: number) => number): Float64Array =>
  Float64Array.from({ length: Math.round(seconds / frame) }, (_, f) => 10 ** (db(f * frame) / 10));

const endOf = (seconds: number, db: (time: number) => number): number =>
  lastFrame(course(seconds, db), frame) * frame;

describe('the end of a note', () => {
  it('of 0.15 s is there, however loud the next note rises 40 ms before it is perceived', () => {
    for (const next of [-100, -25, 0, 15])
      expect(endOf(0.4, (t) => (t < 0.15 ? 0 : t < 0.36 ? -60 : next))).toBeCloseTo(0.15, 2);
  });

  it('of a note held up to the next is the next', () => {
    expect(endOf(0.4, () => 0)).toBeGreaterThan(0.39);
  });

  it('of a note that is let go shortly before the next is where it falls', () => {
    expect(endOf(0.4, (t) => (t < 0.37 ? 0 : -60))).toBeCloseTo(0.37, 2);
  });

  it('is not the gap between a consonant and its vowel, nor a place where a note throbs', () => {
    expect(endOf(0.6, (t) => (t > 0.05 && t < 0.08 ? -40 : t < 0.3 ? 0 : -60))).toBeCloseTo(0.3, 2);
  });

  it('is found in short notes too', () => {
    expect(endOf(0.12, (t) => (t < 0.05 ? 0 : t < 0.1 ? -60 : 5))).toBeCloseTo(0.05, 2);
  });
});
