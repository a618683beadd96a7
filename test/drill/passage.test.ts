/** Source of every check, unless said beside it: our definition (docs/drill.md, "The passage"). */
import { describe, expect, it } from 'vitest';
import { findPassage } from '../../src/rhythm/passage.ts';
import type { Mark, Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { note } from '../../src/units/index.ts';
import { bars, scoreOf } from '../support/scores.ts';

const passage = (score: Score, text: string, pass: number | null = null): string => {
  const found = findPassage(score, playingOrder(score).order, { bars: text, pass });
  if (!found.ok) return found.error.code;
  return found.value
    .map(({ barIndex, pass: time }) => `${score.bars[barIndex]?.number ?? ''}.${time}`)
    .join(' ');
};

const mark = (text: string, bar: number): Mark => ({ kind: 'rehearsal', text, bar, at: note(bar) });

describe('bars named by players', () => {
  // Bars 1-4 repeated with endings 3 and 4, then 5 and 6. Playing order: MusicXML 4.0, elements repeat and ending.
  const repeated = scoreOf('|: 4/4 ; 4/4 ; [1 4/4 ] :| ; [2 4/4 ] ; 4/4 ; 4/4');

  it('are the run of the playing order that goes from the first to the last', () => {
    expect(passage(repeated, '1-2')).toBe('1.1 2.1');
    expect(passage(repeated, '5')).toBe('5.1');
    expect(passage(repeated, '1-3')).toBe('1.1 2.1 3.1');
  });

  it('go on past a repeat the last time through', () => {
    expect(passage(repeated, '1-4')).toBe('1.2 2.2 4.1');
    expect(passage(repeated, '2-6')).toBe('2.2 4.1 5.1 6.1');
  });

  it('are taken on the time through that is asked for', () => {
    expect(passage(repeated, '1-2', 2)).toBe('1.2 2.2');
    expect(passage(repeated, '2-4', 1)).toBe('2.1 3.1 1.2 2.2 4.1');
    expect(passage(repeated, '1-2', 3)).toBe('pass-unknown');
  });

  it('are the whole piece with its repeats for "all"', () => {
    expect(passage(repeated, 'all')).toBe('1.1 2.1 3.1 1.2 2.2 4.1 5.1 6.1');
  });

  it('that are not there, reversed or never reached are told', () => {
    expect(passage(repeated, '7')).toBe('bar-unknown');
    expect(passage(repeated, '1-99')).toBe('bar-unknown');
    expect(passage(repeated, '5-2')).toBe('bars-reversed');
    expect(passage(repeated, '3-4')).toBe('3.1 1.2 2.2 4.1');
    const fine = scoreOf('4/4 Fine ; 4/4 ; 4/4 DC ; 4/4');
    expect(passage(fine, '3-4')).toBe('bars-not-played');
  });

  it('may be rehearsal marks: alone up to the next mark, as an end up to the mark', () => {
    const marked = { ...scoreOf('4/4 ; 4/4 ; 4/4 ; 4/4 ; 4/4 ; 4/4'), marks: [mark('A', 1), mark('B', 4)] };
    expect(passage(marked, 'A')).toBe('2.1 3.1 4.1');
    expect(passage(marked, 'B')).toBe('5.1 6.1');
    expect(passage(marked, 'A-B')).toBe('2.1 3.1 4.1');
    expect(passage(marked, 'a-6')).toBe('2.1 3.1 4.1 5.1 6.1');
    expect(passage(marked, '1-B')).toBe('1.1 2.1 3.1 4.1');
  });

  it('keep printed numbers as they are: letters, split bars, numbers that return', () => {
    const numbered = (numbers: readonly string[]) =>
      scoreOf(
        bars(numbers.map(() => '4/4').join(' ; ')).map((bar, i) => ({ ...bar, number: numbers[i] ?? '' })),
      );
    expect(passage(numbered(['1', '12a', '12b', '13']), '12a-13')).toBe('12a.1 12b.1 13.1');
    const split = scoreOf('4/4 ; 4/4:3/4 ; 4/4:1/4 ; 4/4').bars.map((bar, i) => ({
      ...bar,
      number: ['1', '2', '2', '3'][i] ?? '',
    }));
    expect(passage(scoreOf(split), '2')).toBe('2.1 2.1');
    const endings = scoreOf('|: 4/4 ; [1 4/4 ] :| ; [2 4/4 ]').bars.map((bar, i) => ({
      ...bar,
      number: ['1', '2', '2'][i] ?? '',
    }));
    expect(passage(scoreOf(endings), '2')).toBe('2.1');
    expect(passage(numbered(['1', '2', '1', '2']), '@2-@3')).toBe('1.1 2.1');
    const twice = numbered(['1', '2', '1', '2']);
    const found = findPassage(twice, playingOrder(twice).order, { bars: '2', pass: null });
    expect(found.ok && found.problems.map(({ code }) => code)).toEqual(['bar-number-twice']);
  });
});
