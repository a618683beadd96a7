/**
 * Playing order. "MusicXML" in a comment is the W3C MusicXML 4.0 specification, by element; the words quoted stand in
 * musicxml.xsd. Other rules are common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { playingOrder, type PlayingOptions } from '../../src/score/playing.ts';
import { F } from '../../src/units/index.ts';
import { bars, scoreOf } from '../support/scores.ts';

const order = (line: string, options: PlayingOptions = {}): string =>
  playingOrder(scoreOf(line), options)
    .order.visits.map(({ barIndex }) => barIndex + 1)
    .join(' ');
const codes = (line: string): string[] => playingOrder(scoreOf(line)).problems.map(({ code }) => code);

describe('repeats', () => {
  it('plays bars without signs as written', () => {
    expect(order('4/4 ; 4/4 ; 4/4')).toBe('1 2 3');
    expect(codes('4/4 ; 4/4 ; 4/4')).toEqual([]);
  });
  it('goes back to the forward sign, or to the start where there is none', () => {
    expect(order('4/4 ; |: 4/4 ; 4/4 :| ; 4/4')).toBe('1 2 3 2 3 4');
    expect(order('4/4 ; 4/4 :| ; 4/4')).toBe('1 2 1 2 3');
  });
  it('takes a pickup bar along when it goes back to the start, unless a sign says otherwise', () => {
    expect(order('4/4:1/4 ; 4/4 ; 4/4:3/4 :|')).toBe('1 2 3 1 2 3');
    expect(order('4/4:1/4 ; |: 4/4 ; 4/4:3/4 :|')).toBe('1 2 3 2 3');
  });
  it('goes back to the bar after the last repeat where there is no forward sign (two-part form)', () => {
    // MusicXML, sound: a forward repeat may be "implied but not displayed ... for example in two-part forms".
    expect(order('4/4 :| ; 4/4 ; 4/4 :|')).toBe('1 1 2 3 2 3');
    expect(order('4/4 ; |: 4/4 :| ; 4/4 ; 4/4 :|')).toBe('1 2 2 3 4 3 4');
  });
  it('does not go back over the end of a movement', () => {
    expect(order('4/4 ; 4/4 ||| ; 4/4 ; 4/4 :|')).toBe('1 2 3 4 3 4');
  });
  it('plays a section as often as it says', () => {
    // MusicXML, repeat: "The times attribute indicates the number of times the repeated section is played."
    expect(order('4/4 :|x5 ; 4/4')).toBe('1 1 1 1 1 2');
  });
  it('plays a nested repeat in full each time through, and says so', () => {
    expect(order('|: 4/4 ; |: 4/4 :| ; 4/4 :|')).toBe('1 2 2 3 1 2 2 3');
    expect(codes('|: 4/4 ; |: 4/4 :| ; 4/4 :|')).toEqual(['repeat-nested']);
  });
  it('ignores a repeat that does not end', () => {
    expect(order('4/4 ; |: 4/4 ; 4/4')).toBe('1 2 3');
    expect(codes('4/4 ; |: 4/4 ; 4/4')).toEqual(['repeat-unended']);
  });
  it('numbers the passes of each bar and lays the visits end to end', () => {
    const { order: played } = playingOrder(scoreOf('4/4:1/4 ; 3/4 :| ; 2/4'));
    expect(played.visits.map(({ pass, start }) => [pass, F.format(start)])).toEqual([
      [1, '0'],
      [1, '1/4'],
      [2, '1'],
      [2, '5/4'],
      [1, '2'],
    ]);
    expect(F.format(played.length)).toBe('5/2');
  });
});

describe('endings', () => {
  // MusicXML, ending: "The number attribute indicates which times the ending is played".
  it('plays first and second ending', () => {
    expect(order('4/4 ; [1 4/4 ] :| ; [2 4/4 ) ; 4/4')).toBe('1 2 1 3 4');
    expect(codes('4/4 ; [1 4/4 ] :| ; [2 4/4 ) ; 4/4')).toEqual([]);
  });
  it('plays "1, 2" twice and then "3"', () => {
    expect(order('|: 4/4 ; [1,2 4/4 ; 4/4 ] :| ; [3 4/4 ] ; 4/4')).toBe('1 2 3 1 2 3 1 4 5');
  });
  it('plays 1, 3 and 2, 4 in turn', () => {
    expect(order('|: 4/4 ; [1,3 4/4 ] :| ; [2,4 4/4 ] :| ; 4/4')).toBe('1 2 1 3 1 2 1 3 4');
  });
  it('leaves a lone first ending out the second time', () => {
    expect(order('4/4 ; [1 4/4 ] :| ; 4/4')).toBe('1 2 1 3');
  });
  it('begins the next section after the last ending', () => {
    expect(order('4/4 ; [1 4/4 ] :| ; [2 4/4 ) ; 4/4 ; [1 4/4 ] :| ; [2 4/4 ]')).toBe('1 2 1 3 4 5 4 6');
  });
  it('plays repeats inside endings', () => {
    // The structure of 45i of the public MusicXML test suite, in words: "In the first one (enclosing bar 2 to bar 4),
    // there is a nested repeat enclosing bar 3. In the second one (from bar 5 to bar 6), there is another nested repeat".
    expect(order('4/4 ; [1 4/4 ; |: 4/4 :| ; 4/4 ] :| ; |: [2 4/4 :| ; 4/4 ) ; 4/4')).toBe(
      '1 2 3 3 4 1 5 5 6 7',
    );
  });
  it('does not follow a repeat sign at the last ending', () => {
    const line = '4/4 ; [1 4/4 ] :| ; [2 4/4 ] :| ; 4/4';
    expect(order(line)).toBe('1 2 1 3 4');
    expect(codes(line)).toEqual(['repeat-after-last-ending']);
  });
  it.each([
    ['4/4 ; [ 4/4 ] :| ; [ 4/4 ]', '1 2 1 3', ['ending-number-missing', 'ending-number-missing']],
    ['4/4 ; [1 4/4 :| ; [2 4/4 ; 4/4', '1 2 1 3 4', ['ending-unclosed', 'ending-unclosed']],
    ['4/4 ; [1 4/4 ] :| ; [3 4/4 ]', '1 2 1 3', ['ending-missing']],
    ['4/4 ; 4/4 ] ; 4/4', '1 2 3', ['ending-without-start']],
    ['4/4 ; [1 4/4 ] ; 4/4', '1 2 3', ['ending-without-repeat']],
    ['4/4 ; [1 4/4 :| ; 4/4 ] ; [2 4/4 ]', '1 2 1 3 4', ['ending-too-long', 'ending-without-repeat']],
    ['|: 4/4 ; [1 4/4 ] ; 4/4 :| ; [2 4/4 ) ; 4/4', '1 2 3 1 3 4 5', ['ending-mismatch']],
    ['4/4 ; [1,2 4/4 ] :| ; [2 4/4 ]', '1 2 1 2 3', ['ending-overlap']],
    ['4/4 ; [1,99999 4/4 ] :| ; [2 4/4 ]', '1 2 1 3', ['ending-number-absurd']],
    ['|: 4/4 ; [1 4/4 ] ; [2 4/4 ] :| ; [3 4/4 ]', '1 2 1 3 1 4', ['ending-without-repeat-sign']],
    ['4/4 :|x5000 ; 4/4', '1 1 2', ['repeat-times-absurd']],
  ])('mends %s and says so', (line, played, said) => {
    expect(order(line)).toBe(played);
    expect(codes(line)).toEqual(said);
  });
});

describe('da capo, dal segno, coda, fine', () => {
  it('goes back once and stops at the fine', () => {
    expect(order('4/4 ; 4/4 Fine ; 4/4 DC')).toBe('1 2 3 1 2');
    expect(order('4/4 ; S 4/4 ; 4/4 Fine ; 4/4 DS')).toBe('1 2 3 4 2 3');
  });
  it('goes to the coda only after the jump', () => {
    // MusicXML, sound: "a dalsegno or dacapo attribute indicates that the jump should occur the first time through,
    // while a tocoda attribute indicates the jump should occur the second time through".
    expect(order('4/4 ; S 4/4 TC ; 4/4 DS ; O 4/4 ; 4/4')).toBe('1 2 3 2 4 5');
    expect(order('4/4 TC ; 4/4 DC ||| ; O 4/4')).toBe('1 2 1 3');
  });
  it('plays a minuet and trio: repeats before the da capo, none after it', () => {
    const minuet = '4/4 :| ; 4/4 :| Fine ; |: 4/4 :| ; 4/4 :| DC';
    expect(order(minuet)).toBe('1 1 2 2 3 3 4 4 1 2');
    expect(order(minuet, { repeatsAfterJump: true })).toBe('1 1 2 2 3 3 4 4 1 1 2 2');
  });
  it('repeats after a jump where the sign asks for it, unless told not to', () => {
    // MusicXML, repeat: "The after-jump attribute indicates if the repeats are played after a jump".
    const line = '4/4 :| aj ; 4/4 :| Fine ; 4/4 DC';
    expect(order(line)).toBe('1 1 2 2 3 1 1 2');
    expect(order(line, { repeatsAfterJump: false })).toBe('1 1 2 2 3 1 2');
  });
  it('takes the last ending after a jump', () => {
    expect(order('4/4 ; [1 4/4 ] :| ; [2 4/4 ] Fine ; 4/4 DC')).toBe('1 2 1 3 4 1 3');
  });
  it('takes the ending that leads to the fine after a jump', () => {
    expect(order('|: 4/4 ; [1 4/4 ] :| ; [2 4/4 Fine ; 4/4 ] :| ; [3 4/4 ] DC')).toBe('1 2 1 3 4 1 5 1 3');
  });
  it('repeats in the coda, which was not played before', () => {
    expect(order('4/4 TC ; 4/4 DC ; O 4/4 ; |: 4/4 :| ; 4/4')).toBe('1 2 1 3 4 4 5');
  });
  it('waits for the repeat that is still to come', () => {
    expect(order('4/4 ; |: 4/4 ; 4/4 DC ; 4/4 :| ; 4/4')).toBe('1 2 3 4 2 3 1 2 3 4 5');
  });
  it('tells several signs apart by name', () => {
    expect(order('S=a 4/4 ; S=b 4/4 ; 4/4 DS=b ; 4/4 DS=a ; 4/4')).toBe('1 2 3 2 3 4 1 2 3 4 5');
  });
  it('lets endings be for before and after a jump', () => {
    // MusicXML, ending: the number "can also indicate whether an ending is played during a larger dal segno or da capo".
    expect(order('4/4 ; [1 4/4 ] DC ; [2 4/4 ] ; 4/4')).toBe('1 2 1 3 4');
  });
  it('goes back to the beginning of the movement', () => {
    // MusicXML, sound: "Dacapo indicates to go back to the beginning of the movement."
    expect(order('4/4 ||| ; 4/4 Fine ; 4/4 DC ||| ; 4/4')).toBe('1 2 3 2 4');
  });
  it('plays the movement after a minuet and trio', () => {
    expect(order('4/4 :| Fine ; 4/4 :| DC ||| ; 4/4')).toBe('1 1 2 2 1 3');
  });
  it('knows a movement by bar numbers that begin again', () => {
    const line = bars('4/4 ; 4/4 :| ; 4/4 Fine ; 4/4 DC').map((bar, i) => ({
      ...bar,
      number: String((i % 2) + 1),
    }));
    const { order: played } = playingOrder(scoreOf(line));
    expect(played.visits.map(({ barIndex }) => barIndex + 1)).toEqual([1, 2, 1, 2, 3, 4, 3]);
  });
  it('keeps a minuet and its trio together where only the minuet has a fine', () => {
    const line = bars('4/4 ; 4/4 Fine ; 4/4 ; 4/4 DC').map((bar, i) => ({
      ...bar,
      number: String((i % 2) + 1),
    }));
    const { order: played } = playingOrder(scoreOf(line));
    expect(played.visits.map(({ barIndex }) => barIndex + 1)).toEqual([1, 2, 3, 4, 1, 2]);
  });
  it.each([
    ['4/4 ; 4/4 DS', '1 2', ['jump-target-missing']],
    ['4/4 TC ; 4/4 DC', '1 2 1 2', ['jump-target-missing']],
    ['S=x 4/4 Fine ; 4/4 DS=y', '1 2 1', ['jump-name-mismatch']],
    ['4/4 ; 4/4 DC', '1 2 1 2', ['fine-missing']],
    ['4/4 Fine ; 4/4', '1 2', ['fine-without-jump']],
    ['4/4 Fine ; [1 4/4 DC ; 4/4 ] :| ; [2 4/4 ]', '1 2 3 1 4', ['jump-never-taken']],
    // What a jump that is never taken would do is not said.
    ['4/4 ; [1 4/4 DC ; 4/4 ] :| ; [2 4/4 ]', '1 2 3 1 4', ['jump-never-taken']],
    ['4/4 TC ; 4/4 DC ; 4/4 ; O 4/4', '1 2 1 4', ['bar-never-played']],
  ])('mends %s and says so', (line, played, said) => {
    expect(order(line)).toBe(played);
    expect(codes(line)).toEqual(said);
  });
});

it('ends where nested repeats ask for more than anyone plays', () => {
  const line = `${'|: 4/4 ; '.repeat(20)}4/4${' :|x9 ; 4/4'.repeat(20)}`;
  const { order: played, problems } = playingOrder(scoreOf(line));
  expect(problems.map(({ code }) => code)).toContain('playing-order-too-long');
  expect(played.visits).toHaveLength(41);
});
