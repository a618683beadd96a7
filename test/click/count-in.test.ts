import { describe, expect, it } from 'vitest';
import { countedBars, countWord, parseCountIn } from '../../src/click/countIn.ts';
import { barGrids } from '../../src/rhythm/beats.ts';
import { parseGroups } from '../../src/rhythm/groups.ts';
import { parseValue } from '../../src/rhythm/value.ts';
import { F, note, seconds } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

/** Offsets counted in each bar, a whole note lasting `whole` seconds. */
const counts = (
  metre: string,
  firstBeatClicked: boolean,
  options: { whole?: number; unit?: string; groups?: string; upbeat?: string; bars?: number } = {},
): string[][] => {
  const counting = {
    unit: options.unit === undefined ? null : parseValue(options.unit),
    groups: options.groups === undefined ? null : parseGroups(options.groups),
  };
  const [grid] = barGrids(scoreOf(metre), counting);
  if (grid === undefined) throw new Error(metre);
  return countedBars(grid, {
    firstBeatClicked,
    bars: options.bars ?? null,
    upbeat: parseValue(options.upbeat ?? '') ?? note(0),
    secondsOf: (length) => seconds(F.mul(length, F.fraction(options.whole ?? 4))),
  }).map((bar) => bar.counts.map(({ offset }) => F.format(offset)));
};

/** Checks without a source beside them hold our definition (docs/drill.md, "The count-in"). */
describe('the count-in', () => {
  // Section 7 of the design; check values: "one bar counted in halves, then one in quarters" (common practice, no source).
  it('gives a bar in the larger unit and one in the smaller where the first beat has no click', () => {
    expect(counts('4/4', false)).toEqual([
      ['0', '1/2'],
      ['0', '1/4', '1/2', '3/4'],
    ]);
    expect(counts('3/4', false)).toEqual([['0'], ['0', '1/4', '1/2']]);
    expect(counts('6/8', false, { unit: '1/8' })).toEqual([
      ['0', '3/8'],
      ['0', '1/8', '1/4', '3/8', '1/2', '5/8'],
    ]);
    expect(counts('2/2', false)).toEqual([['0'], ['0', '1/2']]);
    expect(counts('12/8', false)[0]).toEqual(['0', '3/4']);
    expect(counts('9/8', false)[0]).toEqual(['0']);
    expect(counts('5/4', false)[0]).toEqual(['0']);
    expect(counts('6/8', false)).toEqual([
      ['0', '3/8'],
      ['0', '3/8'],
    ]);
    expect(counts('7/8', false, { groups: '2+2+3' })).toEqual([
      ['0', '1/4', '1/2'],
      ['0', '1/4', '1/2'],
    ]);
  });

  it('is one bar where the first beat is clicked, two where the bar lasts under 1.5 s', () => {
    expect(counts('4/4', true, { whole: 2 }).length).toBe(1);
    expect(counts('4/4', true, { whole: 1 }).length).toBe(2);
    expect(counts('2/4', true, { whole: 3 }).length).toBe(1);
    // Halves of a second in 3/4 at exactly 1.5 s a bar: not under it.
    expect(counts('3/4', true, { whole: 2 }).length).toBe(1);
  });

  it('counts one bar more where the upbeat takes more than half of it', () => {
    expect(counts('4/4', true, { upbeat: '1/4' }).length).toBe(1);
    expect(counts('4/4', true, { upbeat: '1/2' }).length).toBe(1);
    expect(counts('4/4', true, { upbeat: '5/8' }).length).toBe(2);
    expect(counts('4/4', true, { upbeat: '3/4' }).length).toBe(2);
    expect(counts('4/4', true, { upbeat: '7/4' }).length).toBe(3);
    // Half a bar of 2/4 beyond a whole note takes three bars; what is added is counted in the smaller unit.
    expect(counts('2/4', true, { upbeat: '1' }).length).toBe(3);
    expect(counts('3/4', false, { upbeat: '5/4' })).toEqual([
      ['0'],
      ['0', '1/4', '1/2'],
      ['0', '1/4', '1/2'],
    ]);
    // Two bars of counting hold a long upbeat already.
    expect(counts('4/4', false, { upbeat: '3/4' }).length).toBe(2);
  });

  it('is as long as asked', () => {
    expect(counts('4/4', true, { bars: 3 }).length).toBe(3);
    expect(counts('4/4', true, { bars: 1, whole: 1 }).length).toBe(1);
    // However long the upbeat, and in the smaller unit.
    expect(counts('4/4', false, { bars: 1, upbeat: '3/4' })).toEqual([['0', '1/4', '1/2', '3/4']]);
  });

  it('reads what players say', () => {
    const read = (text: string) => {
      const found = parseCountIn(text);
      return found.ok ? found.value : found.error.code;
    };
    expect(read('auto')).toEqual({ when: 'auto', bars: null });
    expect(read('2')).toEqual({ when: 'auto', bars: 2 });
    expect(read('each:1')).toEqual({ when: 'each', bars: 1 });
    expect(read('0')).toEqual({ when: 'none', bars: null });
    expect(read('first')).toEqual({ when: 'first', bars: null });
    expect(read('none')).toEqual({ when: 'none', bars: null });
    expect(read('8')).toEqual({ when: 'auto', bars: 8 });
    for (const text of ['', 'twice', '9', '-1', 'each:', '1.5']) expect(read(text)).toBe('count-in-unknown');
  });

  it('says one-syllable words when fast', () => {
    expect(countWord(7, false)).toBe('seven');
    expect(countWord(7, true)).toBe('sev');
    expect(countWord(3, true)).toBe('three');
    expect(countWord(11, true)).toBe('lev');
    expect(countWord(13, true)).toBe('13');
  });
});
