import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metreText } from '../../src/score/metre.ts';
import { pitchText } from '../../src/score/pitch.ts';
import { plainTempo } from '../../src/score/read/midi/tempi.ts';
import { spell } from '../../src/score/read/midi/spell.ts';
import { F, seeded } from '../../src/units/index.ts';
import { readWithMido } from '../sound/midi-timelines.ts';
import { codesOf, madeByMido, notes, scoreOf, sounding, type MidoEvent } from './midi-files.ts';

const meta = (tick: number, kind: string, values: Readonly<Record<string, number | string>>): MidoEvent => [
  tick,
  kind,
  values,
];
const metreAt = (tick: number, numerator: number, denominator: number) =>
  meta(tick, 'time_signature', { numerator, denominator });

/** One track of notes in 4/4 at so many ticks to the quarter. */
const plain = (
  list: readonly (readonly [number, number, number])[],
  ticks = 480,
  others: readonly MidoEvent[] = [],
) =>
  madeByMido({
    type: 0,
    ticks_per_beat: ticks,
    tracks: [[...[metreAt(0, 4, 4), ...others, ...notes(list)].sort((a, b) => a[0] - b[0])]],
  });

describe('a MIDI file made by mido', () => {
  it('gives title, parts, bars, keys, tempi, marks and notes', () => {
    const bytes = madeByMido({
      type: 1,
      ticks_per_beat: 480,
      tracks: [
        [
          meta(0, 'track_name', { name: 'Übung in ♭' }),
          metreAt(0, 3, 4),
          meta(0, 'key_signature', { key: 'Eb' }),
          meta(0, 'set_tempo', { tempo: 652174 }),
          meta(1440, 'marker', { text: 'A' }),
          metreAt(2880, 6, 8),
          meta(2880, 'set_tempo', { tempo: 500000 }),
        ],
        [
          meta(0, 'track_name', { name: 'Flöte' }),
          [0, 'program_change', { program: 73, channel: 0 }],
          ...notes([
            [75, 0, 480],
            [76, 480, 720],
            [75, 720, 2880],
          ]),
        ],
        [
          meta(0, 'instrument_name', { name: 'Bass' }),
          ...notes(
            [
              [39, 0, 1440],
              [46, 2880, 4320],
            ],
            1,
          ),
        ],
      ],
    });
    const score = scoreOf(bytes);
    expect(score).toMatchObject({ title: 'Übung in ♭', source: 'midi' });
    expect(
      score.bars.map(({ number, metre, length }) => [number, metreText(metre), F.format(length)]),
    ).toEqual([
      ['1', '3/4', '3/4'],
      ['2', '3/4', '3/4'],
      ['3', '6/8', '3/4'],
    ]);
    expect(score.parts.map(({ name, program }) => [name, program])).toEqual([
      ['Flöte', 74],
      ['Bass', null],
    ]);
    expect(score.parts[0]?.keys.map(({ fifths, mode }) => [fifths, mode])).toEqual([[-3, 'major']]);
    expect(sounding(score)).toEqual([
      ['0', '1/4', 75],
      ['1/4', '1/8', 76],
      ['3/8', '9/8', 75],
    ]);
    expect(score.parts[0]?.notes.map(({ pitch }) => pitch && pitchText(pitch))).toEqual(['Eb5', 'E5', 'Eb5']);
    expect(sounding(score, 1)).toEqual([
      ['0', '3/4', 39],
      ['3/2', '3/4', 46],
    ]);
    expect(
      score.marks.map((mark) => [mark.kind, mark.bar, mark.kind === 'tempo' ? F.format(mark.perMinute) : '']),
    ).toEqual([
      ['tempo', 0, '92'],
      ['rehearsal', 1, ''],
      ['tempo', 2, '120'],
    ]);
    expect(codesOf(bytes)).toEqual(['tempo-rounded']);
    expect(score.parts.map(({ clefs }) => clefs[0]?.sign)).toEqual(['G', 'F']);
  });

  it('ties notes over bar lines, and fills voices with rests', () => {
    const score = scoreOf(
      plain([
        [60, 960, 4800],
        [67, 1200, 1920],
      ]),
    );
    const written = score.parts[0]?.written ?? [];
    expect(
      written.map(({ kind, voice, bar, onset, duration, tieStart, tieStop, value }) => [
        kind,
        voice,
        bar,
        F.format(onset),
        F.format(duration),
        tieStop,
        tieStart,
        value?.type ?? null,
      ]),
    ).toEqual([
      ['rest', '1', 0, '0', '1/2', false, false, 'half'],
      ['rest', '2', 0, '0', '5/8', false, false, null],
      ['note', '1', 0, '1/2', '1/2', false, true, 'half'],
      ['note', '2', 0, '5/8', '3/8', false, false, 'quarter'],
      ['note', '1', 1, '1', '1', true, true, 'whole'],
      ['note', '1', 2, '2', '1/2', true, false, 'half'],
      ['rest', '1', 2, '5/2', '1/2', false, false, 'half'],
    ]);
    expect(sounding(score)).toEqual([
      ['1/2', '2', 60],
      ['5/8', '3/8', 67],
    ]);
    expect(score.parts[0]?.notes[0]?.written.length).toBe(3);
  });

  it('joins notes of one onset and end to chords, upper note first', () => {
    const written =
      scoreOf(
        plain([
          [60, 0, 480],
          [64, 0, 480],
          [67, 0, 480],
        ]),
      ).parts[0]?.written ?? [];
    expect(
      written
        .filter(({ kind }) => kind === 'note')
        .map(({ voice, chord, pitch }) => [voice, chord, pitch?.step]),
    ).toEqual([
      ['1', false, 'G'],
      ['1', true, 'E'],
      ['1', true, 'C'],
    ]);
  });

  it('parts a file of format 0 by channel, with drums on the tenth', () => {
    const bytes = madeByMido({
      type: 0,
      ticks_per_beat: 96,
      tracks: [
        [
          meta(0, 'track_name', { name: 'All' }),
          metreAt(0, 4, 4),
          ...[
            ...notes([[60, 0, 96]], 0),
            ...notes([[48, 0, 96]], 4),
            ...notes(
              [
                [36, 0, 48],
                [38, 48, 96],
              ],
              9,
            ),
          ].sort((a, b) => a[0] - b[0]),
        ],
      ],
    });
    const score = scoreOf(bytes);
    expect(score.title).toBe('All');
    expect(score.parts.map(({ name }) => name)).toEqual(['Channel 1', 'Channel 5', 'Channel 10']);
    expect(score.parts[2]?.notes.map(({ pitch, midi }) => [pitch, midi])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(codesOf(bytes)).toEqual(['midi-drums']);
  });

  it('keeps a bar short where a signature stands inside it', () => {
    const bytes = plain(
      [[60, 0, 480]],
      480,
      [metreAt(1920 + 960, 3, 4), metreAt(1920 + 960 + 1440, 4, 4)].concat(notes([[62, 4320, 4800]])),
    );
    const score = scoreOf(bytes);
    expect(
      score.bars.map(({ metre, length, pickup }) => [metreText(metre), F.format(length), pickup]),
    ).toEqual([
      ['4/4', '1', false],
      ['4/4', '1/2', false],
      ['3/4', '3/4', false],
      ['4/4', '1', false],
    ]);
    expect(codesOf(bytes)).toEqual(['metre-mid-bar']);
  });

  it('takes a single short first bar for a pickup, and says so', () => {
    const bytes = madeByMido({
      type: 1,
      ticks_per_beat: 480,
      tracks: [
        [metreAt(0, 1, 4), metreAt(480, 4, 4)],
        notes([
          [60, 0, 480],
          [64, 480, 4320],
        ]),
      ],
    });
    expect(
      scoreOf(bytes).bars.map(({ number, pickup, metre }) => [number, pickup, metreText(metre)]),
    ).toEqual([
      ['0', true, '4/4'],
      ['1', false, '4/4'],
      ['2', false, '4/4'],
    ]);
    expect(codesOf(bytes)).toEqual(['pickup-assumed']);
  });

  it('reads names in UTF-8 and, where they are not that, in Latin-1', () => {
    for (const charset of ['utf-8', 'latin1'])
      expect(
        scoreOf(
          madeByMido({
            type: 1,
            ticks_per_beat: 96,
            charset,
            tracks: [[meta(0, 'track_name', { name: 'Königin' })], notes([[60, 0, 96]])],
          }),
        ).title,
      ).toBe('Königin');
  });

  it('puts syllables under the notes they stand at', () => {
    const bytes = plain(
      [
        [60, 0, 480],
        [62, 480, 960],
      ],
      480,
      [
        meta(0, 'lyrics', { text: 'Ky-' }),
        meta(480, 'lyrics', { text: 'rie' }),
        meta(700, 'lyrics', { text: 'lost' }),
      ],
    );
    const written = scoreOf(bytes).parts[0]?.written ?? [];
    expect(written.flatMap(({ lyrics }) => lyrics.map(({ text }) => text))).toEqual(['Ky-', 'rie']);
    expect(codesOf(bytes)).toEqual(['not-kept']);
  });

  it('says what it does not keep, and mends notes that do not end', () => {
    const bytes = madeByMido({
      type: 0,
      ticks_per_beat: 480,
      tracks: [
        [
          metreAt(0, 4, 4),
          [0, 'control_change', { control: 64, value: 127 }],
          [0, 'pitchwheel', { pitch: 100 }],
          [0, 'sysex', {}],
          meta(0, 'text', { text: 'x' }),
          [0, 'note_on', { note: 60, velocity: 64 }],
          [480, 'note_off', { note: 61 }],
          [960, 'note_on', { note: 62, velocity: 64 }],
          [1920, 'note_off', { note: 62 }],
        ],
      ],
    });
    expect(codesOf(bytes).sort()).toEqual([
      'midi-note-unclosed',
      'midi-note-unopened',
      'not-kept',
      'not-kept',
      'not-kept',
      'not-kept',
    ]);
    expect(sounding(scoreOf(bytes))).toEqual([
      ['0', '1', 60],
      ['1/2', '1/2', 62],
    ]);
  });

  it('assumes 4/4 where no metre is said', () => {
    // Standard MIDI Files 1.0: 4/4 and 120 a minute are assumed where nothing is said (from memory).
    const bytes = madeByMido({ type: 0, ticks_per_beat: 480, tracks: [notes([[60, 0, 480]])] });
    expect(codesOf(bytes)).toEqual(['metre-assumed']);
    expect(scoreOf(bytes).bars.length).toBe(1);
  });

  it('has the notes that mido finds, tick for tick, for any notes on a plain grid', () => {
    const list = fc.array(
      fc.tuple(fc.integer({ min: 0, max: 127 }), fc.nat(40), fc.integer({ min: 1, max: 12 })),
      { minLength: 1, maxLength: 40 },
    );
    fc.assert(
      fc.property(list, (made) => {
        const bytes = plain(
          made.map(([key, from, length]) => [key, from * 120, (from + length) * 120] as const),
        );
        const mido = readWithMido(bytes).tracks[0]?.notes ?? [];
        const wanted = mido.map(
          ({ tick, end, key }) =>
            [F.format(F.fraction(tick, 1920)), F.format(F.fraction((end ?? 0) - tick, 1920)), key] as const,
        );
        const key = (entry: readonly (string | number | null)[]) => entry.join(' ');
        const score = scoreOf(bytes);
        expect(sounding(score).map(key).sort()).toEqual(wanted.map(key).sort());
        for (const { written } of score.parts)
          for (const bar of score.bars) {
            const first = written.filter(
              (each) => each.bar === bar.index && each.voice === '1' && !each.chord,
            );
            expect(F.format(first.map(({ duration }) => duration).reduce(F.add, F.zero))).toBe(
              F.format(bar.length),
            );
          }
      }),
      { numRuns: 25, seed: 5 },
    );
  });
});

describe('quantisation', () => {
  const onsets = (bytes: Uint8Array) => sounding(scoreOf(bytes)).map(([onset]) => onset);

  it('keeps tuplets of a written file exactly, where ticks can say them and where they cannot', () => {
    // 480 ticks divide by 3 and 5 and not by 7: septuplets stand on rounded ticks there.
    const seven = Array.from({ length: 8 }, (_, k) => Math.round((k * 480) / 7));
    const list: (readonly [number, number, number])[] = [
      ...[0, 160, 320].map((t) => [60, t, t + 160] as const),
      ...[0, 96, 192, 288, 384].map((t) => [62, 480 + t, 576 + t] as const),
      ...seven.slice(0, 7).map((t, k) => [64, 960 + t, 960 + (seven[k + 1] ?? 480)] as const),
    ];
    const bytes = plain(list);
    expect(sounding(scoreOf(bytes)).map(([, length]) => length)).toEqual([
      ...Array.from({ length: 3 }, () => '1/12'),
      ...Array.from({ length: 5 }, () => '1/20'),
      ...Array.from({ length: 7 }, () => '1/28'),
    ]);
    expect(codesOf(bytes)).toEqual(['midi-ticks-rounded']);
    const tuplets = (scoreOf(bytes).parts[0]?.written ?? [])
      .filter(({ kind }) => kind === 'note')
      .map(({ tuplet, value }) => `${String(tuplet.actual)} ${value?.type ?? ''}`);
    expect([...new Set(tuplets)]).toEqual(['3 eighth', '5 16th', '7 16th']);
  });

  it('undoes the shortening that programs give to notes', () => {
    // Common practice, no source: notes are held for 95 % of their value.
    const list = Array.from({ length: 16 }, (_, k) => [60 + k, k * 240, k * 240 + 228] as const);
    const bytes = plain(list);
    expect(sounding(scoreOf(bytes)).every(([, length]) => length === '1/8')).toBe(true);
    expect(codesOf(bytes)).toEqual(['midi-quantised']);
  });

  it('keeps short notes that are written short', () => {
    const list = [
      [60, 0, 240],
      [62, 480, 720],
      [64, 960, 975],
      [65, 1440, 1920],
    ] as const;
    expect(sounding(scoreOf(plain(list))).map(([, length]) => length)).toEqual([
      '1/8',
      '1/8',
      '1/128',
      '1/4',
    ]);
  });

  it.each([1, 2, 3, 4, 5])('finds eighths, sixteenths and triplets in what is played, seed %i', (seed) => {
    // Played within 20 ms of the note at 90 a minute: 14 ticks of 480. Asynchronies of this size: Rasch 1979 (from memory).
    const random = seeded(seed);
    const jitter = () => Math.round((random() - 0.5) * 28);
    const quarters: (readonly number[])[] = [
      [0],
      [0, 240],
      [0, 120, 240, 360],
      [0, 160, 320],
      [0, 360],
      [0, 320],
    ];
    const wanted: number[] = [];
    for (let k = 0; k < 64; k += 1)
      for (const into of quarters[Math.floor(random() * quarters.length)] ?? []) wanted.push(k * 480 + into);
    const played = wanted.map(
      (tick, k) =>
        [60 + (k % 12), Math.max(0, tick + jitter()), (wanted[k + 1] ?? tick + 240) - 20 + jitter()] as const,
    );
    const bytes = plain(played);
    expect(onsets(bytes)).toEqual(wanted.map((tick) => F.format(F.fraction(tick, 1920))));
    const result = codesOf(bytes);
    expect(result).toContain('midi-quantised');
  });

  it('never makes a note vanish', () => {
    const random = seeded(9);
    const list = Array.from({ length: 300 }, () => {
      const from = Math.floor(random() * 9000);
      return [Math.floor(random() * 128), from, from + Math.floor(random() * 12)] as const;
    });
    const bytes = plain(list);
    const score = scoreOf(bytes);
    const mido = readWithMido(bytes).tracks[0]?.notes.length;
    expect(score.parts[0]?.notes.length).toBe(mido);
    expect(score.parts[0]?.notes.every(({ duration }) => F.isPositive(duration))).toBe(true);
  });
});

describe('spelling', () => {
  // The twelve names in each key follow from the order of sharps and flats in key signatures: common knowledge.
  it.each([
    [0, 'C C# D Eb E F F# G G# A Bb B'],
    [-3, 'C Db D Eb E F Gb G Ab A Bb B'],
    [2, 'C C# D D# E F F# G G# A A# B'],
    [4, 'B# C# D D# E E# F# G G# A A# B'],
    [-5, 'C Db D Eb Fb F Gb G Ab A Bb Cb'],
  ])('names the keys from middle C in a signature of %i', (fifths, names) => {
    const spelt = Array.from({ length: 12 }, (_, k) => pitchText(spell(60 + k, fifths)).replace(/-?\d/, ''));
    expect(spelt.join(' ')).toBe(names);
  });

  it('keeps the sound in every key', () => {
    const semitones = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
    for (let fifths = -7; fifths <= 7; fifths += 1)
      for (let key = 0; key < 128; key += 1) {
        const { step, alter, octave } = spell(key, fifths);
        expect(12 * (octave + 1) + semitones[step] + alter).toBe(key);
        expect(Number.isInteger(octave)).toBe(true);
      }
  });
});

describe('tempi', () => {
  it.each([
    [500000, '120', false],
    [652174, '92', true],
    [450011, '13333/100', true],
    [2666667, '45/2', true],
    [666667, '90', true],
    [451128, '133', true],
    [652177, '60000000/652177', false],
  ])('reads %i microseconds as %s', (micros, figure, rounded) => {
    const tempo = plainTempo(micros);
    expect([F.format(tempo.perMinute), tempo.rounded]).toEqual([
      F.format(F.parse(figure) ?? F.zero),
      rounded,
    ]);
  });

  it('keeps zero and absurd tempi apart', () => {
    const tempi = [meta(0, 'set_tempo', { tempo: 0 }), meta(480, 'set_tempo', { tempo: 100 })];
    expect(codesOf(plain([[60, 0, 1920]], 480, tempi))).toEqual(['tempo-zero', 'tempo-absurd']);
  });
});
