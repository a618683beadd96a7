import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseClick, placementText, type Placement } from '../../src/click/placement.ts';
import { hemiola, offered, strikes } from '../../src/click/strikes.ts';
import { asWritten, barGrid, barGrids } from '../../src/rhythm/beats.ts';
import { F, note } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

const placement = (text: string): Placement => {
  const rule = parseClick(text);
  if (!rule.ok) throw new Error(rule.error.message);
  return rule.value.placement;
};

const grids = (line: string) => barGrids(scoreOf(line), asWritten);

const inBar = (text: string, metre: string, barCount = 0): string[] | null => {
  const [grid] = grids(metre);
  if (grid === undefined) throw new Error(metre);
  return strikes(placement(text), grid, barCount)?.map(F.format) ?? null;
};

/** Checks without a source beside them hold our definition (docs/drill.md, "The click"). */
describe('placements', () => {
  // Sources: section 7 of the design; check values "Click arithmetic" (off-beat clicks in 4/4 are beats 2 and 4).
  it.each([
    ['every', '4/4', ['0', '1/4', '1/2', '3/4']],
    ['every', '6/8', ['0', '3/8']],
    ['half', '4/4', ['0', '1/2']],
    ['half', '12/8', ['0', '3/4']],
    ['half', '3/4', null],
    ['half', '5/8', null],
    ['weak', '4/4', ['1/4', '3/4']],
    ['weak', '3/4', ['1/4', '1/2']],
    ['weak', '2/4', ['1/4']],
    ['weak', '2/2', ['1/2']],
    ['weak', '6/8', ['3/8']],
    ['weak', '7/8', ['1/4', '1/2']],
    ['after', '4/4', ['1/8', '3/8', '5/8', '7/8']],
    ['after', '6/8', ['1/4', '5/8']],
    ['bar', '3/4', ['0']],
    ['1/8', '3/4', ['0', '1/8', '1/4', '3/8', '1/2', '5/8']],
    ['1/4', '7/8', ['0', '1/4', '1/2', '3/4']],
    ['1/1', '3/4', null],
    ['2 4', '4/4', ['1/4', '3/4']],
    ['4', '3/4', null],
    ['1 2&', '4/4', ['0', '3/8']],
    ['2 1', '4/4', ['0', '1/4']],
    ['3 5', '4/4', ['1/2']],
    ['1/2', '5/4', ['0', '1/2', '1']],
    ['1+1/3', '6/8', ['1/8']],
    ['none', '4/4', []],
  ])('%s in %s', (text, metre, expected) => {
    expect(inBar(text, metre)).toEqual(expected);
  });

  it('fall once in so many bars, counted from the first full bar', () => {
    expect([0, 1, 2, 3].map((count) => inBar('2bars', '4/4', count)?.length)).toEqual([1, 0, 1, 0]);
    expect([0, 1, 2, 3, 4].map((count) => inBar('4bars', '4/4', count)?.length)).toEqual([1, 0, 0, 0, 1]);
  });

  it('fall into a pickup where its beats are', () => {
    const [bar] = scoreOf('4/4:3/8').bars;
    if (bar === undefined) throw new Error();
    const grid = barGrid({ ...bar, pickup: true }, asWritten, null);
    expect(strikes({ kind: 'every' }, grid, null)?.map(F.format)).toEqual(['1/8']);
    expect(strikes({ kind: 'bars', each: 1 }, grid, null)).toEqual([]);
    // A pickup of a repeat goes with the bar before it, and is no first beat of a bar either.
    expect(strikes({ kind: 'bars', each: 1 }, grid, 2)).toEqual([]);
    expect(strikes({ kind: 'value', value: note(1, 8) }, grid, null)?.map(F.format)).toEqual([
      '0',
      '1/8',
      '1/4',
    ]);
  });

  /*
   * By metre, worked out by hand from the definitions in docs/drill.md ("The click") and the table of beats in section 6 of the
   * design: common practice, no source. In eighths from the bar line; null: no meaning.
   */
  const expected: Readonly<
    Record<string, readonly [every: number[], half: number[] | null, weak: number[], after: number[]]>
  > = {
    '4/4': [
      [0, 2, 4, 6],
      [0, 4],
      [2, 6],
      [1, 3, 5, 7],
    ],
    '3/4': [[0, 2, 4], null, [2, 4], [1, 3, 5]],
    '2/4': [[0, 2], [0, 2], [2], [1, 3]],
    '2/2': [[0, 4], [0, 4], [4], [2, 6]],
    '3/2': [[0, 4, 8], null, [4, 8], [2, 6, 10]],
    '6/8': [[0, 3], [0, 3], [3], [2, 5]],
    '9/8': [[0, 3, 6], null, [3, 6], [2, 5, 8]],
    '12/8': [
      [0, 3, 6, 9],
      [0, 6],
      [3, 9],
      [2, 5, 8, 11],
    ],
    '3/8': [[0, 1, 2], null, [1, 2], [0.5, 1.5, 2.5]],
    // Groups of the usual kind: 2+3, 2+2+3, 3+3+2. In a group of three the last third is the "and".
    '5/8': [[0, 2], null, [2], [1, 4]],
    '7/8': [[0, 2, 4], null, [2, 4], [1, 3, 6]],
    '8/8': [[0, 3, 6], null, [3, 6], [2, 5, 7]],
    '5/4': [[0, 2, 4, 6, 8], null, [2, 4, 6, 8], [1, 3, 5, 7, 9]],
    '6/4': [[0, 6], [0, 6], [6], [4, 10]],
  };

  it('obey their definition in any metre, whatever stands before and after', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(...Object.keys(expected)), { minLength: 1, maxLength: 12 }),
        (metres) => {
          const row = grids(metres.join(' ; '));
          expect(row.length).toBe(metres.length);
          row.forEach((grid, i) => {
            const at = (kind: 'every' | 'half' | 'weak' | 'after') =>
              strikes({ kind }, grid, i)?.map((offset) => F.toNumber(offset) * 8) ?? null;
            const found = [at('every'), at('half'), at('weak'), at('after')];
            expect(found, metres[i]).toEqual(expected[metres[i] ?? '']);
          });
        },
      ),
    );
  });

  it('keep every click of a subdivision the same distance apart within a bar', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(['4/4', 8], ['3/4', 6], ['6/8', 6], ['7/8', 7]),
        fc.integer({ min: 4, max: 32 }),
        ([metre, eighths], unit) => {
          const offsets = (inBar(`1/${unit}`, metre) ?? []).map((text) => F.parse(text) ?? F.zero);
          // As many as begin before the bar line.
          expect(offsets.length).toBe(Math.ceil((eighths * unit) / 8));
          offsets.forEach((offset, i) => expect(F.equal(offset, F.fraction(i, unit))).toBe(true));
        },
      ),
    );
  });

  it('that are unknown are refused with what can be said', () => {
    for (const text of [
      '',
      'sometimes',
      '0bars',
      '2 x',
      '1/0',
      '0',
      '1/128',
      'hemiola:',
      '1+3/2',
      'weak,hemiola',
      'weak,',
      'weak,12:',
      'weak,12:x',
      'weak,every',
      ':2',
      'hemiola:1,hemiola:3',
      'hemiola:1 2 3',
    ]) {
      const found = parseClick(text);
      expect(found.ok ? text : found.error.code).toBe('placement-unknown');
    }
  });

  it('write back to what they read', () => {
    for (const text of [
      'every',
      'half',
      'weak',
      'after',
      'none',
      'bar',
      '2bars',
      '1/8',
      '2 4',
      '1 2&',
      '1+1/3',
    ]) {
      expect(placementText(placement(text))).toBe(text);
    }
  });

  it('offer what a metre has', () => {
    const [three] = grids('3/4');
    if (three === undefined) throw new Error();
    expect(offered(three)).toEqual(['every', 'weak', 'after', 'bar']);
    const [four] = grids('4/4');
    expect(four && offered(four)).toEqual(['every', 'half', 'weak', 'after', 'bar']);
    const [one] = barGrids(scoreOf('3/4'), { unit: note(3, 4), groups: null });
    expect(one && offered(one)).toEqual(['every', 'after', 'bar']);
  });
});

describe('a hemiola', () => {
  const over = (line: string) => hemiola(grids(line))?.map((bar) => bar.map(F.format)) ?? null;

  // Three against two: Grove Music Online, "Hemiola" (from memory).
  it('is three halves over two bars of 3/4', () => {
    expect(over('3/4 ; 3/4')).toEqual([['0', '1/2'], ['1/4']]);
  });
  it('is three halves over each pair of several', () => {
    expect(over('3/4 ; 3/4 ; 3/4 ; 3/4')).toEqual([['0', '1/2'], ['1/4'], ['0', '1/2'], ['1/4']]);
    expect(over('3/2 ; 3/2')).toEqual([['0', '1'], ['1/2']]);
  });
  it('is three quarters in a bar of 6/8, three halves in one of 6/4', () => {
    expect(over('6/8')).toEqual([['0', '1/4', '1/2']]);
    expect(over('6/4')).toEqual([['0', '1/2', '1']]);
  });
  it('has no meaning elsewhere', () => {
    expect(over('4/4 ; 4/4')).toBeNull();
    expect(over('3/4')).toBeNull();
    expect(over('3/4 ; 3/2')).toBeNull();
    expect(over('3/4 ; 3/4 ; 3/4')).toBeNull();
    expect(over('3/4 ; 6/8')).toBeNull();
    expect(over('9/8')).toBeNull();
    expect(over('3/4 ; 3/4:1/2')).toBeNull();
    expect(hemiola([])).toBeNull();
  });
  it('has every beat around it where no other placement is named, and may be a single bar', () => {
    const rule = parseClick('hemiola: 14');
    expect(rule.ok && rule.value).toEqual({
      placement: { kind: 'every' },
      apart: [],
      hemiola: { from: '14', to: '14' },
    });
  });
  it('goes with another placement around it', () => {
    const rule = parseClick('bar,hemiola:14-15');
    expect(rule.ok && rule.value).toEqual({
      placement: { kind: 'bars', each: 1 },
      apart: [],
      hemiola: { from: '14', to: '15' },
    });
  });
});
