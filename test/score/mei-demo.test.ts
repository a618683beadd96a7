/**
 * The demo piece and the piece of odd cases, written down once as MusicXML and once as MEI: the same music in every field of the
 * model, but for what MEI can not carry, which is listed here exactly.
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

/** MEI has no list of instruments as MusicXML's sound ids are: instrDef knows those of General MIDI only. */
const sounds = (score: Score): string[] =>
  score.parts.map(({ id, sound }) => `part ${id} head 0: sound "${sound}" / ""`);

describe('the demo as MEI 5.0, in attributes', () => {
  const original = read('demo', 'lanterns-on-the-towpath.musicxml').score;
  const mei = read(...formats, 'lanterns.mei');

  test('is the same music but for the sound ids of the instruments', () =>
    expect(sameMusic(original, mei.score)).toEqual(sounds(original)));

  test('says nothing of what it reads and is played in the same order', () => {
    expect(told(mei.problems)).toEqual([]);
    expect(played(mei.score)).toEqual(played(original));
  });
});

describe('the piece of odd cases as MEI 5.1, in elements', () => {
  const original = read(...formats, 'odd.musicxml').score;
  const mei = read(...formats, 'odd.mei');

  test('is the same music but for what MEI can not carry', () =>
    expect(sameMusic(original, mei.score).sort()).toEqual(
      [
        ...sounds(original),
        // MEI's modes (data.MODE) are those of scales: a key that is none in particular has no mode.
        'part P3 key 0: mode "none" / ""',
      ].sort(),
    ));

  test('tells that it holds two movements, follows a coda sign and names what has no place', () => {
    expect(told(mei.problems)).toEqual([
      'note several-pieces - -',
      // The sign is the same for the place that is left and the one that is reached (repeatMark, func="coda").
      'assumption jump-from-print - 7',
      'note not-kept P4 3',
      'note not-kept P3 4',
      'note not-kept P4 1',
      'note not-kept P4 2',
    ]);
    expect(played(mei.score)).toEqual(played(original));
  });
});
