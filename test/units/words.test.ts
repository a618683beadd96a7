/** Words around counts and figures. Expected texts: common English, no source. */
import { describe, expect, it } from 'vitest';
import { countText, F, figureText, lengthText, timeText, timeTextGerman } from '../../src/units/index.ts';

const fraction = (text: string): F.Fraction => F.parse(text) ?? F.zero;

describe('words in messages', () => {
  it.each([
    [0, '0 notes end'],
    [1, '1 note ends'],
    [2, '2 notes end'],
  ])('%i: %s', (count, text) => {
    expect(countText(count, 'note ends', 'notes end')).toBe(text);
  });

  it.each([
    ['3/4', '3/4 of a whole note'],
    ['1', 'a whole note'],
    ['5/4', '5/4 of a whole note'],
    ['24', '24 whole notes'],
  ])('a length of %s is %s', (length, text) => {
    expect(lengthText(fraction(length))).toBe(text);
  });

  it.each([
    ['92', '92'],
    ['133.33', '133.33'],
    ['1500', '1500'],
    ['1e30', '1000000000000000000000000000000'],
    ['400/3', '133.33'],
    ['99.999', '99.999'],
    ['99.9999999', '100'],
    ['4.000001', '4.000001'],
    ['92.5', '92.5'],
    ['0', '0'],
    ['1/1000', '0.001'],
    ['1/3000', 'less than 0.01'],
    ['-5', '-5'],
    ['-1/3000', 'between -0.01 and 0'],
  ])('a figure of %s is %s', (value, text) => {
    expect(figureText(fraction(value))).toBe(text);
  });
});

describe('a time through', () => {
  it('has its name', () => {
    expect([1, 2, 10, 11, 12, 13, 21, 22, 23, 24, 111].map(timeText)).toEqual(
      ['first', 'second', 'tenth', '11th', '12th', '13th', '21st', '22nd', '23rd', '24th', '111th'].map(
        (one) => `${one} time`,
      ),
    );
    expect([1, 2, 10, 11].map(timeTextGerman)).toEqual([
      'erstes Mal',
      'zweites Mal',
      'zehntes Mal',
      '11. Mal',
    ]);
  });
});
