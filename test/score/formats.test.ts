/**
 * The demo and a piece with every odd case, in every format: one and the same model. What a format cannot carry is listed
 * here, exactly: a difference that is not listed fails, and so does a listed one that is none any more.
 *
 * Here stand, side by side, what sounds and how the bars lead; every other field of the model, format by format, in
 * mei-demo.test.ts, kern-demo.test.ts and abc-demo.test.ts. The MIDI files are made by an independent program (test/outside/musicxml_to_midi.py) from the MusicXML. How the
 * other files were made stands in test/score/formats/README.md: kern and ABC by throwaway converters, then by hand.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import type { Problem } from '../../src/units/index.ts';
import { cannotValidate, schemaErrors } from '../support/schema.ts';
import { courseLines, lineDifferences, soundLines } from '../support/sounds.ts';

const original = {
  lanterns: path.resolve('demo', 'lanterns-on-the-towpath.musicxml'),
  odd: path.resolve('test', 'score', 'formats', 'odd.musicxml'),
};
type Piece = keyof typeof original;

const scoreIn = (bytes: Uint8Array): { readonly score: Score; readonly problems: readonly Problem[] } => {
  const result = readScore(bytes);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return { score: result.value, problems: result.problems };
};
const fromMusicXml = (piece: Piece) => scoreIn(readFileSync(original[piece]));

const midiOf = (piece: Piece): Uint8Array => {
  const script = path.resolve('test', 'outside', 'musicxml_to_midi.py');
  const hex = execFileSync('/usr/bin/python3', [script, original[piece]], { encoding: 'ascii' });
  return Uint8Array.from(Buffer.from(hex.trim(), 'hex'));
};

describe('the odd piece in MusicXML', () => {
  it.skipIf(cannotValidate !== null)('is valid by the schema of the standard', () =>
    expect(schemaErrors(new Map([['odd', readFileSync(original.odd, 'utf8')]]))).toEqual([]),
  );

  it('is read with nothing amiss but what has no place in the model', () =>
    expect(
      fromMusicXml('odd').problems.map(({ code, part, message }) => `${code} ${part ?? ''}: ${message}`),
    ).toEqual([
      'not-kept P1: A short way of drawing bars (bar rests in one sign, slashes, repeat signs for bars) is not kept (found once).',
      'not-kept P3: How the lines of a staff look is not kept (found once).',
      'not-kept P3: How many strokes a tremolo has and to which note it goes is not kept (found once).',
      'not-kept P3: A short way of drawing bars (bar rests in one sign, slashes, repeat signs for bars) is not kept (found once).',
      'not-kept P4: A chord symbol or function symbol is not kept (found 2 times).',
      'not-kept P4: A figured bass is not kept (found once).',
      'not-kept P4: How many strokes a tremolo has and to which note it goes is not kept (found once).',
      'not-kept P5: How the lines of a staff look is not kept (found once).',
    ]));
});

/**
 * What MIDI cannot carry. Standard MIDI Files 1.0 knows plain metres only, each filled by its bars; and sounding keys, in
 * one row for the whole piece, while the clarinet's are written a tone higher. A quarter tone is a bend of the pitch.
 */
const midiLosses: Readonly<Record<Piece, readonly string[]>> = {
  lanterns: [
    '- bar 60 at 219/4: 3/4 in 4/4',
    '- P2 key at 0: 3 written',
    '+ bar 60 at 219/4: 3/4 in 3/4',
    '+ P2 key at 0: 1',
  ],
  odd: [
    '- bar 3 at 9/4: 3/4 in 4/4',
    '- bar 4 at 3: 1/4 in 4/4',
    '- bar 6 at 17/4: 3/4 in 4/4',
    '- bar 10 at 8: 5/8 in 3+2/8',
    '- bar 12 at 75/8: 5/4 in free',
    '- P1 key at 0: 1 written',
    '- P1 key at 6: 4 written',
    '- P1 note at 17/4: 1/2 of 77.5',
    '- P3 key at 0: 0',
    '+ bar 3 at 9/4: 3/4 in 3/4',
    '+ bar 4 at 3: 1/4 in 1/4',
    '+ bar 6 at 17/4: 3/4 in 3/4',
    '+ bar 10 at 8: 5/8 in 5/8',
    '+ bar 12 at 75/8: 5/4 in 5/4',
    '+ P1 key at 0: -1',
    '+ P1 key at 6: 2',
    '+ P1 note at 17/4: 1/2 of 77',
  ],
};

describe('in MIDI', () => {
  it.each(['lanterns', 'odd'] as const)('%s sounds the same', (piece) =>
    expect(
      lineDifferences(soundLines(fromMusicXml(piece).score), soundLines(scoreIn(midiOf(piece)).score)),
    ).toEqual(midiLosses[piece]),
  );
});

type Written = 'mei' | 'krn' | 'abc';

/** What the formats of written music cannot carry of what sounds and of how the bars lead. */
const losses: Readonly<Record<Written, Readonly<Record<Piece, readonly string[]>>>> = {
  mei: { lanterns: [], odd: [] },
  // Humdrum: a bar has a number or none; endings are sections, of which the last is never closed; no quarter tones.
  krn: {
    lanterns: [],
    odd: [
      '- P1 note at 17/4: 1/2 of 77.5',
      '- bar 4 "X1", upbeat, regular',
      '- bar 7 ending 2 stop',
      '+ P1 note at 17/4: 1/2 of 77',
      '+ bar 4 "", upbeat, regular',
      '+ bar 7 ending 2 discontinue',
    ],
  },
  // ABC 2.1: Q: gives a tempo, not a relation of two.
  abc: { lanterns: [], odd: ['- tempo at 69/8: 180', '- mark at 69/8: old 1/4 = new 3/8'] },
};

const lines = (score: Score): readonly string[] => [...soundLines(score), ...courseLines(score)];
const played = (score: Score): string =>
  playingOrder(score)
    .order.visits.map(({ barIndex }) => barIndex)
    .join(' ');

describe.each(['mei', 'krn', 'abc'] as const)('in a .%s file', (ending) => {
  it.each(['lanterns', 'odd'] as const)('%s sounds and leads the same', (piece) => {
    const original = fromMusicXml(piece).score;
    const other = scoreIn(readFileSync(path.resolve('test', 'score', 'formats', `${piece}.${ending}`))).score;
    expect(lineDifferences(lines(original), lines(other))).toEqual(losses[ending][piece]);
    expect(played(other)).toBe(played(original));
  });
});

it('the odd piece is played as its description says', () =>
  expect(played(fromMusicXml('odd').score)).toBe('0 1 2 3 0 1 2 3 4 5 6 4 5 7 8 9 10 11 12 13 8 9 14 15 16'));
