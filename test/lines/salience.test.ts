/**
 * Salience and sums of syncopation. Weights of 4/4, 3/4 and 6/8: Longuet-Higgins & Lee 1984. Sums of six timelines in 16 steps: computed by
 * that rule; they agree with Toussaint 2002 ("A mathematical analysis of African, Brazilian and Cuban clave rhythms"; value from memory).
 */
import { describe, expect, it } from 'vitest';
import { salience, syncopationSum } from '../../src/lines/salience.ts';
import { musicOf } from '../../src/lines/music.ts';
import { weightOf } from '../../src/lines/syncopation.ts';
import { F } from '../../src/units/index.ts';
import { music } from '../support/music.ts';

const onsets = (gaps: readonly number[]): number[] => {
  let at = 0;
  return gaps.map((gap) => (at += gap) - gap);
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

describe('the sum of syncopation', () => {
  it.each<[string, number[], number]>([
    ['shiko', [4, 2, 4, 2, 4], 2],
    ['son', [3, 3, 4, 2, 4], 4],
    ['soukous', [3, 3, 4, 1, 5], 6],
    ['rumba', [3, 4, 3, 2, 4], 5],
    ['bossa', [3, 3, 4, 3, 3], 6],
    ['gahu', [3, 3, 4, 4, 2], 5],
  ])('of %s is as published', (_, gaps, sum) => {
    expect(syncopationSum(onsets(gaps), salience([2, 2, 2, 2]))).toBe(sum);
  });

  it('is nought where every note is on the strongest place that it reaches', () => {
    expect(syncopationSum([0, 4, 8, 12], salience([2, 2, 2, 2]))).toBe(0);
  });
});
