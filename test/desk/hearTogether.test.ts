/** Differences of seconds between players are no asynchronies. */
import { describe, expect, it } from 'vitest';
import { togetherOnly } from '../../src/desk/hearTogether.ts';
import type { ReadingNote } from '../../src/desk/reading.ts';

const note = (part: string, k: number, perceived: number): ReadingNote => ({
  id: `${part}-${k}`,
  part,
  bar: '1',
  barIndex: 0,
  beat: '1',
  pass: 1,
  rep: 1,
  expected: k,
  onset: perceived,
  perceived,
  offset: perceived + 0.3,
  level: -20,
  cents: 0,
  uncertainty: 0.003,
  perceivedUncertainty: 0.003,
  state: 'heard',
});
const states = (notes: readonly ReadingNote[], clocked: readonly string[]): readonly string[] =>
  togetherOnly(notes, new Set(clocked)).map(({ state }) => state);

describe('notes that the score has together', () => {
  it('stay heard at any asynchrony, and in two become unsure when seconds apart', () => {
    const notes = [note('P1', 1, 1), note('P2', 1, 1.3), note('P1', 2, 2), note('P2', 2, 6.9)];
    expect(states(notes, ['P1', 'P2'])).toEqual(['heard', 'heard', 'unsure', 'unsure']);
  });

  it('of three players: only the one who is elsewhere', () => {
    const notes = [note('P1', 1, 1), note('P2', 1, 5.8), note('P3', 1, 1.02)];
    expect(states(notes, ['P1', 'P2', 'P3'])).toEqual(['heard', 'unsure', 'heard']);
  });

  it('are not held against a recording whose place on the drill is not known by clicks', () => {
    expect(states([note('P1', 1, 1), note('P2', 1, 6)], ['P1'])).toEqual(['heard', 'heard']);
  });
});
