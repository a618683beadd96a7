/** Tempo of a score as played. All rules are common practice, no source, except where a comment names one. */
import { describe, expect, it } from 'vitest';
import { gradualSpans } from '../../src/rhythm/gradual.ts';
import { scoreTempo } from '../../src/rhythm/scoreTempo.ts';
import { paceAt, perMinute, secondsAtPosition } from '../../src/rhythm/tempo.ts';
import { readTempoWords } from '../../src/rhythm/tempoWords.ts';
import type { Direction, Mark, Part } from '../../src/score/model.ts';
import { noMarks, type WrittenNote } from '../../src/score/notes.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { F, beats, bpm, note, plus } from '../../src/units/index.ts';
import { scoreOf } from '../support/scores.ts';

const place = (at: string, bar: number): { at: ReturnType<typeof note>; bar: number } => ({
  at: beats(F.parse(at) ?? F.zero),
  bar: bar - 1,
});
/** A tempo mark at a written position in a bar (from 1), of quarters unless said. */
const tempo = (at: string, bar: number, rate: number, unit = '1/4', printed = true): Mark => ({
  kind: 'tempo',
  ...place(at, bar),
  unit: beats(F.parse(unit) ?? F.one),
  perMinute: bpm(F.fraction(rate)),
  printed,
});
const words = (at: string, bar: number, text: string): Mark => ({
  kind: 'tempoWords',
  ...place(at, bar),
  text,
});
const relation = (at: string, bar: number, from: string, to: string): Mark => ({
  kind: 'relation',
  ...place(at, bar),
  from: beats(F.parse(from) ?? F.one),
  to: beats(F.parse(to) ?? F.one),
});

const played = (line: string, marks: readonly Mark[]): { rates: string; codes: string[]; end: string } => {
  const score = scoreOf(line, marks);
  const { order } = playingOrder(score);
  const { map, problems } = scoreTempo(score, order);
  return {
    /** Quarters a minute at the beginning of each bar as played. */
    rates: order.visits
      .map(({ start }) => F.toNumber(perMinute(paceAt(map, start), note(1, 4))).toFixed(2))
      .map((text) => text.replace(/\.?0+$/, ''))
      .join(' '),
    codes: problems.map(({ code }) => code),
    end: F.format(secondsAtPosition(map, order.length)),
  };
};

const four = '4/4 ; 4/4 ; 4/4 ; 4/4';

describe('tempo marks', () => {
  it('assumes quarter = 90 without one, and says so', () => {
    expect(played(four, [])).toEqual({ rates: '90 90 90 90', codes: ['tempo-assumed'], end: '32/3' });
  });
  it('reads any unit', () => {
    // check-values.md: dotted quarter = 60 is quarter = 90 (computed).
    expect(played('6/8 ; 6/8', [tempo('0', 1, 60, '3/8')])).toEqual({ rates: '90 90', codes: [], end: '4' });
  });
  it('lets a mark act in mid-bar', () => {
    const { rates, end } = played('4/4 ; 4/4', [tempo('0', 1, 60), tempo('1/2', 1, 120)]);
    expect(rates).toBe('60 120');
    expect(end).toBe('5');
  });
  it('takes the first mark from the beginning on', () => {
    expect(played('4/4:1/4 ; 4/4 ; 4/4', [tempo('1/4', 2, 72)])).toMatchObject({
      rates: '72 72 72',
      codes: [],
    });
    expect(played(four, [tempo('2', 3, 72)])).toMatchObject({
      rates: '72 72 72 72',
      codes: ['tempo-start-assumed'],
    });
  });
  it('ignores tempi that nobody can mean', () => {
    expect(played(four, [tempo('0', 1, 60), tempo('1', 2, 0), tempo('2', 3, 9999)])).toMatchObject({
      rates: '60 60 60 60',
      codes: ['tempo-zero', 'tempo-absurd'],
    });
  });
  it('keeps the time of the old value for the new one', () => {
    // MusicXML 4.0, metronome: a metric modulation such as "quarter = dotted quarter"; the arithmetic is computed.
    expect(
      played('4/4 ; 6/8 ; 4/4', [
        tempo('0', 1, 80),
        relation('1', 2, '1/4', '3/8'),
        relation('7/4', 3, '3/8', '1/4'),
      ]),
    ).toMatchObject({ rates: '80 120 80', codes: [] });
  });
});

describe('repeats', () => {
  it('lets a mark inside a repeat act again, and goes back to the tempo that was there', () => {
    expect(played('4/4 ; 4/4 ; 4/4 :| ; 4/4', [tempo('0', 1, 60), tempo('1', 2, 120)]).rates).toBe(
      '60 120 120 60 120 120 120',
    );
  });
  it('does not take a tempo out of an ending that is left out', () => {
    const line = '4/4 ; [1 4/4 ] :| ; [2 4/4 ] ; 4/4';
    expect(played(line, [tempo('0', 1, 60), tempo('1', 2, 120)]).rates).toBe('60 120 60 60 60');
  });
  it('goes back to the first tempo at a da capo', () => {
    expect(played('4/4 Fine ; 4/4 ; 4/4 DC', [tempo('0', 1, 60), tempo('1', 2, 120)]).rates).toBe(
      '60 120 120 60',
    );
  });
  it('keeps the tempo when it goes on to the coda', () => {
    const line = '4/4 TC ; 4/4 DC ; O 4/4';
    expect(played(line, [tempo('0', 1, 60), tempo('1', 2, 120)]).rates).toBe('60 120 60 60');
  });
});

describe('gradual changes', () => {
  it('arrive at the printed tempo that follows', () => {
    // Pace from 4 s to 8 s a whole note over one bar: 6 s (computed).
    const { rates, end, codes } = played('4/4 ; 4/4 ; 4/4', [
      tempo('0', 1, 60),
      words('1', 2, 'rit.'),
      tempo('2', 3, 30),
    ]);
    expect(rates).toBe('60 60 30');
    expect(end).toBe('18');
    expect(codes).toEqual([]);
  });
  it('do not arrive at a tempo that lies the other way', () => {
    const { rates, end, codes } = played('4/4 ; 4/4 ; 4/4', [
      tempo('0', 1, 60),
      words('1', 2, 'rit.'),
      tempo('2', 3, 120),
    ]);
    expect(rates).toBe('60 60 120');
    expect(end).toBe('10');
    expect(codes).toEqual(['gradual-without-goal']);
  });
  it('leave the tempo alone where no goal is given', () => {
    expect(played(four, [tempo('0', 1, 60), words('1', 2, 'rall.'), words('2', 3, 'a tempo')])).toMatchObject(
      {
        rates: '60 60 60 60',
        codes: ['gradual-without-goal'],
      },
    );
  });
  it('give way to "a tempo", which brings the tempo before them back', () => {
    const marks = [tempo('0', 1, 60), words('1', 2, 'rit.'), tempo('2', 3, 30), words('3', 4, 'a tempo')];
    expect(played(four, marks).rates).toBe('60 60 30 60');
  });
  it('may be acted out by playback tempi, which "a tempo" does not return to', () => {
    const marks = [
      tempo('0', 1, 60),
      words('1', 2, 'rit.'),
      tempo('1', 2, 50, '1/4', false),
      tempo('3/2', 2, 40, '1/4', false),
      words('2', 3, 'a tempo'),
    ];
    expect(played(four, marks).rates).toBe('60 50 60 60');
  });
  it('may carry a figure of their own, which "a tempo" does not return to either', () => {
    const marks = [tempo('0', 1, 60), words('1', 2, 'rall.'), tempo('1', 2, 50), words('2', 3, 'a tempo')];
    expect(played(four, marks).rates).toBe('60 50 60 60');
  });
  it('know the first tempo of the movement', () => {
    const marks = [tempo('0', 1, 60), tempo('1', 2, 120), words('2', 3, 'Tempo I')];
    expect(played(four, marks).rates).toBe('60 120 60 60');
    const second = [tempo('0', 1, 50), tempo('1', 2, 60), tempo('2', 3, 120), words('3', 4, 'Tempo primo')];
    expect(played('4/4 ||| ; 4/4 ; 4/4 ; 4/4', second).rates).toBe('50 60 120 60');
  });
  it('go on across a bar line', () => {
    const marks = [tempo('0', 1, 60), words('0', 1, 'rit.'), tempo('2', 3, 30)];
    // Half-way the pace is 6 s a whole note, 40 quarters a minute (computed).
    expect(played(four, marks).rates).toBe('60 40 30 30');
  });
  it('says which tempo words have no figure', () => {
    expect(
      played(four, [tempo('0', 1, 60), words('0', 1, 'Allegro'), words('2', 3, 'Adagio')]).codes,
    ).toEqual(['tempo-words-without-figure']);
  });
});

describe('spans', () => {
  const spans = (line: string, marks: readonly Mark[]): string[] =>
    gradualSpans(scoreOf(line, marks)).map(
      ({ from, to, text }) => `${text} ${F.format(from)}-${F.format(to)}`,
    );
  it.each([
    ['a printed tempo', four, [words('1/2', 1, 'rit.'), tempo('2', 3, 60)], ['rit. 1/2-2']],
    ['tempo words', four, [words('1/2', 1, 'rit.'), words('1', 2, 'Adagio')], ['rit. 1/2-1']],
    [
      'not a playback tempo',
      four,
      [words('0', 1, 'rit.'), tempo('1/4', 1, 50, '1/4', false), words('1', 2, 'a tempo')],
      ['rit. 0-1'],
    ],
    [
      'another change',
      four,
      [words('0', 1, 'accel.'), words('1', 2, 'rit.'), words('2', 3, 'a tempo')],
      ['accel. 0-1', 'rit. 1-2'],
    ],
    ['a double bar', '4/4 ; 4/4 || ; 4/4', [words('1/2', 1, 'rit.')], ['rit. 1/2-2']],
    ['a repeat sign', '4/4 ; 4/4 :| ; 4/4', [words('1/2', 1, 'rit.')], ['rit. 1/2-2']],
    ['the beginning of a repeat', '4/4 ; |: 4/4 :| ; 4/4', [words('1/2', 1, 'rit.')], ['rit. 1/2-1']],
    ['four bars', `${four} ; ${four}`, [words('3/2', 2, 'rit.')], ['rit. 3/2-5']],
    ['the end of the piece', '4/4 ; 4/4', [words('3/2', 2, 'rit.')], ['rit. 3/2-2']],
  ])('end with %s', (_what, line, marks, expected) => {
    expect(spans(line, marks)).toEqual(expected);
  });
  it('lie inside the score', () => {
    const score = scoreOf(four, [words('4', 4, 'rit.')]);
    for (const { to } of gradualSpans(score)) expect(F.atMost(to, plus(note(4), note(0)))).toBe(true);
    expect(gradualSpans(score)).toEqual([]);
  });
});

describe('spans in parts', () => {
  const rest = (at: string, length: string, fermata: string | null): WrittenNote => ({
    id: `r${at.replace('/', '-')}`,
    kind: 'rest',
    bar: 0,
    onset: place(at, 1).at,
    duration: place(length, 1).at,
    staff: 1,
    voice: '1',
    value: null,
    tuplet: { actual: 1, normal: 1 },
    tupletMarks: [],
    chord: false,
    pitch: null,
    display: null,
    wholeBar: false,
    tieStart: false,
    tieStop: false,
    slash: false,
    cue: false,
    printed: true,
    accidental: '',
    stem: null,
    notehead: '',
    beams: [],
    marks: { ...noMarks, fermata },
    lyrics: [],
  });
  const direction = (at: string, kind: 'words' | 'dashes', value: string): Direction => ({
    ...place(at, 1),
    staff: 1,
    kind,
    value,
    number: 1,
    above: true,
  });
  const spans = (
    written: readonly WrittenNote[],
    directions: readonly Direction[],
    marks: readonly Mark[] = [],
  ): string[] => {
    const part: Part = {
      id: 'P1',
      name: '',
      abbreviation: '',
      sound: '',
      program: null,
      staves: 1,
      transpositions: [],
      clefs: [],
      keys: [],
      written,
      notes: [],
      directions,
    };
    const score = { ...scoreOf(four, marks), parts: [part, { ...part, id: 'P2' }] };
    return gradualSpans(score).map(
      ({ from, to, goal }) => `${F.format(from)}-${F.format(to)}${goal ? ' goal' : ''}`,
    );
  };
  it('come from words of single parts too, once', () => {
    expect(spans([], [direction('1/4', 'words', 'rit.'), direction('1/2', 'words', 'dolce')])).toEqual([
      '1/4-4',
    ]);
  });
  it('end with the next fermata', () => {
    const notes = [
      rest('0', '1/4', 'normal'),
      rest('5/4', '1/4', null),
      rest('3/2', '3/8', 'normal'),
      rest('3', '1', 'normal'),
    ];
    expect(spans(notes, [direction('1/2', 'words', 'rit.')])).toEqual(['1/2-15/8']);
  });
  it('end with a fermata over a bar line', () => {
    const ends = (line: string): string[] =>
      gradualSpans(scoreOf(line, [words('1/2', 1, 'rit.')])).map(({ to }) => F.format(to));
    expect(ends('4/4 ; 4/4 F ; 4/4 ; 4/4')).toEqual(['2']);
    expect(ends('4/4 ; 4/4 ; 4/4 ; 4/4')).toEqual(['4']);
  });
  it('end with their dashes, or with the tempo mark that follows these within the bar', () => {
    const dashed = [
      direction('1/2', 'words', 'rit.'),
      direction('1/2', 'dashes', 'start'),
      direction('7/4', 'dashes', 'stop'),
    ];
    expect(spans([], dashed)).toEqual(['1/2-7/4']);
    expect(spans([], dashed, [tempo('2', 3, 50)])).toEqual(['1/2-2 goal']);
    expect(spans([], dashed, [tempo('3', 4, 50)])).toEqual(['1/2-7/4']);
    // Dashes that stop inside the last bar: nothing would bring the tempo back before the end.
    const toTheEnd = [dashed[0], direction('1/2', 'dashes', 'start'), direction('15/4', 'dashes', 'stop')];
    expect(
      spans(
        [],
        toTheEnd.filter((one) => one !== undefined),
      ),
    ).toEqual(['1/2-4']);
  });
});

describe('tempo words', () => {
  it.each([
    ['rit.', 'slower', null],
    ['poco ritardando', 'slower', null],
    ['riten.', 'slower', null],
    ['rall. e dim.', 'slower', null],
    ['allargando', 'slower', null],
    ['poco a poco accelerando', 'faster', null],
    ['stringendo', 'faster', null],
    ['a tempo', null, 'tempo'],
    ['a tempo, poco rit.', 'slower', 'tempo'],
    ['Tempo primo', null, 'first'],
    ['Tempo I', null, 'first'],
    ["L'istesso tempo", null, 'same'],
    ['senza rit.', null, null],
    ['Allegro', null, null],
    ['Strings', null, null],
    ['Ritornell', null, null],
    ['In tempo di minuetto', null, null],
    ['Tempo di valse', null, null],
    ['im Zeitmaß', null, 'tempo'],
    ['zurückhaltend', 'slower', null],
    ['Cédez', 'slower', null],
  ])('reads "%s"', (text, change, back) => {
    expect(readTempoWords(text)).toEqual({ change, back });
  });
});
