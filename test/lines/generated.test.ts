/**
 * Truth that is built, not judged: lines of every value divided at random seams, beside other textures, and scores that hold none. What must
 * come back is known from how they are written (generatedScores.ts); no other source.
 */
import { describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/lines/index.ts';
import type { Place } from '../../src/lines/model.ts';
import { F } from '../../src/units/index.ts';
import { decoys, lineScore, noNoise, type Generated, type Noise } from './generatedScores.ts';
import { hardDecoys, hardLines } from './hardScores.ts';

const linesOf = ({ score, value }: Generated): readonly Place[] =>
  findPlaces(score).places.filter(
    (place) => place.kind === 'shared-line' && place.value !== null && F.equal(place.value, value),
  );
const anyLine = ({ score }: Generated): readonly Place[] =>
  findPlaces(score).places.filter(({ kind }) => kind === 'shared-line');

const placeText = (place: { from: { at: F.Fraction }; to: { at: F.Fraction } }): string =>
  `${F.format(place.from.at)} to ${F.format(place.to.at)}`;
const seamText = ({ at, from, to }: { at: F.Fraction; from: string; to: string }): string =>
  `${F.format(at)} ${from}>${to}`;

interface Counts {
  found: number;
  true: number;
  both: number;
}

/** Places and seams over many scores: how many there are, are found, and are both. */
const count = (make: (seed: number) => Generated, seeds: number): { places: Counts; seams: Counts } => {
  const places = { found: 0, true: 0, both: 0 };
  const seams = { found: 0, true: 0, both: 0 };
  for (let seed = 1; seed <= seeds; seed++) {
    const made = make(seed);
    const { line } = made;
    if (line === null) continue;
    const found = anyLine(made);
    const wanted = `${F.format(line.from)} to ${F.format(line.to)}`;
    places.true += 1;
    places.found += found.length;
    places.both += found.some((place) => placeText(place) === wanted) ? 1 : 0;
    const told = new Set(found.flatMap((place) => place.seams.map(seamText)));
    seams.true += line.seams.length;
    seams.found += told.size;
    seams.both += line.seams.filter((seam) => told.has(seamText(seam))).length;
  }
  return { places, seams };
};

describe('a line divided at random', () => {
  it('comes back exactly, with its seams, and nothing else', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const made = lineScore(seed, noNoise);
      const found = anyLine(made);
      const { line } = made;
      expect([made.told, found.map((place) => [placeText(place), place.seams.map(seamText)])]).toEqual([
        made.told,
        [[`${F.format(line?.from ?? F.zero)} to ${F.format(line?.to ?? F.zero)}`, line?.seams.map(seamText)]],
      ]);
      expect(linesOf(made).length).toBe(1);
    }
  });

  it('comes back with its seams without pitches, by rhythm alone', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const made = lineScore(seed, noNoise);
      const parts = made.score.parts.map((one) => ({
        ...one,
        notes: one.notes.map((sounding) => ({ ...sounding, pitch: null, midi: null })),
      }));
      const found = anyLine({ ...made, score: { ...made.score, parts } });
      expect([made.told, found.map((place) => place.seams.map(seamText))]).toEqual([
        made.told,
        [made.line?.seams.map(seamText)],
      ]);
    }
  });

  it.each<[string, Noise]>([
    ['overlaps of two notes at a fifth of the seams', { overlaps: 0.4, rests: 0 }],
    ['a rest inside a fifth of the longer turns', { overlaps: 0, rests: 0.2 }],
  ])('comes back, seams and all, for at least 95 in 100 with %s', (_, noise) => {
    const { places, seams } = count((seed) => lineScore(seed, noise), 200);
    for (const counts of [places, seams]) {
      expect(counts.both / counts.true).toBeGreaterThanOrEqual(0.95);
      expect(counts.both / counts.found).toBeGreaterThanOrEqual(0.95);
    }
  });
});

describe.each(Object.entries(hardLines))('%s', (_, make) => {
  it('comes back, seams and all, for at least 95 in 100', () => {
    const { places, seams } = count(make, 200);
    for (const counts of [places, seams]) {
      expect(counts.both / counts.true).toBeGreaterThanOrEqual(0.95);
      expect(counts.both / counts.found).toBeGreaterThanOrEqual(0.95);
    }
  });
});

describe.each(Object.entries({ ...decoys, ...hardDecoys }))('%s', (_, make) => {
  it('is no divided line', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const made = make(seed);
      expect([made.told, anyLine(made).map(placeText)]).toEqual([made.told, []]);
    }
  });
});
