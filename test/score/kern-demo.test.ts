/**
 * The demo piece and the piece of odd cases, written down once as MusicXML and once as Humdrum **kern: the same music but for what
 * kern can not carry, which is listed here exactly.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import type { Problem } from '../../src/units/index.ts';
import { sameMusic } from '../support/sameMusic.ts';

const read = (...at: string[]): { score: Score; problems: readonly Problem[] } => {
  const result = readScore(readFileSync(path.resolve(...at)));
  if (!result.ok) throw new Error(result.error.message);
  return { score: result.value, problems: result.problems };
};

const formats = ['test', 'score', 'formats'] as const;
const told = (problems: readonly Problem[]): string[] =>
  problems.map(({ severity, code, part, bar }) => `${severity} ${code} ${part ?? '-'} ${bar ?? '-'}`);
const played = (score: Score): number[] => playingOrder(score).order.visits.map(({ barIndex }) => barIndex);

/** The score without what stands under the given kinds of directions. */
const without = (score: Score, ...kinds: string[]): Score => ({
  ...score,
  parts: score.parts.map((part) => ({
    ...part,
    directions: part.directions.filter(({ kind }) => !kinds.includes(kind)),
  })),
});

describe('the demo as kern', () => {
  const original = read('demo', 'lanterns-on-the-towpath.musicxml').score;
  const kern = read(...formats, 'lanterns.krn');

  test('is the same music but for the dashes behind "rit." and the bar that two hairpins end in', () => {
    // Kern has no dashed line behind words. A hairpin ends on a line of its column: at the bar line it belongs to the bar before.
    expect(
      original.parts.map(({ directions }) => directions.filter(({ kind }) => kind === 'dashes').length),
    ).toEqual([2, 0]);
    expect(sameMusic(without(original, 'dashes'), kern.score)).toEqual([
      'part P1 direction 3: bar 7 / 6',
      'part P2 direction 2: bar 7 / 6',
    ]);
  });

  test('says nothing of what it reads and is played in the same order', () => {
    expect(told(kern.problems)).toEqual([]);
    expect(played(kern.score)).toEqual(played(original));
  });
});

describe('the piece of odd cases as kern', () => {
  const original = read(...formats, 'odd.musicxml').score;
  const kern = read(...formats, 'odd.krn');

  test('is the same music but for what kern can not carry', () => {
    const marks = (ornaments: string): string =>
      `{"arpeggio":false,"articulations":[],"dynamics":[],"fermata":null,"ornaments":[${ornaments}],"slurs":[],"technical":[]}`;
    expect(sameMusic(original, kern.score)).toEqual([
      // The rest of a split bar has no number in kern: numbers are digits and a letter (reference, barlines).
      'bar 4: number "X1" / ""',
      // Endings are sections: whether the last bracket is closed is not told.
      'bar 7: ending {"begins":true,"ends":"stop","numbers":[2],"text":"2."} / {"begins":true,"ends":"discontinue","numbers":[2],"text":"2."}',
      // A trill is one sign, with or without its wavy line.
      `part P1 written 14: marks ${marks('"trill-mark","wavy-line","wavy-line"')} / ${marks('"trill-mark"')}`,
      // No quarter tones (reference, **kern: "nominally equally-tempered values").
      'part P1 written 28: accidental "quarter-sharp" / ""; pitch {"alter":0.5,"octave":5,"step":"G"} / {"alter":0,"octave":5,"step":"G"}',
      'part P1 note 23: midi 77.5 / 77; pitch {"alter":0.5,"octave":5,"step":"G"} / {"alter":0,"octave":5,"step":"G"}',
      // A key that is none in particular: no key is named.
      'part P3 key 0: mode "none" / ""',
      // A spine is one staff: notes that cross to the other stay with their spine.
      'part P4 written 20: staff 2 / 1',
      'part P4 written 21: staff 2 / 1',
      'part P4 note 17: staff 2 / 1',
      'part P4 note 18: staff 2 / 1',
    ]);
  });

  test('tells what it follows from print and what it does not keep', () => {
    expect(told(kern.problems)).toEqual([
      'assumption jump-from-print - 1',
      'assumption jump-from-print - 2',
      'assumption jump-from-print - 6',
      'assumption jump-from-print - 7',
      'note not-kept P4 3',
      'note not-kept P3 4',
    ]);
    expect(played(kern.score)).toEqual(played(original));
  });
});
