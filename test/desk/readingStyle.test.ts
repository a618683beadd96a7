/** Lengths of two players are compared where both are written alike, and nowhere else: on notes whose truth is known. */
import { describe, expect, it } from 'vitest';
import { usualDrill } from '../../src/desk/index.ts';
import { leftOutOf } from '../../src/desk/hearSaid.ts';
import { markScore } from '../../src/desk/markScore.ts';
import type { Reading, ReadingClock, ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { lengthsByBar, levelsByBar } from '../../src/desk/writtenAlike.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { secondsNumber } from '../../src/units/index.ts';
import { bytesOf } from './duo.ts';

const dot = '<notations><articulations><staccato/></articulations></notations>';
const step = (i: number): string => 'CDEF'.charAt(i % 4);
const eight = (octave: number, written: (i: number) => string): string =>
  Array.from(
    { length: 8 },
    (_, i) =>
      `<note><pitch><step>${step(i)}</step><octave>${octave}</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type>${written(i)}</note>`,
  ).join('');
const loud = (mark: string): string =>
  `<direction><direction-type><dynamics><${mark}/></dynamics></direction-type></direction>`;
const words = '<direction><direction-type><words>rit.</words></direction-type></direction>';

/** Four bars of eighths. Flute: dots in bars 1 and 2; oboe: dots in bar 2 only. Bar 4 of the flute forte. */
const score = (more = ''): string => `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part>
<score-part id="P2"><part-name>Oboe</part-name></score-part></part-list>
${['P1', 'P2']
  .map(
    (part) =>
      `<part id="${part}">${[1, 2, 3, 4]
        .map(
          (bar) =>
            `<measure number="${bar}">${bar === 1 ? '<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>' : ''}${bar === 1 ? loud('p') : ''}${bar === 4 && part === 'P1' ? loud('ff') : ''}${bar === 4 ? more : ''}${eight(part === 'P1' ? 5 : 4, () => (bar === 2 || (bar === 1 && part === 'P1') ? dot : ''))}</measure>`,
        )
        .join('')}</part>`,
  )
  .join('')}</score-partwise>`;

const workedOf = (text: string, marked = false): WorkedDrill => {
  const read = readPiece(bytesOf(text));
  if (!read.ok) throw new Error(read.error.message);
  const own = marked
    ? markScore(read.value.score, [
        { kind: 'rit', bar: 2, beat: '1', part: '', text: '', time: null, note: '' },
      ])
    : read.value.score;
  const work = workOut(
    own,
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
  return work.value;
};

const clocks = ['P1', 'P2'].map((part): ReadingClock => ({
  part,
  file: `${part}.wav`,
  offset: 0,
  ppm: 0,
  offsetError: 0.0005,
  ppmError: 1,
  by: 'clicks',
  clicksHeard: 9,
  clicksExpected: 9,
}));

/** Repeatable scatter of mean 0 and SD 1 (Weyl). */
const scatter = (n: number): number => Math.sqrt(12) * (((n * 0.6180339887498949) % 1) - 0.5);

type Share = (note: { readonly part: string; readonly bar: string; readonly dotted: boolean }) => number;

const notesOf = (worked: WorkedDrill, share: Share): readonly ReadingNote[] =>
  worked.timeline.notes.map((event, n) => {
    const expected = secondsNumber(event.time);
    const dotted = event.bar === '2' || (event.bar === '1' && event.part === 'P1');
    const own = share({ part: event.part, bar: event.bar, dotted }) + 0.03 * scatter(n);
    return {
      id: event.id,
      part: event.part,
      bar: event.bar,
      barIndex: event.barIndex,
      beat: event.beat,
      pass: event.pass,
      rep: event.rep,
      expected,
      onset: expected,
      perceived: expected,
      offset: expected + own * secondsNumber(event.duration),
      level: (event.part === 'P1' ? -20 : -32) + (event.bar === '4' && event.part === 'P1' ? 9 : 0),
      cents: 0,
      uncertainty: 0.003,
      perceivedUncertainty: 0.003,
      state: 'heard',
    };
  });

const plain = workedOf(score());
const played = (share: Share): Pick<Reading, 'parts' | 'notes'> & ReturnType<typeof figuresOf> => {
  const notes = notesOf(plain, share);
  const parts = ['P1', 'P2'].map((id) => ({ id, name: id, file: '', reference: 440 }));
  return { parts, notes, ...figuresOf(plain, notes, clocks, false) };
};
/** Both do what is written: dots at .4, all else at .9. */
const asWritten: Share = ({ dotted }) => (dotted ? 0.4 : 0.9);

describe('lengths of two players', () => {
  it('that differ because the score has dots in one part only are alike', () => {
    const { articulation, articulationBetween, written } = played(asWritten);
    // As means they are .12 apart: 15 of 31 ratios are short here, 8 there.
    const [a, b] = articulation;
    expect((b?.ratio.value ?? 0) - (a?.ratio.value ?? 0)).toBeGreaterThan(0.1);
    const [between] = articulationBetween;
    expect(between?.difference.low).toBeLessThan(0);
    expect(between?.difference.high).toBeGreaterThan(0);
    expect(Math.abs(between?.difference.value ?? 1)).toBeLessThan(0.02);
    expect(written.filter(({ share }) => share < 1)).toHaveLength(24);
  });

  it('that differ where both are written alike are told, and as large as they are', () => {
    const { difference } = played((note) => asWritten(note) - (note.part === 'P2' ? 0.2 : 0))
      .articulationBetween[0] ?? { difference: { value: 0, low: null, high: null } };
    expect(difference.low).toBeLessThanOrEqual(0.2);
    expect(difference.high).toBeGreaterThanOrEqual(0.2);
    expect(difference.value).toBeCloseTo(0.2, 1);
  });

  it('say how many notes were left out', () => {
    const few = notesOf(plain, asWritten).filter(({ part, bar }) => part === 'P1' || bar !== '2');
    const figures = figuresOf(plain, few, clocks, false);
    const [between] = figures.articulationBetween;
    // The oboe's dots were not heard: the flute's 16 have nobody to be held against.
    expect(between?.left).toEqual([16, 0]);
    expect(leftOutOf(figures).map(({ code, message }) => [code, /16 of \d+ notes/.test(message)])).toEqual([
      ['comparison-left-out', true],
    ]);
  });

  it('on a chart stand side by side only in bars where both are written alike', () => {
    const bars = lengthsByBar(played(asWritten));
    // Bar 1 has dots in one part and none in the other.
    expect(new Set(bars.map(({ first }) => first.bar))).toEqual(new Set(['2', '3', '4']));
    const without = lengthsByBar({ ...played(asWritten), written: [] });
    expect(without).toEqual([]);
  });
});

describe('levels', () => {
  it('of a player are held against their own notes of the same written loudness: what is written is no swell', () => {
    for (const { value } of levelsByBar(played(asWritten))) expect(value.value).toBeCloseTo(0, 9);
  });
});

describe('bars in which the tempo is asked to give way', () => {
  it("are known from the score and from players' own markings, up to where they end", () => {
    const giving = (worked: WorkedDrill): readonly string[] =>
      figuresOf(worked, notesOf(worked, asWritten), clocks, false)
        .played.filter(({ gives }) => gives)
        .map(({ bar }) => bar);
    expect(giving(plain)).toEqual([]);
    expect(giving(workedOf(score(words)))).toEqual(['4']);
    expect(giving(workedOf(score(), true))).toEqual(['3', '4']);
  });

  it('are not in the drift: a last bar at half the tempo under "rit." leaves a steady take', () => {
    const worked = workedOf(score(words));
    const late = notesOf(worked, asWritten).map((note) => {
      const from =
        4 * 3 + (worked.timeline.notes[0] === undefined ? 0 : secondsNumber(worked.timeline.notes[0].time));
      const more = Math.max(0, note.expected - from);
      return { ...note, perceived: note.expected + more, onset: note.expected + more };
    });
    const drift = figuresOf(worked, late, clocks, false).drift.find(({ part }) => part === null);
    expect(Math.abs(drift?.percentPerMinute.value ?? 100)).toBeLessThan(0.5);
    const held = figuresOf(
      plain,
      late.map((note) => ({ ...note })),
      clocks,
      false,
    ).drift.find(({ part }) => part === null);
    expect(held?.percentPerMinute.value).toBeLessThan(-50);
  });
});
