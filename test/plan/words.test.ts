/** Lengths as musicians say them. Names of note values: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { apartText, lengthText, unitText } from '../../src/plan/index.ts';
import { beats, F } from '../../src/units/index.ts';

const of = (text: string) => {
  const value = F.parse(text);
  if (value === null) throw new Error(text);
  return beats(value);
};

describe('lengths in words', () => {
  it.each([
    ['1/4', 'a quarter note'],
    ['1/8', 'an eighth note'],
    ['3/8', 'a dotted quarter note'],
    ['3/4', 'a dotted half note'],
    ['1', 'a whole note'],
    ['1/12', 'a triplet eighth'],
    ['1/6', 'a triplet quarter'],
    ['5/8', 'five eighths'],
    ['5/4', 'five quarters'],
    ['5/12', 'five triplet eighths'],
    ['1/7', '1/7 of a whole note'],
  ])('%s is %s', (length, words) => {
    expect(lengthText(of(length))).toBe(words);
  });

  it.each([
    ['1/4', 'quarter'],
    ['3/8', 'dotted quarter'],
    ['1/2', 'half'],
    ['1/7', '1/7'],
  ])('%s as the unit of a tempo is %s', (unit, words) => {
    expect(unitText(of(unit))).toBe(words);
  });
});

describe('how far apart two moments are', () => {
  it.each([
    // 4/4, 6/8, 2/2, and bars of different lengths.
    ['1', '1/4', '1', 'a bar'],
    ['3', '1/4', '1', 'three bars'],
    ['1/4', '1/4', '1', 'a beat'],
    ['1/2', '1/4', '1', 'two beats'],
    ['1/8', '1/4', '1', 'an eighth note'],
    ['3/8', '1/4', '1', 'a beat and a half'],
    ['5/8', '1/4', '1', 'two and a half beats'],
    ['3/8', '3/8', '3/4', 'a beat'],
    ['3/4', '3/8', '3/4', 'a bar'],
    ['1/8', '3/8', '3/4', 'an eighth note'],
    ['1/4', '1/2', '1', 'a quarter note'],
    ['5/4', '1/4', null, 'five beats'],
    ['1/12', '1/4', '3/4', 'a triplet eighth'],
  ])('%s at a beat of %s and bars of %s: %s', (length, beat, bar, words) => {
    expect(apartText(of(length), of(beat), bar === null ? null : of(bar))).toBe(words);
  });
});
