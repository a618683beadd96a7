/** Which upbeat a drill gets. Source: our definition (docs/drill.md, "Upbeat"). */
import { describe, expect, it } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { F } from '../../src/units/index.ts';
import { clickText, codesOf, pickups, worked } from '../support/drills.ts';
import { music } from '../support/music.ts';
import { bars, scoreOf } from '../support/scores.ts';

const upbeat = (score: Score, drill: Parameters<typeof worked>[1]): string =>
  F.format(worked(score, { upbeat: 'auto', ...drill }).round.upbeat);

describe('the upbeat of a passage', () => {
  it('is looked for in the chosen parts only', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/1 | D4/1', P2: 'r/2. C3/4 | D3/1' });
    expect(upbeat(score, { bars: '2' })).toBe('1/4');
    expect(upbeat(score, { bars: '2', parts: ['P1'] })).toBe('0');
    expect(upbeat(score, { bars: '2', parts: ['P2'] })).toBe('1/4');
  });

  it('is not sought before a passage that begins with a pickup bar: that is the upbeat', () => {
    const row = pickups(bars('4/4 ; 4/4:1/4 ; 4/4'), 1);
    const score = music(row, { P1: 'C4/2. D4/4 | E4/4 | F4/1' });
    expect(upbeat(score, { bars: '2-3' })).toBe('1/4');
    // A length that the player names is taken all the same.
    expect(upbeat(score, { bars: '2-3', upbeat: '1/8' })).toBe('3/8');
  });

  it('stands in the bar played before, not in the one written before', () => {
    const score = music('|: 4/4 ; 4/4 :| ; 4/4', { P1: 'r/2 C4/2 | r/2. D4/4 | E4/1' });
    // The second time, bar 1 is played after bar 2; there is nothing before it the first time.
    expect(upbeat(score, { bars: '1' })).toBe('0');
    expect(upbeat(music('|: 4/4 ; 4/4 :|', { P1: 'C4/1 | r/2. D4/4' }), { bars: '1', pass: 2 })).toBe('1/4');
    expect(upbeat(score, { bars: '3' })).toBe('1/4');
  });

  // A bar of 2/4 whose notes all run into the next bar; whether a section begins with it is seen from what stands before.
  it.each([
    ['nothing before', '4/4:1/2 ; 4/4', 'C4/4 D4/4 | E4/1', '2', '1/2'],
    ['a plain bar', '4/4 ; 4/4:1/2 ; 4/4', 'C4/1 | C4/4 D4/4 | E4/1', '3', '0'],
    ['a double bar', '4/4 || ; 4/4:1/2 ; 4/4', 'C4/1 | C4/4 D4/4 | E4/1', '3', '1/2'],
    ['a final bar line', '4/4 ||| ; 4/4:1/2 ; 4/4', 'C4/1 | C4/4 D4/4 | E4/1', '3', '1/2'],
    ['the end of a repeat', '4/4 :| ; 4/4:1/2 ; 4/4', 'C4/1 | C4/4 D4/4 | E4/1', '3', '1/2'],
    ['the beginning of a repeat', '4/4 ; |: 4/4:1/2 ; 4/4 :|', 'C4/1 | C4/4 D4/4 | E4/1', '3', '1/2'],
  ])('begins a section after %s', (_, line, notes, named, expected) => {
    expect(upbeat(music(pickups(bars(line)), { P1: notes }), { bars: named })).toBe(expected);
  });

  it('keeps downbeats whole bars apart and the count from the named bar, be it a whole bar itself', () => {
    const short = music(pickups(bars('4/4:1/2 ; 4/4')), { P1: 'C4/4 D4/4 | E4/1' });
    const downbeats = worked(short, { bars: '2', upbeat: 'auto', times: 3 })
      .timeline.clicks.filter(({ bar, beat }) => bar === '2' && beat === '1')
      .map(({ time }) => F.format(time));
    expect(downbeats).toEqual(['2', '10', '18']);
    const four = scoreOf('4/4 ; 4/4 ; 4/4');
    const clicks = (click: string) => clickText(worked(four, { bars: '2-3', upbeat: '1', click }));
    expect(clicks('bar')).toEqual(['1:1@0', '2:1@4', '3:1@8']);
    expect(clicks('2bars')).toEqual(['2:1@4']);
    expect(clicks('weak').slice(0, 3)).toEqual(['1:2@1', '1:4@3', '2:2@5']);
  });

  it('is none where the player says so, and as long as the player says', () => {
    const score = scoreOf('4/4 ; 4/4');
    expect(upbeat(score, { bars: '2', upbeat: 'none' })).toBe('0');
    expect(upbeat(score, { bars: '2', upbeat: '1/8' })).toBe('1/8');
    expect(upbeat(score, { bars: '2', upbeat: '1' })).toBe('1');
    expect(codesOf(score, { bars: '2', upbeat: 'long' })).toEqual(['upbeat-unknown']);
    expect(codesOf(score, { bars: '2', upbeat: '9/8' })).toEqual(['upbeat-unknown']);
    expect(codesOf(score, { bars: '1', upbeat: '1/8' })).toEqual(['upbeat-unknown']);
  });
});
