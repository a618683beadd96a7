/**
 * A fermata over a bar line: no note lasts longer, so no click is silent; a bar is counted before the music goes on.
 * Source of every check, unless said beside it: our definition (docs/drill.md, "The click"); times by hand, quarters of one second.
 */
import { describe, expect, it } from 'vitest';
import { extractScore } from '../../src/drill/extract.ts';
import { barText, clickText, codesOf, worked } from '../support/drills.ts';
import { music } from '../support/music.ts';

const counted = { countIn: 'first:1' } as const;

describe('a fermata over a bar line', () => {
  const score = music('4/4 F ; 3/4 ; 3/4 F', { P1: 'C4/1 | D4/2. | E4/2.' });

  it('counts one bar of what goes on again, and silences no click', () => {
    expect(clickText(worked(score, { ...counted, bars: '1-2' })).slice(4)).toEqual([
      '1:1@4',
      '1:2@5',
      '1:3@6',
      '1:4@7',
      'one@8',
      'two@9',
      'three@10',
      '2:1@11',
      '2:2@12',
      '2:3@13',
    ]);
    expect(codesOf(score, counted)).toEqual([]);
  });

  it('at the end of the passage counts nothing: nothing goes on', () => {
    expect(barText(worked(score, counted)).slice(1)).toEqual(['1:1', 'hold:3/4', '2:3/4', '3:3/4']);
    expect(barText(worked(score, { ...counted, bars: '1' })).slice(1)).toEqual(['1:1']);
  });

  it('is clicked through where fermatas are', () => {
    expect(barText(worked(score, { ...counted, holds: 'through' })).slice(1)).toEqual([
      '1:1',
      '2:3/4',
      '3:3/4',
    ]);
  });

  it('together with one over the last note is counted once', () => {
    const both = music('4/4 F ; 4/4', { P1: 'C4/2 D4/2! | E4/1' });
    expect(barText(worked(both, counted)).slice(1)).toEqual(['1:1', 'hold:1', '2:1']);
  });

  it('counts before whichever bar is played next, so also before a repeat begins again', () => {
    const repeat = music('|: 4/4 F :| ; 3/4', { P1: 'C4/1 | D4/2.' });
    expect(barText(worked(repeat, { ...counted, bars: 'all' })).slice(1)).toEqual([
      '1:1',
      'hold:1',
      '1:1',
      'hold:3/4',
      '2:3/4',
    ]);
  });

  it('is counted into no music without metre, where there is nothing to count', () => {
    const free = music('4/4 F ; free:1/1', { P1: 'C4/1 | D4/1' });
    expect(barText(worked(free, counted)).slice(1)).toEqual(['1:1', '2:1']);
  });

  it('stands in the extract too', () => {
    expect(extractScore(worked(score, counted)).bars.map(({ fermata }) => fermata)).toEqual([
      true,
      false,
      true,
    ]);
  });
});
