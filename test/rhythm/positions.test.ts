import { describe, expect, it } from 'vitest';
import {
  playedToSample,
  playedToWritten,
  sampleToPlayed,
  writtenToPlayed,
} from '../../src/rhythm/positions.ts';
import { constant, pace } from '../../src/rhythm/tempo.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { F, bpm, note } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

// A pickup and two bars, repeated with two endings: played 1 2 3, 1 2 4. Written starts 0, 1/4, 5/4, 2.
const { order } = playingOrder(scoreOf('4/4:1/4 ; 4/4 ; [1 4/4:3/4 ] :| ; [2 4/4:3/4 ]'));
const there = (n: number, d: number, pass: number): string => {
  const played = writtenToPlayed(order, note(n, d), pass);
  return played === null ? 'never' : F.format(played);
};

describe('written to played', () => {
  it('tells the times through apart', () => {
    expect([there(0, 1, 1), there(0, 1, 2), there(0, 1, 3)]).toEqual(['0', '2', 'never']);
    expect([there(1, 2, 1), there(1, 2, 2)]).toEqual(['1/2', '5/2']);
    expect([there(5, 4, 1), there(5, 4, 2)]).toEqual(['5/4', 'never']);
    // The second ending is played once: its first time, although it is the second time through.
    expect([there(2, 1, 1), there(2, 1, 2)]).toEqual(['13/4', 'never']);
  });
  it('knows the very end and nothing beyond', () => {
    expect([there(11, 4, 1), there(3, 1, 1), there(-1, 4, 1)]).toEqual(['4', 'never', 'never']);
  });
});

describe('played to written', () => {
  const back = (n: number, d = 1): string => {
    const place = playedToWritten(order, note(n, d));
    return place === null
      ? 'nowhere'
      : `${F.format(place.written)} in bar ${place.visit.barIndex + 1}, time ${place.visit.pass}`;
  };
  it('gives a bar line to the bar that begins there', () => {
    expect(back(2)).toBe('0 in bar 1, time 2');
    expect(back(13, 4)).toBe('2 in bar 4, time 1');
  });
  it('gives the end to the last bar', () => {
    expect(back(4)).toBe('11/4 in bar 4, time 1');
    expect([back(-1, 8), back(33, 8)]).toEqual(['nowhere', 'nowhere']);
  });
});

it('falls on the nearest sample', () => {
  // Computed: at quarter = 133.33 the second quarter comes after 60/133.33 s, 21 600.54 samples at 48 kHz.
  const map = constant(pace(note(1, 4), bpm(F.fraction(13_333, 100))));
  const sample = playedToSample(map, note(1, 4), 48_000);
  expect(sample).toBe(21_601);
  // Back again: 21 601/48 000 s at 133.33/240 whole notes a second.
  expect(sampleToPlayed(map, sample, 48_000)).toEqual(F.fraction(21_601 * 13_333, 48_000 * 24_000));
});
