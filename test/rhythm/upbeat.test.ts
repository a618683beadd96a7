/**
 * Where the phrase begins. Source of every check, unless said beside it: our definition (docs/drill.md, "Upbeat", and rules
 * 1 to 5 in src/rhythm/upbeat.ts, which follow the grouping rules of Lerdahl & Jackendoff 1983, from memory).
 */
import { describe, expect, it } from 'vitest';
import { asWritten, barGrids } from '../../src/rhythm/beats.ts';
import { upbeatLength } from '../../src/rhythm/upbeat.ts';
import { F } from '../../src/units/index.ts';
import { pickups } from '../support/drills.ts';
import { music } from '../support/music.ts';
import { bars } from '../support/scores.ts';

interface Given {
  /** The bar before and the bar that it leads into. */
  readonly metres?: string;
  readonly pickup?: boolean;
  readonly atEdge?: boolean;
}

/** The upbeat that some voices or parts play before their second bar. */
const upbeat = (parts: string | readonly string[], given: Given = {}): string => {
  const row = pickups(bars(given.metres ?? '4/4 ; 4/4'), ...(given.pickup === true ? [0] : []));
  const lines = typeof parts === 'string' ? [parts] : parts;
  const score = music(row, Object.fromEntries(lines.map((line, i) => [`P${i + 1}`, line])));
  const [before, into] = score.bars;
  const [grid] = barGrids(score, asWritten);
  if (before === undefined || into === undefined || grid === undefined) throw new Error();
  return F.format(upbeatLength(score.parts, { before, into, atEdge: given.atEdge ?? false }, grid));
};

describe('rule 1: notes are read back from the bar line as long as one runs into the next', () => {
  it.each([
    ['what runs on to the bar line', 'r/2 r/8 C4/8 D4/8 E4/8 | F4/1', '3/8'],
    ['a rest on the last beat parts it from the bar line', 'r/2 C4/4 r/4 | F4/1', '0'],
    ['only what stands after the latest rest', 'r/4 C4/4 r/4 D4/4 | F4/1', '1/4'],
    ['a rest on the first beat: nobody is led into it', 'r/2. C4/4 | r/4 F4/2.', '0'],
    ['a note held over into the first beat is a note on it', 'r/2. C4/4~ | C4/1', '1/4'],
    ['only the voice that goes on', 'r/1 & r/2 C3/2 | F4/1 & r/1', '0'],
    ['the voice that goes on, not the other', 'r/2. C4/4 & r/2 C3/2 | F4/1 & r/1', '1/4'],
    ['a chord counts as one', 'r/2 C4/8 D4+F4/8 E4/4 | F4/1', '1/2'],
    ['cue notes are no part of it', 'r/2 C4/4c D4/4 | F4/1', '1/4'],
    ['grace notes take no time from it', 'r/2 C4/4 B3/16g D4/4 | F4/1', '1/2'],
  ])('%s: %s', (_, line, expected) => {
    expect(upbeat(line)).toBe(expected);
  });
});

describe('rule 2: the phrase begins after silence, a sign, or a long note', () => {
  it.each([
    ['a rest', 'C4/4 D4/4 r/4 E4/4 | F4/1', '1/4'],
    ['a breath mark', 'C4/4 D4/4 E4/4, F4/4 | G4/1', '1/4'],
    ['a caesura', 'C4/4 D4/4 E4/4^ F4/4 | G4/1', '1/4'],
    ['a fermata', 'C4/4 D4/4 E4/4! F4/4 | G4/1', '1/4'],
    ['none of them', 'C4/4 D4/4 E4/4 F4/4 | G4/1', '0'],
    ['the latest of two signs', 'C4/4 D4/4! E4/4, F4/4 | G4/1', '1/4'],
    ['a note of half a bar, twice as long as the next', 'C4/2 D4/4 E4/4 | F4/1', '1/2'],
    ['a note of half a bar, not twice as long as the next', 'C4/2 D4/2 | F4/1', '0'],
    ['a note twice as long, but under half a bar', 'C4/4 D4/4 E4/4 F4/8 G4/8 | A4/1', '0'],
    ['a dotted half before a quarter', 'C4/2. D4/4 | E4/1', '1/4'],
    ['a long note and then a run', 'C4/2. D4/8 E4/8 | F4/1', '1/4'],
    ['a long note that runs on into a tie is one phrase with it', 'C4/2.~ C4/4 | F4/1', '0'],
    ['the first note itself is held over from before', 'r/1 | C4/1', '0'],
  ])('%s: %s', (_, line, expected) => {
    expect(upbeat(line)).toBe(expected);
  });

  it('begins with a bar that is all upbeat where a double bar or repeat stands before it, and else does not', () => {
    // Two quarters in 2/4 are a bar; three beats of four are too many even at an edge, two of three are not.
    const short = { metres: '4/4:1/2 ; 4/4' };
    expect(upbeat('C4/4 D4/4 | E4/1', { ...short, atEdge: true })).toBe('1/2');
    expect(upbeat('C4/4 D4/4 | E4/1', { ...short, atEdge: false })).toBe('0');
  });

  it('does not begin on a note held over from the bar before', () => {
    const row = bars('4/4 ; 4/4:1/2 ; 4/4');
    const score = music(row, { P1: 'C4/1~ | C4/2 | D4/1' });
    const [, before, into] = score.bars;
    const grid = barGrids(score, asWritten)[1];
    if (before === undefined || into === undefined || grid === undefined) throw new Error();
    expect(F.format(upbeatLength(score.parts, { before, into, atEdge: true }, grid))).toBe('0');
  });
});

describe('rule 2, where a line is handed over: no phrase begins', () => {
  const takes = 'r/2 C4/8 D4/8 E4/8 F4/8 | G4/1';
  it.each([
    ['a player stops as the other begins', 'C4/8 D4/8 E4/8 F4/8 r/2 | r/1', '0'],
    ['a player stops on the very note with which the other begins', 'C4/4. F4/8 C5/8 r/4. | r/1', '0'],
    ['the last note is longer than the first', 'C4/8 D4/8 E4/4 r/2 | r/1', '1/2'],
    ['the player plays on', 'C4/8 D4/8 E4/8 F4/8 G4/2 | A4/1', '1/2'],
    ['the player stops earlier', 'C4/8 D4/8 E4/8 r/8 r/2 | r/1', '1/2'],
  ])('%s', (_, gives, expected) => {
    expect(upbeat([gives, takes])).toBe(expected);
    expect(upbeat([takes, gives])).toBe(expected);
  });

  it('but nobody hands over to oneself', () => {
    expect(upbeat('C4/8 r/4. & r/2 C4/8 D4/8 E4/8 F4/8 | r/1 & G4/1')).toBe('1/2');
  });
});

describe('rule 3: an upbeat is at most half the bar, two beats of three', () => {
  it.each([
    ['4/4 ; 4/4', 'r/2 C4/4 D4/4 | E4/1', '1/2'],
    ['4/4 ; 4/4', 'r/4. C4/8 D4/4 E4/4 | F4/1', '0'],
    ['3/4 ; 3/4', 'r/4 C4/4 D4/4 | E4/2.', '1/2'],
    ['3/4 ; 3/4', 'r/8 C4/8 D4/4 E4/4 | F4/2.', '0'],
    ['3/8 ; 3/8', 'r/8 C4/8 D4/8 | E4/4.', '1/4'],
    ['9/8 ; 9/8', 'r/4. C4/4. D4/4. | E4/2. F4/4.', '3/4'],
    ['6/8 ; 6/8', 'r/4. C4/8 D4/8 E4/8 | F4/2.', '3/8'],
    ['6/8 ; 6/8', 'r/4 C4/8 D4/8 E4/8 F4/8 | G4/2.', '0'],
    ['2/4 ; 2/4', 'r/4 C4/4 | D4/2', '1/4'],
    ['2/4 ; 2/4', 'r/8 C4/8 D4/4 | E4/2', '0'],
    ['5/4 ; 5/4', 'r/2. C4/4 D4/4 | E4/1 F4/4', '1/2'],
    ['5/4 ; 5/4', 'r/2 C4/4 D4/4 E4/4 | F4/1 G4/4', '0'],
    // Groups 2+2+3 of the usual kind: three beats, so two of them are an upbeat.
    ['7/8 ; 7/8', 'r/4 C4/4 D4/4. | E4/2.. ', '5/8'],
  ])('in %s: %s', (metres, line, expected) => {
    expect(upbeat(line, { metres })).toBe(expected);
  });

  it('does not fall back on a later beginning where the whole is too long', () => {
    // The run begins after a rest at beat 1+1/2; nothing in it begins a phrase anew.
    expect(upbeat('r/8 C4/8 D4/4 E4/4 F4/4 | G4/1')).toBe('0');
  });
});

describe('rule 4: a pickup bar that sounds is an upbeat as a whole', () => {
  const given = { metres: '4/4:1/4 ; 4/4', pickup: true };
  it('whatever its rests, and even beyond half a bar', () => {
    expect(upbeat('C4/4 | D4/1', given)).toBe('1/4');
    expect(upbeat('r/8 C4/8 | D4/1', given)).toBe('1/4');
    expect(upbeat('C4/4 D4/4 E4/4 | F4/1', { metres: '4/4:3/4 ; 4/4', pickup: true })).toBe('3/4');
    expect(upbeat('C4/4 | r/1', given)).toBe('1/4');
  });
  it('and where nobody plays in it, none', () => {
    expect(upbeat('r/4 | D4/1', given)).toBe('0');
    expect(upbeat(['r/4 | D4/1', 'C4/4 | D4/1'], given)).toBe('1/4');
  });
  it('and where the score has bars only', () => {
    expect(upbeat([], given)).toBe('1/4');
    expect(upbeat([])).toBe('0');
  });
});

describe('rule 5: of several voices the longest upbeat counts', () => {
  it('whichever part or voice has it', () => {
    const [short, long, none] = ['r/2. C4/4 | D4/1', 'r/2 C4/4 D4/4 | E4/1', 'C4/1 | D4/1'];
    expect(upbeat([short, long, none])).toBe('1/2');
    expect(upbeat([long, short])).toBe('1/2');
    expect(upbeat('r/2. C4/4 & r/2 C3/4 D3/4 | E4/1 & E3/1')).toBe('1/2');
  });
  it('of those that are short enough', () => {
    expect(upbeat(['r/4 C4/4 D4/4 E4/4 | F4/1', 'r/2. C4/4 | D4/1'])).toBe('1/4');
  });
});
