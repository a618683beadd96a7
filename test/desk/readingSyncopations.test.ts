/** Short notes after syncopations in a reading, on a line whose times are made: they run on by a known amount. */
import { describe, expect, it } from 'vitest';
import { usualDrill } from '../../src/desk/index.ts';
import type { ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { workOut } from '../../src/drill/workOut.ts';
import { secondsNumber } from '../../src/units/index.ts';

/** Quarters off the beat from the second eighth of bar 2 on, then four eighths, two beats of them, that lead on in bar 3. */
const abc = 'X:1\nT:Off the Beat\nM:4/4\nL:1/8\nQ:1/4=60\nK:C\nC2 D2 E2 F2 | G A2 B2 c2 d | e f g a b4 |]\n';

const made = (early: number) => {
  const read = readPiece(new TextEncoder().encode(abc));
  if (!read.ok) throw new Error(read.error.message);
  const drill = {
    ...usualDrill,
    format: 'levare.drill/2' as const,
    score: { sha256: '', title: '', file: 'score.abc' },
    bars: 'all',
  };
  const work = workOut(read.value.score, drill, 48_000);
  if (!work.ok) throw new Error(work.error.message);
  const { notes } = work.value.timeline;
  const part = notes[0]?.part ?? '';
  const arrival = notes.findIndex(({ bar, beat }) => bar === '3' && beat === '2+1/2');
  const heard = notes.map((event, i): ReadingNote => {
    const expected = secondsNumber(event.time);
    // A little unevenness, as everyone has: 4 ms to and fro.
    const time = expected + (i % 2 === 0 ? 0.004 : -0.004) - (i === arrival ? early : 0);
    return {
      id: event.id,
      part,
      bar: event.bar,
      barIndex: event.barIndex,
      beat: event.beat,
      pass: event.pass,
      rep: event.rep,
      expected,
      onset: time,
      perceived: time,
      offset: time + 0.2,
      level: -20,
      cents: 0,
      uncertainty: 0.003,
      perceivedUncertainty: 0.003,
      state: 'heard',
    };
  });
  const clock = {
    part,
    file: 'a.wav',
    offset: 0,
    ppm: 0,
    offsetError: 0.0005,
    ppmError: 1,
    by: 'clicks' as const,
    clicksHeard: 4,
    clicksExpected: 4,
  };
  return figuresOf(work.value, heard, [clock], false).syncopations;
};

describe('short notes after syncopations', () => {
  it('arrive 80 ms before the line leads there: told at the note that they lead to', () => {
    const [one, ...more] = made(0.08);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ bar: '3', beat: '2+1/2', n: 8 });
    expect(one?.late?.value).toBeLessThan(-60);
    expect(one?.late?.value).toBeGreaterThan(-100);
    expect(one?.late?.high ?? 0).toBeLessThan(0);
  });

  it('in time are not told from in time', () => {
    const [one] = made(0);
    expect(one?.late?.low ?? 1).toBeLessThan(0);
    expect(one?.late?.high ?? -1).toBeGreaterThan(0);
  });
});
