/**
 * How irregular metres are grouped. Source of every check, unless said beside it: our definition (src/rhythm/groups.ts); that
 * beams show the groups is common practice, no source. Usual groups: common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { asWritten, barGrids } from '../../src/rhythm/beats.ts';
import { beamedGroups, parseGroups, usualGroups } from '../../src/rhythm/groups.ts';
import { music } from '../support/music.ts';
import { scoreOf } from '../support/scores.ts';

/** Groups that the beams of each bar show; "-" where they show none. */
const shown = (metres: string, parts: string | readonly string[]): string[] => {
  const lines = typeof parts === 'string' ? [parts] : parts;
  const score = music(metres, Object.fromEntries(lines.map((line, i) => [`P${i + 1}`, line])));
  const groups = beamedGroups(score);
  return score.bars.map(({ index }) => groups.get(index)?.join('+') ?? '-');
};

const two = 'C4/8( D4/8)';
const three = 'C4/8( D4/8- E4/8)';

describe('groups of the usual kind', () => {
  it.each([
    [5, 8, '2+3'],
    [7, 8, '2+2+3'],
    [8, 8, '3+3+2'],
    [10, 8, '2+2+2+2+2'],
    [11, 8, '2+2+2+2+3'],
    [5, 16, '2+3'],
    [8, 16, '4+4'],
    [16, 16, '4+4+4+4'],
    [20, 16, '4+4+4+4+4'],
  ])('%d/%d: %s', (count, unit, expected) => {
    expect(usualGroups(count, unit).join('+')).toBe(expected);
  });
});

describe('beams', () => {
  it.each([
    [`${two} ${two} ${three}`, '2+2+3'],
    [`${two} ${three} ${two}`, '2+3+2'],
    [`${three} ${two} ${two}`, '3+2+2'],
  ])('%s group their bar', (line, expected) => {
    expect(shown('7/8', line)).toEqual([expected]);
  });

  it('group each bar by its own, also where most bars are grouped otherwise', () => {
    const usual = `${two} ${two} ${three}`;
    const line = [usual, usual, `${three} ${two} ${two}`, usual].join(' | ');
    expect(shown('7/8 ; 7/8 ; 7/8 ; 7/8', line)).toEqual(['2+2+3', '2+2+3', '3+2+2', '2+2+3']);
  });

  it('of the other bars in the same metre group a bar that has none', () => {
    const three22 = `${three} ${two} ${two}`;
    expect(shown('7/8 ; 7/8 ; 5/8', `${three22} | C4/2.. | C4/2 D4/8`)).toEqual(['3+2+2', '3+2+2', '-']);
    // Each metre for itself: eighths of 7/8 say nothing of 7/16.
    expect(shown('7/8 ; 7/16', `${three22} | C4/4..`)).toEqual(['3+2+2', '-']);
  });

  it('that leave it open decide nothing: the usual groups are counted', () => {
    // A pair first: 2+2+3 or 2+3+2.
    expect(shown('7/8', `${two} C4/4 D4/4.`)).toEqual(['-']);
    const [grid] = barGrids(music('7/8', { P1: `${two} C4/4 D4/4.` }), asWritten);
    expect(grid?.beats.map(({ length }) => Number(length.n * 8n) / Number(length.d))).toEqual([2, 2, 3]);
    // A three at the end leaves only twos before it.
    expect(shown('7/8', `C4/4 D4/4 ${three}`)).toEqual(['2+2+3']);
    // A three in the middle is one of no grouping but 2+3+2.
    expect(shown('7/8', `C4/4 ${three} D4/4`)).toEqual(['2+3+2']);
  });

  it('over several groups say little, those that cut across groups speak against them', () => {
    // 4 + 3: the long beam ends where 2+2 does; 2+2+3 is the only one with all edges.
    expect(shown('7/8', `C4/8( D4/8- E4/8- F4/8) ${three}`)).toEqual(['2+2+3']);
    expect(shown('5/8', `${three} ${two}`)).toEqual(['3+2']);
    expect(shown('5/8', 'C4/8( D4/8- E4/8- F4/8- G4/8)')).toEqual(['-']);
    // A beam over two groups speaks for neither, though it spares 2+2+3 alone.
    expect(shown('7/8', 'C4/8( D4/8- E4/8- F4/8) G4/4.')).toEqual(['-']);
    // A pair, then a pair over the fifth eighth: 2+3+2 would be cut by it, 2+2+3 not.
    expect(shown('7/8', 'C4/8( D4/8) E4/4 F4/8( G4/8) A4/8')).toEqual(['2+2+3']);
  });

  it('count through rests and unbeamed notes, and chords as one', () => {
    expect(shown('7/8', `r/8 C4/4 D4/8( E4/8) ${two}`)).toEqual(['3+2+2']);
    expect(shown('5/8', `C4+E4/8( D4+F4/8- E4+G4/8) ${two}`)).toEqual(['3+2']);
    // Grace notes are beamed among themselves: they are no group.
    expect(shown('7/8', 'C4/4. B3/16g( A3/16g) D4/4 E4/4')).toEqual(['-']);
    // A beam that reaches over a rest is one group.
    expect(shown('5/8', `C4/8( r/8 E4/8) ${two}`)).toEqual(['3+2']);
  });

  it('of all voices and parts are heard', () => {
    expect(shown('7/8', ['C4/2..', `${three} ${two} ${two}`])).toEqual(['3+2+2']);
    expect(shown('7/8', `C4/2.. & ${three} ${two} ${two}`)).toEqual(['3+2+2']);
    // Against each other they decide nothing.
    expect(shown('5/8', [`${three} ${two}`, `${two} ${three}`])).toEqual(['-']);
  });

  it('off the metre’s unit or in regular metres say nothing', () => {
    expect(shown('5/8', 'C4/16( D4/16- E4/16) F4/16 G4/4.')).toEqual(['-']);
    expect(shown('6/8 ; 3/4 ; 5/4', `${three} ${three} | ${two} ${two} ${two} | C4/1 D4/4`)).toEqual([
      '-',
      '-',
      '-',
    ]);
  });
});

describe('groups that the player names', () => {
  it('win over beams, in the metres that they fill', () => {
    const score = music('7/8 ; 5/8', { P1: `${three} ${two} ${two} | ${three} ${two}` });
    const lengths = barGrids(score, { unit: null, groups: [2, 3, 2] }).map(({ beats }) =>
      beats.map(({ length }) => Number(length.n * 8n) / Number(length.d)),
    );
    expect(lengths).toEqual([
      [2, 3, 2],
      [3, 2],
    ]);
  });

  it('are whole numbers from 1 to 16 with "+" between', () => {
    expect(parseGroups('2+2+3')).toEqual([2, 2, 3]);
    expect(parseGroups(' 4 + 3 ')).toEqual([4, 3]);
    expect(parseGroups('16')).toEqual([16]);
    for (const text of ['', '2+', '+2', '0+5', '17', '2,3', '2+x']) expect(parseGroups(text)).toBeNull();
  });

  it('divide in three where they are of three', () => {
    const [grid] = barGrids(scoreOf('7/8'), { unit: null, groups: [3, 2, 2] });
    expect(grid?.beats.map(({ division }) => division)).toEqual([3, 2, 2]);
  });
});
