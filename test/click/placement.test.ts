import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseClick, placementText, type Placement } from '../../src/click/placement.ts';
import { hemiola, offered, strikes } from '../../src/click/strikes.ts';
import { asWritten, barGrid, barGrids } from '../../src/rhythm/beats.ts';
import { F } from '../../src/units/index.ts';
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
  });

  it('obey their definition in any metre', () => {
    const metre = fc.constantFrom(
      '4/4',
      '3/4',
      '2/4',
      '2/2',
      '3/2',
      '6/8',
      '9/8',
      '12/8',
      '5/8',
      '7/8',
      '8/8',
      '5/4',
    );
    fc.assert(
      fc.property(fc.array(metre, { minLength: 1, maxLength: 12 }), (metres) => {
        for (const grid of grids(metres.join(' ; '))) {
          const starts = grid.beats.map(({ offset }) => F.toNumber(offset));
          const ends = [...starts.slice(1), F.toNumber(grid.full)];
          const at = (kind: 'every' | 'half' | 'weak' | 'after') =>
            strikes({ kind }, grid, 0)?.map(F.toNumber) ?? null;
          expect(at('every')).toEqual(starts);
          // After: strictly inside each beat, a half or a third before its end.
          at('after')?.forEach((place, i) => {
            const gone = (place - (starts[i] ?? 0)) / ((ends[i] ?? 0) - (starts[i] ?? 0));
            expect([1 / 2, 2 / 3].some((part) => Math.abs(part - gone) < 1e-12)).toBe(true);
          });
          const half = at('half');
          if (half !== null) expect(half).toEqual([0, F.toNumber(grid.full) / 2]);
          // Weak beats are beats, never the first one.
          for (const place of at('weak') ?? []) expect(starts.indexOf(place)).toBeGreaterThan(0);
        }
      }),
    );
  });

  it('keep every click of a subdivision the same distance apart within a bar', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('4/4', '3/4', '6/8', '7/8'),
        fc.integer({ min: 4, max: 32 }),
        (metre, unit) => {
          const offsets = (inBar(`1/${unit}`, metre) ?? []).map((text) => F.parse(text) ?? F.zero);
          offsets.forEach((offset, i) => expect(F.equal(offset, F.fraction(i, unit))).toBe(true));
        },
      ),
    );
  });

  it('that are unknown are refused with what can be said', () => {
    for (const text of ['', 'sometimes', '0bars', '2 x', '1/0', '0', '1/128', 'hemiola:']) {
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
  });
});

describe('a hemiola', () => {
  const over = (line: string) => hemiola(grids(line))?.map((bar) => bar.map(F.format)) ?? null;

  // Three against two: Grove Music Online, "Hemiola" (from memory).
  it('is three halves over two bars of 3/4', () => {
    expect(over('3/4 ; 3/4')).toEqual([['0', '1/2'], ['1/4']]);
  });
  it('is three quarters in a bar of 6/8', () => {
    expect(over('6/8')).toEqual([['0', '1/4', '1/2']]);
  });
  it('has no meaning elsewhere', () => {
    expect(over('4/4 ; 4/4')).toBeNull();
    expect(over('3/4')).toBeNull();
    expect(over('3/4 ; 3/2')).toBeNull();
  });
  it('goes with another placement around it', () => {
    const rule = parseClick('bar,hemiola:14-15');
    expect(rule.ok && rule.value).toEqual({
      placement: { kind: 'bars', each: 1 },
      hemiola: { from: '14', to: '15' },
    });
  });
});
