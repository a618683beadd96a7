/** Arrows over bars whose tempo moves on or holds back: there and nowhere else, as large as it is. On takes whose truth is known. */
import { beforeAll, describe, expect, it } from 'vitest';
import { findingsOf } from '../../src/desk/findings/index.ts';
import { usualDrill } from '../../src/desk/index.ts';
import type { Reading, ReadingClock, ReadingNote } from '../../src/desk/reading.ts';
import { paceMarks } from '../../src/desk/readingBarMarks.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { paceArrow } from '../../src/sheet/overBars.ts';
import { allOf, shape } from '../../src/sheet/svg.ts';
import { secondsNumber, seeded } from '../../src/units/index.ts';
import { bytesOf } from './duo.ts';
import { made } from './findings/support.ts';

const bars = 16;
const four = (octave: number): string =>
  ['C', 'D', 'E', 'F']
    .map(
      (step) =>
        `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type></note>`,
    )
    .join('');
const part = (id: string, octave: number): string =>
  `<part id="${id}">${Array.from(
    { length: bars },
    (_, i) =>
      `<measure number="${i + 1}">${i === 0 ? '<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>' : ''}${four(octave)}</measure>`,
  ).join('')}</part>`;

let worked: WorkedDrill;
beforeAll(() => {
  const read = readPiece(
    bytesOf(
      `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part><score-part id="P2"><part-name>Oboe</part-name></score-part></part-list>${part('P1', 5)}${part('P2', 4)}</score-partwise>`,
    ),
  );
  if (!read.ok) throw new Error(read.error.message);
  const work = workOut(
    read.value.score,
    {
      ...usualDrill,
      format: 'levare.drill/2' as const,
      score: { sha256: '', title: '', file: 'score.musicxml' },
      bars: 'all',
      tempo: ['60'],
    },
    48_000,
  );
  if (!work.ok) throw new Error(work.error.message);
  worked = work.value;
});

const clocks = ['P1', 'P2'].map((id): ReadingClock => ({
  part: id,
  file: `${id}.wav`,
  offset: 0,
  ppm: 0,
  offsetError: 0.0005,
  ppmError: 1,
  by: 'clicks',
  clicksHeard: 9,
  clicksExpected: 9,
}));

interface Played {
  /** How many times as fast as asked the bar with this index is played. */
  readonly pace: (bar: number) => number;
  /** Seconds, one standard deviation, by which notes lie beside that. */
  readonly scatter: number;
  readonly seed: number;
  readonly playing?: Reading['playing'];
}

/** Quarter = 60; both play together but for the scatter. */
const take = ({ pace, scatter, seed, playing = 'click' }: Played): Reading => {
  const random = seeded(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const starts = [0];
  for (let i = 0; i < bars; i += 1) starts.push((starts[i] ?? 0) + 4 / pace(i));
  const zero = secondsNumber(worked.timeline.notes[0]?.time ?? worked.timeline.duration);
  const notes = worked.timeline.notes.map((event): ReadingNote => {
    const expected = secondsNumber(event.time);
    const into = expected - zero - 4 * event.barIndex;
    const at = zero + (starts[event.barIndex] ?? 0) + into / pace(event.barIndex) + scatter * normal();
    const { id, bar, barIndex, beat, pass, rep } = event;
    return {
      id,
      part: event.part,
      bar,
      barIndex,
      beat,
      pass,
      rep,
      expected,
      onset: at,
      perceived: at,
      offset: at + 0.8,
      level: -20,
      cents: 0,
      uncertainty: 0.003,
      perceivedUncertainty: 0.003,
      state: 'heard',
    };
  });
  const figures = {
    ...made({}),
    playing,
    notes,
    clock: clocks,
    ...figuresOf(worked, notes, clocks, playing === 'free'),
  };
  return { ...figures, findings: findingsOf(figures) };
};

/** Bars 7 to 10. */
const middle =
  (by: number) =>
  (bar: number): number =>
    bar >= 6 && bar < 10 ? by : 1;

describe('an arrow', () => {
  it('stands over four bars that are 6 % faster, points on, and is as large as they are', () => {
    const reading = take({ pace: middle(1.06), scatter: 0.005, seed: 3 });
    const marks = paceMarks(reading, 'en');
    expect(marks.map(({ barIndex, bars: many, on }) => [barIndex, many, on])).toEqual([[6, 4, true]]);
    // 6 % of 60 quarters a minute; the clearest of the four bars is told.
    const told = reading.findings.filter(({ kind, told: sure }) => kind === 'bar-tempo' && sure);
    expect(told).toHaveLength(1);
    const [{ value, low, high } = { value: 0, low: 0, high: 0 }] = told.map(({ figure }) => figure);
    expect(Math.abs(value - 3.6)).toBeLessThan(0.5);
    expect(low).toBeLessThan(3.6);
    expect(high).toBeGreaterThan(3.6);
    expect(marks[0]?.title).toBe('Bars 7 to 10: moves on');
    expect(paceMarks(reading, 'de')[0]?.title).toBe('Takt 7 bis 10: zieht an');
  });

  it('points back over four bars that are 6 % slower', () => {
    const marks = paceMarks(take({ pace: middle(1 / 1.06), scatter: 0.005, seed: 4 }), 'en');
    expect(marks.map(({ barIndex, bars: many, on }) => [barIndex, many, on])).toEqual([[6, 4, false]]);
  });

  it('is not drawn where the notes scatter as much as that, nor of a steady take, fast or slow', () => {
    // 120 ms beside the beat: a bar's tempo is known to 2.7 % (one standard deviation; five notes of two), the clearest of 16 to 8 %.
    expect(paceMarks(take({ pace: middle(1.06), scatter: 0.12, seed: 5 }), 'en')).toEqual([]);
    for (const pace of [0.9, 1, 1.1])
      expect(paceMarks(take({ pace: () => pace, scatter: 0.005, seed: 6 }), 'en')).toEqual([]);
  });

  it('is not drawn in free playing, nor for 2 %, which is hardly heard', () => {
    expect(paceMarks(take({ pace: middle(1.06), scatter: 0.005, seed: 3, playing: 'free' }), 'en')).toEqual(
      [],
    );
    expect(paceMarks(take({ pace: middle(1.02), scatter: 0.005, seed: 7 }), 'en')).toEqual([]);
  });
});

describe('its picture', () => {
  const drawn = (on: boolean) => {
    const mark = {
      kind: 'pace',
      id: 'a',
      barIndex: 6,
      pass: 1,
      bars: 4,
      on,
      label: '',
      title: '',
      desc: '',
    } as const;
    const over = paceArrow(mark, { left: 0, right: 4000 }, { boxes: [], floor: 0 }, 150);
    const path = allOf(over?.drawn ?? shape('g', {}, []), ({ name }) => name === 'path')[0];
    return [...(path?.attributes['d'] ?? '').matchAll(/[ML](-?[\d.]+) /g)].map(([, x]) => Number(x));
  };

  it('lies along its bars, its head at the right end where the tempo moves on, at the left where it holds back', () => {
    // From, to; then wing, tip, wing.
    expect(drawn(true)).toEqual([0, 4000, 3880, 4000, 3880]);
    expect(drawn(false)).toEqual([4000, 0, 120, 0, 120]);
  });
});
