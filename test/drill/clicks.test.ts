/**
 * Placements over real passages: changing metres, overlong bars, hemiolas, other ways of counting. Source of every check,
 * unless said beside it: our definition (docs/drill.md, "The click"); times by hand, quarters of one second.
 */
import { describe, expect, it } from 'vitest';
import { clickText, codesOf, problemsOf, worked } from '../support/drills.ts';
import { scoreOf } from '../support/scores.ts';

describe('beats as players count them', () => {
  const score = scoreOf('4/4 ; 3/4');

  it('fall where a bar has them, and a bar that has not all is told', () => {
    expect(clickText(worked(score, { click: '2 4' }))).toEqual(['1:2@1', '1:4@3', '2:2@5']);
    expect(problemsOf(score, { click: '2 4' }).map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'placement-lacks-metre: The bars of 3/4 have not all of the beats "2 4"; those that they have are clicked.',
    ]);
    expect(codesOf(score, { click: '2 3' })).toEqual([]);
  });

  it('that a bar has none of are clicked on its first beat, which is told', () => {
    expect(clickText(worked(score, { click: '4' }))).toEqual(['1:4@3', '2:1@4']);
    expect(problemsOf(score, { click: '4' }).map(({ severity, code }) => `${severity} ${code}`)).toEqual([
      'assumption placement-lacks-metre',
    ]);
  });

  it('that no bar has are refused, with what can be had', () => {
    const [refusal] = problemsOf(score, { bars: '2', click: '4' });
    expect(refusal && `${refusal.severity} ${refusal.code}`).toBe('error placement-lacks-metre');
    expect(refusal?.message).toContain('There you can have: every, weak, after, bar.');
  });

  it('said twice give one click', () => {
    expect(clickText(worked(score, { bars: '1', click: '1 1' }))).toEqual(['1:1@0']);
    expect(codesOf(score, { bars: '1', click: '1 1' })).toEqual([]);
  });

  it('fall in time, in whichever order they are said', () => {
    expect(clickText(worked(score, { bars: '1', click: '3 1' }))).toEqual(['1:1@0', '1:3@2']);
  });

  it('in the upbeat neither prove nor disprove that they have a meaning', () => {
    const drill = { bars: '2', upbeat: '1/4', click: '4' };
    expect(codesOf(score, drill)).toEqual(['placement-lacks-metre']);
    expect(problemsOf(score, drill)[0]?.severity).toBe('error');
    expect(codesOf(score, { ...drill, click: '1' })).toEqual([]);
  });
});

describe('a bar longer than its metre', () => {
  const long = scoreOf('4/4:5/4 ; 4/4');
  it.each([
    ['every', ['1:1@0', '1:2@1', '1:3@2', '1:4@3', '1:5@4', '2:1@5']],
    ['weak', ['1:2@1', '1:4@3', '2:2@6']],
    ['half', ['1:1@0', '1:3@2', '2:1@5']],
    ['bar', ['1:1@0', '2:1@5']],
    ['5', ['1:5@4', '2:1@5']],
  ])('is clicked to its end: %s', (click, expected) => {
    expect(clickText(worked(long, { click })).slice(0, expected.length)).toEqual(expected);
  });

  it('is counted in by its metre', () => {
    const clicks = worked(long, { countIn: 'auto' }).timeline.clicks;
    expect(clicks.flatMap(({ word }) => word ?? [])).toEqual(['one', 'two', 'three', 'four']);
    const off = worked(long, { countIn: 'auto', click: 'weak' }).timeline.clicks;
    expect(off.flatMap(({ word }) => word ?? []).join(' ')).toBe('one two one two three four');
  });
});

describe('a hemiola', () => {
  const three = scoreOf('3/4 ; 3/4 ; 3/4 ; 3/4');

  // Three even clicks over two bars of three, however the bars are counted: Grove Music Online, "Hemiola" (from memory).
  it('is one of the metre where the players count in one', () => {
    const drill = { click: 'bar,hemiola:2-3', count: '3/4', tempo: ['60'] };
    expect(clickText(worked(three, drill))).toEqual([
      '1:1@0',
      '2:1@1',
      '2:1+2/3@5/3',
      '3:1+1/3@7/3',
      '4:1@3',
    ]);
  });

  it('is one of the metre where the players count a 6/8 in six', () => {
    const drill = { click: 'bar,hemiola:2', count: '1/8', tempo: ['120'] };
    expect(clickText(worked(scoreOf('6/8 ; 6/8'), drill))).toEqual(['1:1@0', '2:1@3', '2:3@4', '2:5@5']);
  });

  it('that the passage cuts is clicked where it is played, and that is told', () => {
    expect(clickText(worked(three, { bars: '2', click: 'bar,hemiola:2-3' }))).toEqual(['2:1@0', '2:3@2']);
    expect(codesOf(three, { bars: '2', click: 'bar,hemiola:2-3' })).toEqual(['hemiola-cut']);
    expect(clickText(worked(three, { bars: '3', click: 'bar,hemiola:2-3' }))).toEqual(['3:2@1']);
    expect(codesOf(three, { bars: '3-4', click: 'bar,hemiola:2-3' })).toEqual(['hemiola-cut']);
    expect(codesOf(three, { bars: '2-3', click: 'bar,hemiola:2-3' })).toEqual([]);
  });

  it('outside the passage is told', () => {
    expect(codesOf(three, { bars: '1', click: 'hemiola:2-3' })).toEqual(['hemiola-outside']);
    expect(codesOf(three, { bars: '1', click: 'hemiola:8-9' })).toEqual(['bar-unknown']);
  });

  it('has every beat around it where nothing else is said', () => {
    const clicks = clickText(worked(three, { bars: '1-3', click: 'hemiola:2-3' }));
    expect(clicks).toEqual(['1:1@0', '1:2@1', '1:3@2', '2:1@3', '2:3@5', '3:2@7']);
  });

  it('needs full bars', () => {
    const row = scoreOf('3/4 ; 3/4:1/2 ; 3/4');
    expect(codesOf(row, { click: 'hemiola:1-2' })).toEqual(['placement-lacks-metre']);
  });
});

describe('groups that the player names', () => {
  it('and that fit nothing in the passage are told', () => {
    const mixed = scoreOf('7/8 ; 4/4');
    expect(codesOf(mixed, { groups: '3+2+2' })).toEqual([]);
    expect(codesOf(mixed, { groups: '3+2+2', bars: '2' })).toEqual(['groups-unused']);
    expect(codesOf(mixed, { groups: '3+2' })).toEqual(['groups-unused']);
    expect(codesOf(scoreOf('8/8'), { groups: '2+2+2+2' })).toEqual([]);
  });

  it('are clicked where they fit', () => {
    // A tempo without a unit speaks of the eighth where beats are unequal.
    const clicks = clickText(worked(scoreOf('7/8 ; 5/8'), { groups: '3+2+2', tempo: ['60'] }));
    expect(clicks).toEqual(['1:1@0', '1:2@3', '1:3@5', '2:1@7', '2:2@9']);
  });
});
