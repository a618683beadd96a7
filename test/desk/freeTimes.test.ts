/** Appoggiaturas, rolled chords, continuo, ornamented repeats: what is held against nobody. On notes whose truth is known; the same notes without the sign are told. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../src/desk/findings/index.ts';
import { freeSaid, mayOrnament } from '../../src/desk/freeTimes.ts';
import { notesFromOthers } from '../../src/desk/fromOthers.ts';
import { usualDrill } from '../../src/desk/index.ts';
import type { Reading, ReadingClock, ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { noteMarks } from '../../src/desk/readingNoteMarks.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { secondsNumber } from '../../src/units/index.ts';
import { bytesOf } from './duo.ts';
import { made } from './findings/support.ts';

const pitch = (step: string, octave: number): string =>
  `<pitch><step>${step}</step><octave>${octave}</octave></pitch>`;

interface Put {
  readonly before?: string;
  readonly staff?: number;
  readonly notations?: string;
  /** On the same stem. */
  readonly chord?: boolean;
}

const quarter = (
  step: string,
  octave: number,
  { before = '', staff, notations = '', chord }: Put = {},
): string =>
  `${before}<note>${chord === true ? '<chord/>' : ''}${pitch(step, octave)}<duration>1</duration><voice>${staff ?? 1}</voice><type>quarter</type>${staff === undefined ? '' : `<staff>${staff}</staff>`}${notations === '' ? '' : `<notations>${notations}</notations>`}</note>`;
const small = (slash: boolean): string =>
  `<note><grace${slash ? ' slash="yes"' : ''}/>${pitch('D', 5)}<voice>1</voice><type>eighth</type></note>`;

interface Bars {
  /** By bar, from 1: what a part has in it. */
  readonly flute?: (bar: number) => string;
  readonly keys?: (bar: number) => string;
  readonly keysName?: string;
  readonly staves?: number;
  /** Bars 1 and 2 are repeated. */
  readonly repeat?: boolean;
}

const four = (octave: number, staff?: number): string =>
  ['C', 'D', 'E', 'F'].map((step) => quarter(step, octave, staff === undefined ? {} : { staff })).join('');

/** Six bars of quarters for two players; `unlike` may write a bar otherwise. */
const workedOf = ({ flute, keys, keysName = 'Harp', staves = 1, repeat = false }: Bars): WorkedDrill => {
  const part = (id: string, of: (bar: number) => string, own: number): string =>
    `<part id="${id}">${[1, 2, 3, 4, 5, 6]
      .map(
        (bar) =>
          `<measure number="${bar}">${bar === 1 ? `<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time>${own > 1 ? `<staves>${own}</staves>` : ''}</attributes>` : ''}${of(bar)}${repeat && bar === 2 ? '<barline location="right"><repeat direction="backward"/></barline>' : ''}</measure>`,
      )
      .join('')}</part>`;
  const plain = (): string =>
    staves === 1 ? four(3) : `${four(4, 1)}<backup><duration>4</duration></backup>${four(2, 2)}`;
  const text = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part>
<score-part id="P2"><part-name>${keysName}</part-name></score-part></part-list>
${part('P1', flute ?? (() => four(5)), 1)}${part('P2', keys ?? plain, staves)}</score-partwise>`;
  const read = readPiece(bytesOf(text));
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

type Late = (note: {
  readonly part: string;
  readonly bar: string;
  readonly beat: string;
  readonly midi: number;
}) => number;

/** A take of it: everyone in time to 4 ms but for what is `late`, in seconds. */
const taken = (worked: WorkedDrill, late: Late): Reading => {
  const notes = worked.timeline.notes.map((event, n): ReadingNote => {
    const expected = secondsNumber(event.time);
    const { part, bar, beat, midi } = event;
    const start = expected + 0.004 * scatter(n) + late({ part, bar, beat, midi: midi ?? 0 });
    return {
      id: event.id,
      part,
      bar,
      barIndex: event.barIndex,
      beat,
      pass: event.pass,
      rep: event.rep,
      expected,
      onset: start,
      perceived: start,
      offset: start + 0.8,
      level: -20,
      cents: 0,
      uncertainty: 0.003,
      perceivedUncertainty: 0.003,
      state: 'heard',
    };
  });
  const figures = {
    ...made({}),
    parts: worked.parts.map(({ id, name }) => ({ id, name, file: `${id}.wav`, reference: 440 })),
    notes,
    clock: clocks,
    // One click a bar: bar lines are held against it too.
    click: { placement: 'bar', perBar: 1 },
    ...figuresOf(worked, notes, clocks, false),
  };
  return { ...figures, findings: findingsOf(figures) };
};

const told = ({ findings }: Reading): readonly string[] =>
  findings.filter((one) => one.told && !one.small).map(({ kind }) => kind);
const widest = (reading: Reading): number =>
  Math.max(...notesFromOthers(reading).map(({ figure: { value } }) => Math.abs(value)));

describe('an appoggiatura', () => {
  const first = (before: string) => (bar: number) =>
    bar === 3
      ? `${quarter('C', 5, { before })}${['D', 'E', 'F'].map((s) => quarter(s, 5)).join('')}`
      : four(5);
  // It takes a quarter of the beat and more: its note comes 300 ms after the beat of the others.
  const late: Late = ({ part, bar, beat }) => (part === 'P1' && bar === '3' && beat === '1' ? 0.3 : 0);

  it.each([false, true])('takes the beat, and its note is held against nobody (stroke: %s)', (slash) => {
    const worked = workedOf({ flute: first(small(slash)) });
    const reading = taken(worked, late);
    expect(reading.written.filter(({ free }) => free === 'grace')).toHaveLength(1);
    expect(told(reading)).toEqual([]);
    expect(widest(reading)).toBeLessThan(10);
    expect(reading.pairs[0]?.n).toBe(23);
    expect(reading.pairs[0]?.sd?.value).toBeLessThan(8);
    expect(reading.barLines.some(({ part, bar }) => part === 'P1' && bar === '3')).toBe(false);
    // No mark stands under it, nor under the note that would be held against it.
    expect(noteMarks(worked, reading, 'en')).toHaveLength(46);
    expect(freeSaid(reading).map(({ code, message }) => [code, /bars 3\)/.test(message)])).toEqual([
      ['appoggiatura-free', true],
    ]);
  });

  it('is said with twelve bars at most', () => {
    const [one] = taken(workedOf({ flute: first(small(false)) }), late).notes.filter(
      ({ bar }) => bar === '3',
    );
    const id = one?.id ?? '';
    const written = Array.from({ length: 20 }, (_, i) => ({
      id: `${id}${i}`,
      length: '1/4',
      share: 1,
      slurred: false,
      level: 0,
      free: 'grace' as const,
    }));
    const notes = written.flatMap((note, i) =>
      one === undefined ? [] : [{ ...one, id: note.id, bar: String(i) }],
    );
    expect(freeSaid({ notes, written, parts: [] })[0]?.message).toContain(
      '(bars 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, …)',
    );
  });

  it('without its small note the same take is told as it is', () => {
    const reading = taken(workedOf({ flute: first('') }), late);
    expect(told(reading).length).toBeGreaterThan(0);
    expect(widest(reading)).toBeGreaterThan(140);
    expect(freeSaid(reading)).toEqual([]);
  });
});

describe('a rolled chord', () => {
  const chords = (sign: string) => (bar: number) =>
    bar !== 4
      ? four(3)
      : ['C', 'E', 'G']
          .map((step, i) => quarter(step, 3, { notations: sign, chord: i > 0 }))
          .join('')
          .concat(['D', 'E', 'F'].map((step) => quarter(step, 3)).join(''));
  // From the beat up: 80 ms a note.
  const roll: Late = ({ part, bar, beat, midi }) =>
    part === 'P2' && bar === '4' && beat === '1' ? 0.08 * Math.round((midi - 48) / 3.5) : 0;

  it('is one chord, and none of its notes is held against anybody', () => {
    const reading = taken(workedOf({ keys: chords('<arpeggiate/>') }), roll);
    expect(reading.written.filter(({ free }) => free === 'rolled')).toHaveLength(3);
    expect(told(reading)).toEqual([]);
    expect(widest(reading)).toBeLessThan(10);
    expect(freeSaid(reading).map(({ code }) => code)).toEqual(['rolled-chord-free']);
  });

  it('without the sign three notes that do not begin together are', () => {
    const reading = taken(workedOf({ keys: chords('') }), roll);
    expect(widest(reading)).toBeGreaterThan(60);
  });
});

describe('a continuo', () => {
  // What is played above the bass comes 200 ms after it throughout.
  const above: Late = ({ part, midi }) => (part === 'P2' && midi >= 60 ? 0.2 : 0);

  it('is read by its bass, and its realisation is held against nobody', () => {
    const reading = taken(workedOf({ keysName: 'Basso continuo', staves: 2 }), above);
    expect(reading.written.filter(({ free }) => free === 'continuo')).toHaveLength(24);
    expect(told(reading)).toEqual([]);
    expect(widest(reading)).toBeLessThan(10);
    expect(reading.pairs[0]?.n).toBe(24);
    expect(freeSaid(reading).map(({ code, message }) => [code, message.includes('Basso continuo')])).toEqual([
      ['continuo-free', true],
    ]);
  });

  it('a piano with the same notes is read with both hands', () => {
    expect(widest(taken(workedOf({ keysName: 'Piano', staves: 2 }), above))).toBeGreaterThan(60);
  });
});

describe('notes that are not in the score', () => {
  const secondsOf = (worked: WorkedDrill, bar: string, pass: number): number => {
    const found = worked.timeline.notes.find((one) => one.bar === bar && one.pass === pass);
    return found === undefined ? NaN : secondsNumber(found.time);
  };

  it('are ornaments in a repeat, around trills and small notes, and in a continuo; elsewhere they are added', () => {
    const trill = '<ornaments><trill-mark/></ornaments>';
    const worked = workedOf({
      flute: (bar) =>
        bar === 5
          ? `${quarter('C', 5, { notations: trill })}${['D', 'E', 'F'].map((s) => quarter(s, 5)).join('')}`
          : bar === 6
            ? `${['C', 'D', 'E'].map((s) => quarter(s, 5)).join('')}${quarter('F', 5, { before: small(false) })}`
            : four(5),
      repeat: true,
      keysName: 'B. c.',
    });
    const flute = mayOrnament(worked, 'P1');
    const at = (bar: string, pass: number, beats: number): boolean =>
      flute(secondsOf(worked, bar, pass) + beats);
    expect([at('1', 1, 1.5), at('2', 1, 1.5), at('3', 1, 1.5)]).toEqual([false, false, false]);
    expect([at('1', 2, 1.5), at('2', 2, 3.9)]).toEqual([true, true]);
    // Along the trill and at its end, but not on the note after the next.
    expect([at('5', 1, 0.5), at('5', 1, 0.95), at('5', 1, 2.5)]).toEqual([true, true, false]);
    expect([at('6', 1, 2.8), at('6', 1, 1.5)]).toEqual([true, false]);
    expect(mayOrnament(worked, 'P2')(secondsOf(worked, '3', 1) + 1.5)).toBe(true);
  });
});
