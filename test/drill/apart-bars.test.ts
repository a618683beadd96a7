import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clickText, parseClick, type ClickRule } from '../../src/click/placement.ts';
import { withTouch } from '../../src/drill/apartBars.ts';
import { asWritten, barGrids } from '../../src/rhythm/beats.ts';
import { worked } from '../support/drills.ts';
import { scoreOf } from '../support/scores.ts';

const rule = (text: string): ClickRule => {
  const read = parseClick(text);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
};

const clicks = (line: string, click: string, more: Parameters<typeof worked>[1] = {}): string[] =>
  worked(scoreOf(line), { click, ...more }).timeline.clicks.map(({ bar, beat }) => `${bar ?? ''}:${beat}`);

const grids = (line: string) => barGrids(scoreOf(line), asWritten);

const touched = (line: string, text: string, barIndex: number, beat: string): string => {
  const grid = grids(line)[barIndex];
  if (grid === undefined) throw new Error();
  const next = withTouch(
    rule(text),
    { score: scoreOf(line), grid, barIndex, barCount: barIndex, hemiola: null },
    beat,
  );
  if (!next.ok) throw new Error(next.error.message);
  return clickText(next.value);
};

const three = '4/4 ; 4/4 ; 4/4';

/** Definition: docs/drill.md, "The click". */
describe('bars apart', () => {
  it('are clicked by their own placement, all others by the rule', () => {
    expect(clicks(three, 'weak,2:1 3')).toEqual(['1:2', '1:4', '2:1', '2:3', '3:2', '3:4']);
    expect(clicks(three, 'none,2-3:bar')).toEqual(['2:1', '3:1']);
    expect(clicks(three, '2:none')).toEqual(
      ['1', '3'].flatMap((bar) => ['1', '2', '3', '4'].map((beat) => `${bar}:${beat}`)),
    );
  });

  it('the later one holds, over a hemiola too', () => {
    expect(clicks(three, 'bar,1-3:2,2:4')).toEqual(['1:2', '2:4', '3:2']);
    expect(clicks('3/4 ; 3/4', 'hemiola:1-2,2:3')).toEqual(['1:1', '1:3', '2:3']);
  });

  it('a beat that the bar has not is told, and what it has is clicked', () => {
    const result = worked(scoreOf('4/4 ; 3/4'), { click: 'bar,2:1 4' });
    expect(result.timeline.clicks.map(({ beat }) => beat)).toEqual(['1', '1']);
  });

  it('bars that are not there are an error', () => {
    expect(() => worked(scoreOf(three), { click: 'every,9:2' })).toThrow('"9"');
  });

  it('a bar apart may lie outside the passage', () => {
    expect(clicks(three, 'bar,3:2', { bars: '1-2' })).toEqual(['1:1', '2:1']);
  });
});

describe('a touch on a beat', () => {
  it('adds a click where there was none and takes one away, in that bar alone', () => {
    expect(touched(three, 'weak', 1, '3')).toBe('weak,2:2 3 4');
    expect(touched(three, 'weak', 1, '2')).toBe('weak,2:4');
    expect(touched(three, 'weak,2:4', 1, '4')).toBe('weak,2:none');
    expect(touched(three, 'weak,2:none', 1, '4')).toBe('weak,2:4');
    expect(touched(three, 'after', 0, '1+1/2')).toBe('after,1:2+1/2 3+1/2 4+1/2');
  });

  it('leaves nothing apart where it comes to the rule again', () => {
    expect(touched(three, 'weak,2:2', 1, '4')).toBe('weak');
    expect(touched(three, 'none,2:1', 1, '1')).toBe('none');
  });

  it('keeps what is said of wider stretches', () => {
    expect(touched(three, 'weak,1-3:bar', 1, '1')).toBe('weak,1-3:bar,2:none');
  });

  it('names a bar by its index where its number stands twice', () => {
    const score = scoreOf(three);
    const twice = { ...score, bars: score.bars.map((bar) => ({ ...bar, number: '1' })) };
    const grid = grids(three)[1];
    if (grid === undefined) throw new Error();
    const next = withTouch(rule('bar'), { score: twice, grid, barIndex: 1, barCount: 1, hemiola: null }, '2');
    expect(next.ok && clickText(next.value)).toBe('bar,@1:1 2');
  });

  const placements = fc.constantFrom('every', 'weak', 'after', 'bar', '2bars', '1/8', 'none', '2', '1 2&');
  const metres = fc.constantFrom('4/4', '3/4', '6/8', '2/2', '7/8', '5/4');

  it('changes that very place and no other click; the same touch once more undoes it', () => {
    fc.assert(
      fc.property(
        placements,
        fc.array(metres, { minLength: 3, maxLength: 3 }),
        fc.array(fc.tuple(fc.nat(2), fc.nat(20)), { minLength: 1, maxLength: 6 }),
        (placement, list, touches) => {
          const line = ['4/4', ...list].join(' ; ');
          const play = (text: string): string[] | null => {
            try {
              return clicks(line, text);
            } catch {
              return null;
            }
          };
          let text: string = placement;
          for (const [bar, nth] of touches) {
            const grid = grids(line)[bar + 1];
            if (grid === undefined) throw new Error();
            const beat = String((nth % grid.beats.length) + 1);
            const before = play(text);
            const next = touched(line, text, bar + 1, beat);
            const after = play(next);
            const place = `${bar + 2}:${beat}`;
            if (before !== null && after !== null) {
              expect(after.includes(place)).toBe(!before.includes(place));
              const rest = (all: string[]) => all.filter((one) => one !== place);
              expect(rest(after)).toEqual(rest(before));
              expect(play(touched(line, next, bar + 1, beat))).toEqual(before);
            }
            text = next;
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  it('is written as it is read', () => {
    fc.assert(
      fc.property(
        placements,
        fc.array(fc.tuple(fc.nat(300), placements), { maxLength: 4 }),
        (base, apart) => {
          const text = [base, ...apart.map(([bar, own]) => `${bar}:${own}`)].join(',');
          expect(clickText(rule(text))).toBe(text);
        },
      ),
    );
    expect(clickText(rule('bar,hemiola:14-15,16:2'))).toBe('bar,hemiola:14-15,16:2');
  });
});
