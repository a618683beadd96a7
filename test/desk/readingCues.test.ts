/** Free playing: entries that nobody's click gives, after a fermata and after rests, and who gives the cue. On takes whose truth is known. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../src/desk/findings/index.ts';
import { usualDrill } from '../../src/desk/index.ts';
import { notesFromOthers } from '../../src/desk/fromOthers.ts';
import { markScore } from '../../src/desk/markScore.ts';
import type { Reading, ReadingClock, ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { findingText } from '../../src/desk/words/index.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { secondsNumber } from '../../src/units/index.ts';
import { bytesOf } from './duo.ts';
import { made } from './findings/support.ts';

type Markings = Parameters<typeof markScore>[1];

const note = (step: string, octave: number, more = ''): string =>
  `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type>${more}</note>`;
const rest = '<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type></note>';
const fermata = '<notations><fermata/></notations>';

/** Six bars of quarters for three: a fermata at the end of bar 2, all silent from bar 4, beat 3, to bar 5, beat 1. */
const bar = (number: number, octave: number): string => {
  const four = (last = ''): string =>
    `${['C', 'D', 'E'].map((step) => note(step, octave)).join('')}${note('F', octave, last)}`;
  if (number === 2) return four(fermata);
  if (number === 4) return `${note('C', octave)}${note('D', octave)}${rest}${rest}`;
  if (number === 5) return `${rest}${['D', 'E', 'F'].map((step) => note(step, octave)).join('')}`;
  return four();
};
const players = [
  ['P1', 'Flute', 5],
  ['P2', 'Oboe', 4],
  ['P3', 'Horn', 3],
] as const;
const score = `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list>${players
  .map(([id, name]) => `<score-part id="${id}"><part-name>${name}</part-name></score-part>`)
  .join('')}</part-list>${players
  .map(
    ([id, , octave]) =>
      `<part id="${id}">${[1, 2, 3, 4, 5, 6]
        .map(
          (number) =>
            `<measure number="${number}">${number === 1 ? '<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>' : ''}${bar(number, octave)}</measure>`,
        )
        .join('')}</part>`,
  )
  .join('')}</score-partwise>`;

const workedOf = (markings: Markings): WorkedDrill => {
  const read = readPiece(bytesOf(score));
  if (!read.ok) throw new Error(read.error.message);
  const work = workOut(
    markScore(read.value.score, markings),
    {
      ...usualDrill,
      format: 'levare.drill/2' as const,
      score: { sha256: '', title: '', file: 'score.musicxml' },
      bars: 'all',
      tempo: ['60'],
      click: 'none',
      countIn: 'none',
    },
    48_000,
  );
  if (!work.ok) throw new Error(work.error.message);
  return work.value;
};

/** One microphone for all, no click. */
const clocksOf = (lagError: number) =>
  players.map(([part]): ReadingClock => ({
    part,
    file: 'all.wav',
    offset: 0,
    ppm: 0,
    offsetError: 0.01,
    ppmError: 50,
    by: 'notes',
    clicksHeard: 0,
    clicksExpected: 0,
    lagError,
  }));

/** Seconds by which someone comes after the others; all broaden by a half under the fermata and wait before they go on. */
type Late = (place: { readonly part: string; readonly bar: string; readonly beat: string }) => number;

const take = (
  markings: Markings,
  late: Late,
  playing: Reading['playing'] = 'free',
  lagError = 0.002,
): Reading => {
  const clocks = clocksOf(lagError);
  const worked = workedOf(markings);
  const notes = worked.timeline.notes.map((event): ReadingNote => {
    const { id, part, bar: number, barIndex, beat, pass, rep } = event;
    const expected = secondsNumber(event.time);
    const at =
      expected + (barIndex >= 2 ? 1.7 : 0) + (barIndex >= 4 ? 0.4 : 0) + late({ part, bar: number, beat });
    return {
      id,
      part,
      bar: number,
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
    parts: players.map(([id, name]) => ({ id, name, file: 'all.wav', reference: 440 })),
    playing,
    notes,
    clock: clocks,
    ...figuresOf(worked, notes, clocks, playing === 'free'),
  };
  return { ...figures, findings: findingsOf(figures) };
};

const leads = (barIndex: number, text: string, part = ''): Markings[number] => ({
  kind: 'leads',
  part,
  bar: barIndex,
  beat: '1',
  text,
  time: null,
  note: '',
});

const afterFermata: Late = ({ part, bar: number, beat }) =>
  part === 'P3' && number === '3' && beat === '1' ? 0.08 : 0;

const places = ({ entries }: Reading): readonly string[] => [
  ...new Set(entries.map(({ bar: number, beat }) => `${number}/${beat}`)),
];
const told = ({ findings }: Reading) =>
  findings.filter(({ kind, told: sure, small }) => /entry/.test(kind) && sure && !small);
const textOf = (reading: Reading, language: 'en' | 'de'): string => {
  const [first] = told(reading);
  return first === undefined ? '' : findingText(first, reading, language).sentence;
};

describe('entries without a click', () => {
  it('are the beginning, after a fermata and after a silence of all, of each two who come in', () => {
    const reading = take([], () => 0);
    expect(places(reading)).toEqual(['1/1', '3/1', '5/2']);
    expect(reading.entries).toHaveLength(9);
    expect(told(reading)).toEqual([]);
  });

  it('where one comes 80 ms after the others: told there, with its interval, and nobody named', () => {
    const reading = take([], afterFermata);
    expect(told(reading).map(({ kind, bar: number, beat }) => [kind, number, beat])).toEqual([
      ['entry', '3', '1'],
    ]);
    const { figure } = told(reading)[0] ?? { figure: { value: 0, low: 0, high: 0 } };
    expect(figure.value).toBeCloseTo(80, 6);
    expect(figure.low).toBeGreaterThan(50);
    expect(textOf(reading, 'en')).toMatch(/^Bar 3, beat 1: you come in 80 ms \(\d+ to \d+\) apart\.$/);
    expect(textOf(reading, 'de')).toMatch(
      /^Takt 3, Schlag 1: Ihr setzt 80 ms \(\d+ bis \d+\) auseinander ein\.$/,
    );
  });

  it('are known no better than how quickly each instrument speaks, and so is each note', () => {
    const reading = take([], afterFermata, 'free', 0.05);
    expect(told(reading)).toEqual([]);
    // Two players, one standard deviation each of 3 ms for the note, 2 ms for how it is perceived, 50 ms for the instrument.
    const wide = 1960 * Math.SQRT2 * Math.hypot(0.003, 0.002, 0.05);
    for (const { apart } of reading.entries) expect((apart.high ?? 0) - apart.value).toBeCloseTo(wide, 6);
    const notes = notesFromOthers(reading);
    expect(notes.length).toBe(reading.notes.length);
    // Against the middle of three: 2/3 of its own and 1/3 of each other.
    const third = 1960 * Math.hypot(2 / 3, 1 / 3, 1 / 3) * Math.hypot(0.003, 0.002, 0.05);
    for (const { figure } of notes) expect((figure.high ?? 0) - figure.value).toBeCloseTo(third, 6);
  });

  it('that a player leads, as marked: how long after that player the others come in', () => {
    for (const markings of [[leads(2, 'Flute leads')], [leads(1, 'me', 'P1')]]) {
      const reading = take(markings, afterFermata);
      const cued = reading.entries.filter(({ cue }) => cue !== undefined);
      expect(cued.map(({ bar: number, parts, cue }) => [number, parts.join(), cue])).toEqual([
        ['3', 'P1,P2', 'P1'],
        ['3', 'P1,P3', 'P1'],
      ]);
      expect(told(reading)[0]).toMatchObject({ kind: 'cued-entry', parts: ['P1', 'P3'] });
      expect(textOf(reading, 'en')).toMatch(
        /^Bar 3, beat 1, cued by Flute: the entry comes 80 ms \(\d+ to \d+\) after that player’s own\.$/,
      );
      expect(textOf(reading, 'de')).toMatch(
        /^Takt 3, Schlag 1, Einsatz von Flute: Der Einsatz kommt 80 ms \(\d+ bis \d+\) nach dessen eigenem\.$/,
      );
    }
  });

  it('together with who leads are not to be told from together; a lead elsewhere, or of someone who is silent, is none', () => {
    const reading = take([leads(2, 'Flute leads')], () => 0);
    expect(told(reading)).toEqual([]);
    const [untold] = reading.findings.filter(({ kind }) => kind === 'cued-entry');
    expect(untold === undefined ? '' : findingText(untold, reading, 'en').sentence).toContain(
      'cued by Flute: the entry is not to be told from together',
    );
    for (const elsewhere of [leads(5, 'Flute leads'), leads(2, 'Viola leads')])
      expect(take([elsewhere], afterFermata).entries.every(({ cue }) => cue === undefined)).toBe(true);
  });

  it('where a click gives the entry nobody cues it', () => {
    expect(
      take([leads(2, 'Flute leads')], afterFermata, 'click').findings.some(
        ({ kind }) => kind === 'cued-entry',
      ),
    ).toBe(false);
  });
});
