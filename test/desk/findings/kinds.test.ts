/** Each kind of finding from invented figures whose truth is known: where it is told, with which figure, and what is said. */
import { describe, expect, it } from 'vitest';
import type { FindingKind } from '../../../src/desk/findings/model.ts';
import { widened } from '../../../src/desk/findings/weigh.ts';
import type { Reading, ReadingFigures } from '../../../src/desk/reading.ts';
import { figure, inBar, made, notesOf, said, seam, strongest } from './support.ts';

const pair = (changes: Partial<Reading['pairs'][number]>): Reading['pairs'][number] => ({
  parts: ['P1', 'P2'],
  n: 16,
  mean: null,
  sd: null,
  sdWithoutNoise: null,
  meanAbsolute: null,
  ...changes,
});

const tempo = (bar: number, perMinute: number, part = 'P1', half = 0.5): Reading['tempo'][number] => ({
  ...inBar(bar),
  part,
  n: 5,
  perMinute: figure(perMinute, half),
  asked: 60,
});

const drift = (part: string | null, percent: number, half: number): Reading['drift'][number] => ({
  part,
  n: 30,
  pace: figure(100, 1),
  percentPerMinute: figure(percent, half),
});

interface Case {
  readonly kind: FindingKind;
  readonly changes: Partial<ReadingFigures>;
  /** The same with an interval that holds nothing too. */
  readonly vague: Partial<ReadingFigures>;
  readonly bar: string;
  readonly beat: string;
  readonly figure: number;
  readonly english: RegExp;
  readonly german: RegExp;
}

const atSeam = (changes: Partial<typeof seam>): Partial<ReadingFigures> => ({
  seams: [{ ...seam, ...changes }],
});
const entry = (first: boolean, half: number): Partial<ReadingFigures> => ({
  entries: [{ ...inBar(2), beat: '3', first, parts: ['P1', 'P2'], apart: figure(-48, half) }],
});
const cued = (half: number): Partial<ReadingFigures> => ({
  playing: 'free',
  entries: [
    { ...inBar(2), beat: '3', first: false, parts: ['P1', 'P2'], apart: figure(-48, half), cue: 'P2' },
  ],
});
// The third beat of bar 2 is 90 ms apart, all others 10.
const apart = notesOf(['P1', 'P2'], ({ part, bar, beat }) =>
  part === 'P2' ? (bar === 2 && beat === 3 ? 0.09 : 0.01) : 0,
);
// Notes span 15 s from the first to the last: 12 % a minute is 3 % over it, of 60 quarters a minute 1.8.
const growing = (half: number): Partial<ReadingFigures> => ({
  drift: [drift(null, 12, half)],
  tempo: [tempo(1, 60)],
});

const cases: readonly Case[] = [
  {
    kind: 'spread',
    changes: { notes: apart, pairs: [pair({ sdWithoutNoise: figure(44, 8) })] },
    vague: { notes: apart, pairs: [pair({ sdWithoutNoise: { value: 4, low: 0, high: 9 } })] },
    bar: '2',
    beat: '3',
    figure: 44,
    english: /Bar 2, beat 3: .* differ by 44 ms \(36 to 52\), over 16 places\./,
    german: /Takt 2, Schlag 3: .* um 44 ms \(36 bis 52\), an 16 Stellen\./,
  },
  {
    kind: 'lead',
    changes: { notes: apart, pairs: [pair({ mean: figure(-24, 4) })] },
    vague: { notes: apart, pairs: [pair({ mean: figure(-3, 5) })] },
    bar: '2',
    beat: '3',
    figure: 24,
    english: /Flutist leads Clarinettist by 24 ms \(20 to 28\) on the whole.*bar 2, beat 3/,
    german: /Flutist führt vor Clarinettist, im Ganzen um 24 ms \(20 bis 28\)/,
  },
  {
    kind: 'first-entry',
    changes: entry(true, 12),
    vague: entry(true, 60),
    bar: '2',
    beat: '3',
    figure: 48,
    english: /Bar 2, beat 3: the first entry is 48 ms \(36 to 60\) apart/,
    german: /Takt 2, Schlag 3: Der erste Einsatz liegt 48 ms \(36 bis 60\) auseinander/,
  },
  {
    kind: 'entry',
    changes: entry(false, 12),
    vague: entry(false, 60),
    bar: '2',
    beat: '3',
    figure: 48,
    english: /Bar 2, beat 3: you come in 48 ms \(36 to 60\) apart/,
    german: /Ihr setzt 48 ms \(36 bis 60\) auseinander ein/,
  },
  {
    kind: 'cued-entry',
    changes: cued(12),
    vague: cued(60),
    bar: '2',
    beat: '3',
    // The second of the two cues and comes 48 ms after the first.
    figure: -48,
    english:
      /Bar 2, beat 3, cued by Clarinettist: the entry comes 48 ms \(36 to 60\) before that player’s own/,
    german:
      /Takt 2, Schlag 3, Einsatz von Clarinettist: Der Einsatz kommt 48 ms \(36 bis 60\) vor dessen eigenem/,
  },
  {
    kind: 'drift',
    changes: growing(4),
    vague: growing(14),
    bar: '1',
    beat: '1',
    figure: 1.8,
    english: /Bars 1 to 4: the tempo moves on by 1\.8 quarters a minute \(1\.2 to 2\.4\)/,
    german: /Takt 1 bis 4: Das Tempo zieht an, um 1,8 Viertel in der Minute \(1,2 bis 2,4\)/,
  },
  {
    kind: 'bar-tempo',
    changes: { tempo: [tempo(2, 65), tempo(3, 66)] },
    vague: { tempo: [tempo(3, 63, 'P1', 7)] },
    bar: '2',
    beat: '1',
    figure: 6,
    english: /Bars 2 to 3: the tempo moves on, by up to 6\.0 quarters a minute \(5\.4 to 6\.6\)/,
    german: /Takt 2 bis 3: Das Tempo zieht an, um bis zu 6,0 Viertel/,
  },
  {
    kind: 'bar-line',
    changes: { barLines: [{ ...inBar(3), part: 'P2', late: null, n: 0, lateAtClick: figure(41, 10) }] },
    vague: { barLines: [{ ...inBar(3), part: 'P2', late: null, n: 0, lateAtClick: figure(41, 50) }] },
    bar: '3',
    beat: '1',
    figure: 41,
    english: /Bar 3, beat 1: the bar line comes 41 ms \(31 to 51\) after the click/,
    german: /Der Taktstrich kommt 41 ms \(31 bis 51\) nach dem Klick/,
  },
  {
    kind: 'seam-time',
    changes: atSeam({ late: figure(-35, 10) }),
    vague: atSeam({ late: figure(-35, 40) }),
    bar: '3',
    beat: '2',
    figure: -35,
    english: /Bar 3, beat 2: the line is taken over 35 ms \(25 to 45\) before it leads there/,
    german: /Die Linie wird 35 ms \(25 bis 45\) davor übernommen/,
  },
  {
    kind: 'seam-level',
    // 1 dB above the own line before, 6 below it after: 7 down; half intervals 3 and 4 make 5.
    changes: atSeam({ level: { from: figure(1, 3), to: figure(-6, 4) } }),
    vague: atSeam({ level: { from: figure(1, 6), to: figure(-6, 8) } }),
    bar: '3',
    beat: '2',
    figure: -7,
    english: /steps down by 7\.0 dB \(2\.0 to 12\.0\)/,
    german: /um 7,0 dB \(2,0 bis 12,0\) schwächer/,
  },
  {
    kind: 'seam-length',
    changes: atSeam({ length: figure(0.3, 0.1) }),
    vague: atSeam({ length: figure(0.3, 0.4) }),
    bar: '3',
    beat: '2',
    figure: 0.3,
    english: /notes become longer, by 0\.30 \(0\.20 to 0\.40\) of the time to the next note/,
    german: /werden die Noten länger, um 0,30 \(0,20 bis 0,40\)/,
  },
  {
    kind: 'seam-level-slope',
    changes: atSeam({ levelSlope: { before: figure(2, 0.3), after: figure(-1, 0.4) } }),
    vague: atSeam({ levelSlope: { before: figure(2, 3), after: figure(-1, 4) } }),
    bar: '3',
    beat: '2',
    figure: -3,
    english: /turns towards softer, by 3\.0 dB for each quarter \(2\.5 to 3\.5\)/,
    german: /ins Schwächere, um 3,0 dB je Viertel \(2,5 bis 3,5\)/,
  },
  {
    kind: 'seam-tempo-slope',
    // 10 % of 60 are 6 quarters a minute.
    changes: {
      ...atSeam({ tempoSlope: { before: figure(-4, 3), after: figure(6, 4) } }),
      tempo: [tempo(3, 60, 'P1', 3)],
    },
    vague: {
      ...atSeam({ tempoSlope: { before: figure(-4, 9), after: figure(6, 12) } }),
      tempo: [tempo(3, 60, 'P1', 3)],
    },
    bar: '3',
    beat: '2',
    figure: 6,
    english: /turns to moving on, by 6\.0 quarters a minute for each quarter \(3\.0 to 9\.0\)/,
    german: /anzuziehen, um 6,0 Viertel in der Minute je Viertel \(3,0 bis 9,0\)/,
  },
  {
    kind: 'after-syncopation',
    changes: { syncopations: [{ ...inBar(4), part: 'P1', beat: '1', n: 8, late: figure(-52, 12) }] },
    vague: { syncopations: [{ ...inBar(4), part: 'P1', beat: '1', n: 8, late: figure(-52, 60) }] },
    bar: '4',
    beat: '1',
    figure: -52,
    english: /Bar 4, beat 1: the short notes after the syncopation arrive 52 ms \(40 to 64\) before/,
    german: /nach der Synkope kommen 52 ms \(40 bis 64\) davor an/,
  },
  {
    kind: 'length',
    changes: {
      articulationBetween: [
        { parts: ['P1', 'P2'], difference: figure(-0.25, 0.05), n: [16, 16], left: [0, 0] },
      ],
    },
    vague: {
      articulationBetween: [
        { parts: ['P1', 'P2'], difference: figure(-0.25, 0.3), n: [16, 16], left: [0, 0] },
      ],
    },
    bar: '1',
    beat: '1',
    figure: 0.25,
    english: /Bars 1 to 4: .* differently long, by 0\.25 \(0\.20 to 0\.30\) of the time/,
    german: /verschieden lang, um 0,25 \(0,20 bis 0,30\) der Zeit/,
  },
  {
    kind: 'evenness',
    changes: {
      evennessBetween: [
        { parts: ['P1', 'P2'], value: '1/8', ratio: { value: 0.8, low: 0.75, high: 0.85 }, n: [16, 16] },
      ],
    },
    vague: {
      evennessBetween: [
        { parts: ['P1', 'P2'], value: '1/8', ratio: { value: 0.8, low: 0.6, high: 1.1 }, n: [16, 16] },
      ],
    },
    bar: '1',
    beat: '1',
    figure: 1.25,
    english:
      /pairs of eighths differently, .* factor of 1\.25 \(1\.18 to 1\.33\)\. That is a question of style/,
    german: /Paare von Achteln verschieden, .* Faktor 1,25 \(1,18 bis 1,33\)\. Das ist eine Frage des Stils/,
  },
  {
    kind: 'bend',
    changes: { playing: 'free', pairs: [pair({})], tempo: [tempo(2, 64, 'P1', 3), tempo(2, 54, 'P2', 4)] },
    vague: { playing: 'free', pairs: [pair({})], tempo: [tempo(2, 64, 'P1', 9), tempo(2, 54, 'P2', 12)] },
    bar: '2',
    beat: '1',
    figure: 10,
    english: /Bar 2, beat 1: you bend the tempo apart, by 10\.0 quarters a minute \(5\.0 to 15\.0\)/,
    german: /Ihr biegt das Tempo auseinander, um 10,0 Viertel/,
  },
];

describe.each(cases)('$kind', ({ kind, changes, vague, bar, beat, figure: value, english, german }) => {
  it('is told with bar, beat, figure, interval and one thing to try', () => {
    const reading = made(changes);
    const first = strongest(reading);
    expect(first).toMatchObject({ kind, told: true, bar, beat });
    expect(first.figure.value).toBeCloseTo(value, 6);
    expect(first.toTry).not.toBe('again');
    const { sentence, tryThis } = said(first, reading);
    expect(sentence).toMatch(english);
    expect(tryThis).toMatch(/^Try: .{20,}\.$/);
    const inGerman = said(first, reading, 'de');
    expect(inGerman.sentence).toMatch(german);
    expect(inGerman.tryThis).toMatch(/^Versucht: .{20,}\.$/);
  });

  it('within its uncertainty is not told, and said to be so with the figure', () => {
    const reading = made(vague);
    expect(reading.findings.every(({ told }) => !told)).toBe(true);
    const one = reading.findings.find((found) => found.kind === kind);
    expect(one).toMatchObject({ told: false, small: false, weight: 0, toTry: 'again' });
    if (one === undefined) throw new Error('Nothing of the kind is there.');
    const { sentence } = said(one, reading);
    expect(sentence).toContain('not to be told from');
    expect(sentence).toMatch(/\([\u2212\d.]+ to [\d.]+\)/);
    expect(said(one, reading, 'de').sentence).toMatch(/nicht zu unterscheiden.*\([\u2212\d,]+ bis [\d,]+\)/);
  });

  it('without an interval says nothing', () => {
    const bare = JSON.parse(
      JSON.stringify(changes, (key, inner: unknown) => (key === 'low' || key === 'high' ? null : inner)),
    ) as Partial<ReadingFigures>;
    expect(made(bare).findings).toEqual([]);
  });
});

describe('the order', () => {
  it('what is surely larger comes first, and a large unsure figure after a smaller sure one', () => {
    const late = (bar: number, value: number, half: number) => ({
      ...seam,
      ...inBar(bar),
      late: figure(value, half),
    });
    // With the widening for three, by 1.22: 60 is surely above 54, 90 only above 5, 40 above 34.
    const { findings } = made({ seams: [late(1, 90, 70), late(2, 60, 5), late(3, 40, 5)] });
    expect(findings.map(({ bar }) => bar)).toEqual(['2', '3', '1']);
    const weights = findings.map(({ weight }) => weight);
    expect([...weights].sort((a, b) => b - a)).toEqual(weights);
  });

  it('the second of a kind counts half, so that another kind comes between', () => {
    const { findings } = made({
      seams: [
        { ...seam, ...inBar(1), late: figure(80, 5) },
        { ...seam, ...inBar(2), late: figure(79, 5) },
      ],
      syncopations: [{ ...inBar(4), part: 'P1', beat: '1', n: 8, late: figure(-60, 5) }],
    });
    expect(findings.map(({ kind }) => kind)).toEqual(['seam-time', 'after-syncopation', 'seam-time']);
  });

  it('one place in several repetitions is told once, as their mean', () => {
    const { findings } = made({
      seams: [1, 2, 3].map((rep) => ({ ...seam, rep, late: figure(40 + 10 * rep, 5) })),
    });
    expect(findings.map(({ kind, times, figure: { value } }) => [kind, times, value])).toEqual([
      ['seam-time', 3, 60],
    ]);
  });

  it('less than is heard is told of the take as such, and not of single places', () => {
    const { findings } = made({
      pairs: [pair({ mean: figure(-6, 2) })],
      seams: [{ ...seam, late: figure(9, 2) }],
    });
    expect(findings.map(({ kind, small }) => [kind, small])).toEqual([['lead', true]]);
    const reading = made({ pairs: [pair({ mean: figure(-6, 2) })] });
    expect(said(strongest(reading), reading).sentence).toContain('less than is likely to be heard');
  });
});

describe('caution', () => {
  it('few notes, a wide interval and unsure notes are said and weigh less', () => {
    const plain = strongest(made({ seams: [{ ...seam, late: figure(40, 10) }] }));
    const few = made({ seams: [{ ...seam, n: { from: 6, to: 2 }, late: figure(40, 10) }] });
    expect(plain.caution).toEqual([]);
    expect(strongest(few).caution).toEqual(['few-notes']);
    expect(strongest(few).weight).toBeCloseTo(0.7 * plain.weight, 9);
    expect(said(strongest(few), few).caution).toBe('With caution: it rests on 2 notes only.');
    const wide = made({ seams: [{ ...seam, late: figure(40, 25) }] });
    expect(strongest(wide).caution).toEqual(['wide-interval']);
    expect(said(strongest(wide), wide).caution).toBe('With caution: it may be as small as 15 ms.');
    const half = notesOf(['P1', 'P2']).map((note, i) =>
      i % 3 === 0 ? { ...note, state: 'unsure' as const } : note,
    );
    const unsure = made({ notes: half, seams: [{ ...seam, late: figure(40, 10) }] });
    expect(strongest(unsure).caution).toEqual(['unsure-notes']);
    expect(said(strongest(unsure), unsure, 'de').caution).toContain('nicht sicher zu hören');
  });
});

describe('the clearest of many', () => {
  it('has a wider interval: two-sided normal quantiles 1.960, 2.241 (of 2), 2.807 (of 10), from tables', () => {
    // NIST/SEMATECH e-Handbook 1.3.6.7.1 has the normal distribution; these three from memory.
    const { low, high } = widened({ value: 0, low: -1.96, high: 1.96 }, 10);
    expect(high).toBeCloseTo(2.807, 3);
    expect(low).toBeCloseTo(-2.807, 3);
    expect(widened({ value: 5, low: 3.04, high: 6.96 }, 2).high).toBeCloseTo(7.241, 3);
    expect(widened({ value: 5, low: 3, high: 8 }, 1)).toEqual({ value: 5, low: 3, high: 8 });
  });

  it('so that what one bar line would tell, one of twenty does not', () => {
    const line = (late: number, i: number) => ({
      ...inBar((i % 4) + 1),
      pass: 1 + Math.floor(i / 4),
      part: 'P1',
      late: null,
      n: 0,
      lateAtClick: figure(late, 20),
    });
    expect(strongest(made({ barLines: [line(25, 0)] })).told).toBe(true);
    const many = made({ barLines: Array.from({ length: 20 }, (_, i) => line(i === 0 ? 25 : 0, i)) });
    expect(strongest(many)).toMatchObject({ told: false, among: 20, bar: '1' });
  });
});
