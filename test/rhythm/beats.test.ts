import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { asWritten, barGrid, barGrids, beatOffset, beatText } from '../../src/rhythm/beats.ts';
import { parseGroups, usualGroups } from '../../src/rhythm/groups.ts';
import { parseValue, valueText } from '../../src/rhythm/value.ts';
import { parseMetre } from '../../src/score/metre.ts';
import type { Bar } from '../../src/score/model.ts';
import { beats, F, note } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

const barIn = (metre: string, length?: string, pickup = false): Bar => {
  const [bar] = scoreOf(length === undefined ? metre : `${metre}:${length}`).bars;
  if (bar === undefined) throw new Error(metre);
  return { ...bar, pickup };
};

const offsets = (metre: string, unit: string | null = null, groups: string | null = null): string[] =>
  barGrid(
    barIn(metre),
    { unit: unit === null ? null : parseValue(unit), groups: null },
    groups === null ? null : parseGroups(groups),
  ).beats.map(({ offset }) => F.format(offset));

describe('the beats of a metre', () => {
  // Source: the table in section 6 of the design; common practice, no source (Grove Music Online, "Metre", from memory).
  it.each([
    ['4/4', ['0', '1/4', '1/2', '3/4']],
    ['3/4', ['0', '1/4', '1/2']],
    ['2/4', ['0', '1/4']],
    ['2/2', ['0', '1/2']],
    ['3/2', ['0', '1/2', '1']],
    ['6/8', ['0', '3/8']],
    ['9/8', ['0', '3/8', '3/4']],
    ['12/8', ['0', '3/8', '3/4', '9/8']],
    ['6/4', ['0', '3/4']],
    ['3/8', ['0', '1/8', '1/4']],
    ['5/4', ['0', '1/4', '1/2', '3/4', '1']],
    ['3+2/8', ['0', '3/8']],
    ['2/4+3/8', ['0', '1/4', '1/2', '5/8', '3/4']],
  ])('%s', (metre, expected) => {
    const found = parseMetre(metre);
    if (found === null) throw new Error(metre);
    const bar = { ...barIn('4/4'), metre: found, length: note(1) };
    const grid = barGrid(bar, asWritten, null);
    expect(
      grid.beats.filter(({ offset }) => F.less(offset, grid.full)).map(({ offset }) => F.format(offset)),
    ).toEqual(expected);
  });

  it('counts irregular metres in their groups, as given', () => {
    expect(offsets('7/8', null, '2+2+3')).toEqual(['0', '1/4', '1/2']);
    expect(offsets('7/8', null, '3+2+2')).toEqual(['0', '3/8', '5/8']);
    expect(offsets('5/8', null, '2+3')).toEqual(['0', '1/4']);
  });

  it('counts a slow 6/8 in six and a fast 3/4 in one, if the players do', () => {
    expect(offsets('6/8', '1/8')).toEqual(['0', '1/8', '1/4', '3/8', '1/2', '5/8']);
    expect(offsets('3/4', '3/4')).toEqual(['0']);
  });

  it('writes places as the design does, a pickup counted from the end of the full bar', () => {
    const six = barGrid(barIn('6/8'), asWritten, null);
    expect(beatText(six, note(1, 8))).toBe('1+1/3');
    const four = barGrid(barIn('4/4'), asWritten, null);
    expect(beatText(four, note(3, 8))).toBe('2+1/2');
    const pickup = barGrid(barIn('4/4', '1/4', true), asWritten, null);
    expect(beatText(pickup, note(0))).toBe('4');
    const eighth = barGrid(barIn('4/4', '1/8', true), asWritten, null);
    expect(beatText(eighth, note(0))).toBe('4+1/2');
  });

  it('lets a tempo without a unit speak of the beat, or of the lower value where beats are unequal', () => {
    const unit = (metre: string) => F.format(barGrid(barIn(metre), asWritten, null).tempoUnit);
    expect(['4/4', '2/2', '6/8', '7/8', '3/8'].map(unit)).toEqual(['1/4', '1/2', '3/8', '1/8', '1/8']);
  });
});

describe('places and offsets', () => {
  const metres = ['4/4', '3/4', '2/2', '6/8', '9/8', '12/8', '5/8', '7/8', '8/8', '11/8', '3/8', '5/4'];

  it('are inverse to each other, in full and in pickup bars', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...metres),
        fc.integer({ min: 1, max: 96 }),
        fc.integer({ min: 0, max: 95 }),
        fc.boolean(),
        (metre, size, place, pickup) => {
          const whole = barGrid(barIn(metre), asWritten, null);
          const length = beats(F.mul(whole.full, F.fraction(size, 96)));
          const grid = barGrid({ ...barIn(metre), length, pickup }, asWritten, null);
          const offset = beats(F.mul(length, F.fraction(place, 96)));
          const back = beatOffset(grid, beatText(grid, offset));
          expect(back.ok && F.format(back.value)).toBe(F.format(offset));
        },
      ),
    );
  });

  it('refuses what is no place in the bar', () => {
    const grid = barGrid(barIn('3/4'), asWritten, null);
    for (const text of ['4', '0', '', 'x', '1+3/2', '2+', '1.5'])
      expect(beatOffset(grid, text).ok).toBe(false);
  });
});

describe('groups', () => {
  it('of the usual kind fill the bar with twos and threes', () => {
    for (let count = 5; count <= 16; count++) {
      const groups = usualGroups(count, 8);
      expect(groups.reduce((a, b) => a + b, 0)).toBe(count);
      expect(groups.every((size) => size === 2 || size === 3)).toBe(true);
    }
  });

  it('are taken only where they fill the metre', () => {
    const [seven, four] = barGrids(scoreOf('7/8 ; 4/4'), { unit: null, groups: [3, 2, 2] });
    expect(seven?.beats.map(({ offset }) => F.format(offset))).toEqual(['0', '3/8', '5/8']);
    expect(four?.beats.length).toBe(4);
  });
});

describe('note values', () => {
  it('read as musicians write them', () => {
    const read = (text: string) => {
      const value = parseValue(text);
      return value === null ? null : F.format(value);
    };
    expect(read('1/4')).toBe('1/4');
    expect(read('1/4.')).toBe('3/8');
    expect(read('1/2..')).toBe('7/8');
    expect(read('1')).toBe('1');
    for (const text of ['', '0', '1/0', '-1/4', 'x', '1/4....', '1.5']) expect(read(text)).toBeNull();
  });

  it('write back to what they read', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 64 }), fc.integer({ min: 1, max: 64 }), (n, d) => {
        const value = note(n, d);
        expect(parseValue(valueText(value))).toEqual(value);
      }),
    );
  });
});
