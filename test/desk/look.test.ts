import { describe, expect, it } from 'vitest';
import { barPlanOf, look, lookSchema, overview } from '../../src/desk/index.ts';
import { bytesOf, duo } from './duo.ts';

describe('a look at a score', () => {
  // Expected values: counted by hand in the score of duo.ts.
  it('tells parts, bars, playing order and tempi', () => {
    const seen = look(bytesOf(duo));
    if (!seen.ok) throw new Error(seen.error.message);
    const { problems, ...rest } = seen.value;
    expect(rest).toEqual({
      format: 'levare.look/1',
      title: 'Two in a Boat',
      parts: [
        { id: 'P1', name: 'Flute', transpose: 0, notes: 10, graces: 1 },
        { id: 'P2', name: 'Clarinet', transpose: -2, notes: 2, graces: 0 },
      ],
      bars: [
        { index: 0, number: '0', metre: '4/4', length: '1/4', pickup: true },
        { index: 1, number: '1', metre: '4/4', length: '1', pickup: false },
        { index: 2, number: '2', metre: '4/4', length: '1', pickup: false },
        { index: 3, number: '3', metre: '3/4', length: '3/4', pickup: false },
      ],
      played: [0, 1, 2, 1, 2, 3],
      tempi: [{ bar: '0', barIndex: 0, beat: '4', unit: '1/4', perMinute: 60, printed: true }],
    });
    expect(problems.filter(({ severity }) => severity === 'repair')).toEqual([]);
  });

  it('is what its schema says, and has the keys in the order of the format', () => {
    const seen = look(bytesOf(duo));
    if (!seen.ok) throw new Error(seen.error.message);
    expect(lookSchema.safeParse(seen.value).error).toBeUndefined();
    expect(Object.keys(seen.value)).toEqual([
      'format',
      'title',
      'parts',
      'bars',
      'played',
      'tempi',
      'problems',
    ]);
  });

  it('knows how long it takes: 20 quarters at 60 with the repeat', () => {
    const seen = overview(bytesOf(duo));
    // 1 + 2 x (4 + 4) + 3 quarters of one second each.
    expect(seen.ok && seen.value.duration).toBe(20);
  });

  it('prints a bar plan that reads back to the same bars', () => {
    const plan = barPlanOf(bytesOf(duo));
    if (!plan.ok) throw new Error(plan.error.message);
    const [from, back] = [look(bytesOf(duo)), look(bytesOf(plan.value))];
    if (!from.ok || !back.ok) throw new Error(plan.value);
    expect(back.value.bars).toEqual(from.value.bars);
    expect(back.value.played).toEqual(from.value.played);
    expect(back.value.tempi).toEqual(from.value.tempi);
    expect(plan.problems.map(({ code }) => code)).toContain('not-kept');
  });

  it('gives an error for what is no score', () => {
    expect(look(bytesOf('')).ok).toBe(false);
    expect(look(bytesOf('Dear Sir or Madam')).ok).toBe(false);
  });
});
