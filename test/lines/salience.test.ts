/**
 * Metrical salience: Longuet-Higgins & Lee 1984 ("The rhythmic interpretation of monophonic music", Music Perception 1:424). The bar weighs 0;
 * each division of it weighs one less.
 */
import { describe, expect, it } from 'vitest';
import { musicOf } from '../../src/lines/music.ts';
import { weightOf } from '../../src/lines/syncopation.ts';
import { F } from '../../src/units/index.ts';
import { music } from '../support/music.ts';

/** The published rule by itself: weights of a bar by its divisions from the bar downwards; [2, 2, 2] are the eighths of 4/4. */
const salience = (divisions: readonly number[]): readonly number[] => {
  let weights: readonly number[] = [0];
  divisions.forEach((into, depth) => {
    weights = weights.flatMap((weight) => [weight, ...Array.from({ length: into - 1 }, () => -depth - 1)]);
  });
  return weights;
};

describe('salience', () => {
  it.each<[string, number[], number[]]>([
    ['4/4 in eighths', [2, 2, 2], [0, -3, -2, -3, -1, -3, -2, -3]],
    ['3/4 in eighths', [3, 2], [0, -2, -1, -2, -1, -2]],
    ['6/8', [2, 3], [0, -2, -2, -1, -2, -2]],
  ])('of %s is as published', (_, divisions, weights) => {
    expect(salience(divisions)).toEqual(weights);
  });

  it.each<[string, number[]]>([
    ['4/4', [2, 2, 2]],
    ['3/4', [3, 2]],
    ['6/8', [2, 3]],
  ])('is what places in a bar of %s weigh', (metre, divisions) => {
    const weights = salience(divisions);
    const ready = musicOf(music(metre, {}));
    expect(weights.map((_, i) => weightOf(ready, 0, F.fraction(i, 8)))).toEqual(weights);
  });
});
