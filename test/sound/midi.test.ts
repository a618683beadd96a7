import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { constant, gradual, pace, steady, tempoMap, type TempoMap } from '../../src/rhythm/tempo.ts';
import type { Timeline } from '../../src/drill/model.ts';
import { variableLength } from '../../src/sound/midi/bytes.ts';
import { writeMidi } from '../../src/sound/midi.ts';
import { bpm, F, type Beats } from '../../src/units/index.ts';
import {
  at,
  clickAt,
  everyBeat,
  layBars,
  noteAt,
  readWithMido,
  timeline,
  type MidoFile,
} from './midi-timelines.ts';

const per = (unit: string, figure: string) => pace(at(unit), bpm(F.parse(figure) ?? F.one));
const none = { title: '', parts: [] };
const codes = (problems: readonly { readonly code: string }[]) => problems.map(({ code }) => code);
const tickOf = (position: Beats, file: MidoFile): string =>
  F.format(F.mul(position, F.fraction(4 * file.ticks_per_beat)));

/** Ticks must be exact; seconds may stray by `micros` microseconds. */
const expectClicks = (line: Timeline, file: MidoFile, micros: number): void => {
  const clicks = file.tracks[1]?.notes ?? [];
  expect(clicks.map(({ tick }) => String(tick))).toEqual(line.clicks.map((click) => tickOf(click.at, file)));
  expect(clicks.map(({ key, channel }) => [key, channel])).toEqual(
    line.clicks.map(({ first }) => [first ? 76 : 77, 9]),
  );
  const strays = clicks.map(({ time }, k) =>
    Math.abs(F.toNumber(F.sub(F.parse(time) ?? F.zero, line.clicks[k]?.time ?? F.zero))),
  );
  expect(strays.reduce((a, b) => Math.max(a, b), 0)).toBeLessThanOrEqual(micros * 1e-6);
};

describe('variable-length quantities', () => {
  // The table of examples in Standard MIDI Files 1.0, section "Variable-Length Quantity" (from memory).
  it.each([
    [0x00, [0x00]],
    [0x40, [0x40]],
    [0x7f, [0x7f]],
    [0x80, [0x81, 0x00]],
    [0x2000, [0xc0, 0x00]],
    [0x3fff, [0xff, 0x7f]],
    [0x4000, [0x81, 0x80, 0x00]],
    [0x1fffff, [0xff, 0xff, 0x7f]],
    [0x200000, [0x81, 0x80, 0x80, 0x00]],
    [0x0fffffff, [0xff, 0xff, 0xff, 0x7f]],
  ])('writes %i', (value, bytes) => expect(variableLength(value)).toEqual(bytes));
});

describe('a drill as a MIDI file, read back by mido', () => {
  // The tempi are those of the click arithmetic of the check values; an hour of each.
  it.each([
    ['1/4', '22.5', '4/4', '1/4'],
    ['1/4', '45', '4/4', '1/4'],
    ['1/4', '90', '4/4', '1/4'],
    ['1/4', '133.33', '3/4', '1/4'],
    ['1/8', '211', '7/8', '1/8'],
  ])(
    'has every click of an hour at %s=%s on its tick, and on time to 12 microseconds',
    (unit, figure, metre, beat) => {
      const map = constant(per(unit, figure));
      const bars = layBars(
        Array.from(
          {
            length: Math.ceil(
              F.toNumber(
                F.div(F.fraction(3600), F.mul(per(unit, figure), metre === '4/4' ? F.one : at(metre))),
              ),
            ),
          },
          () => metre,
        ),
      );
      const line = timeline(map, bars, everyBeat(map, bars, beat));
      const { bytes, problems } = writeMidi(line, none);
      expect(problems).toEqual([]);
      const file = readWithMido(bytes);
      expect([file.type, file.ticks_per_beat]).toEqual([1, 10080]);
      // 10 microseconds at bar lines, and what one bar of the largest correction adds inside it.
      expectClicks(line, file, 12);
    },
  );

  it('follows tempi that bend and change, in time at every click to 4 microseconds', () => {
    const map = tempoMap([
      steady(per('1/4', '72'), at('3')),
      gradual(per('1/4', '72'), per('1/4', '41'), at('5/4')),
      gradual(per('1/4', '41'), per('1/4', '133.33'), at('7/3')),
      steady(per('3/8', '61.7')),
    ]);
    const bars = layBars(['4/4', '4/4', '3/4', '4/4', '6/8', '6/8', '4/4', '4/4']);
    const line = timeline(map, bars, everyBeat(map, bars, '1/8'));
    const { bytes, problems } = writeMidi(line, none);
    expect(codes(problems)).toEqual(['midi-tempo-steps']);
    expectClicks(line, readWithMido(bytes), 4);
  });

  it('says metres, short bars and sums, bar numbers, title, names and programs', () => {
    const map = constant(per('1/4', '60'));
    const bars = layBars(['4/4 1/4', '4/4', '4/4', '3+2/8', '2/4+3/8', '2/4', '2/4 1/3', '2/4'], 0);
    const line = timeline(map, bars, [clickAt(map, at('0'), true, 'één')]);
    const parts = [
      { id: 'P1', name: 'Flöte ♭', program: 74 },
      { id: 'P2', name: 'Bass', program: null },
    ];
    const { bytes, problems } = writeMidi(line, { title: 'Übung', parts });
    const file = readWithMido(bytes);
    const quarter = file.ticks_per_beat;
    expect(file.tracks.map(({ name }) => name)).toEqual(['Übung', 'click', 'Flöte ♭', 'Bass']);
    const [conductor, click, flute, bass] = file.tracks;
    expect(
      conductor?.signatures.map(([tick, n, d]) => `${String(tick / quarter)} ${String(n)}/${String(d)}`),
    ).toEqual([
      '0 1/4',
      '1 4/4',
      '9 5/8',
      '11.5 7/8',
      '15 2/4',
      // The bar of 1/3 has no signature; after it the metre is said anew.
      `${String(17 + 4 / 3)} 2/4`,
    ]);
    expect(conductor?.markers.map(([, text]) => text)).toEqual(['0', '1', '2', '3', '4', '5', '6', '7']);
    expect(conductor?.tempi).toEqual([[0, 1_000_000]]);
    expect(click?.lyrics).toEqual([[0, 'één']]);
    expect(flute?.programs).toEqual([[0, 0, 73]]);
    expect(bass?.programs).toEqual([]);
    expect(codes(problems)).toEqual(['midi-metre-summed', 'midi-metre-left-out']);
  });

  it('writes kept notes only, exactly, repeated ones struck anew', () => {
    const map = constant(per('1/4', '90'));
    const bars = layBars(['4/4', '4/4']);
    const notes = [
      noteAt(map, 'P1', '0', '1/4', 60),
      noteAt(map, 'P1', '1/4', '1/4', 60),
      noteAt(map, 'P1', '1/2', '1/20', 62),
      noteAt(map, 'P1', '11/20', '1/28', 62),
      noteAt(map, 'P1', '3/4', '1/4', 64, false),
      noteAt(map, 'P2', '1', '1/6', 57.5),
      noteAt(map, 'P2', '7/6', '1/12', null),
      noteAt(map, 'P2', '5/4', '1/12', 140),
      noteAt(map, 'P3', '5/4', '1/12', 60),
    ];
    const parts = [
      { id: 'P1', name: 'One', program: 1 },
      { id: 'P2', name: 'Two', program: 128 },
    ];
    const { bytes, problems } = writeMidi(timeline(map, bars, [], notes), { title: '', parts });
    const file = readWithMido(bytes);
    const found = file.tracks
      .slice(2)
      .map((track) =>
        track.notes.map(({ tick, end, key, channel }) => [
          F.format(F.fraction(tick, 4 * file.ticks_per_beat)),
          F.format(F.fraction((end ?? 0) - tick, 4 * file.ticks_per_beat)),
          key,
          channel,
        ]),
      );
    expect(found).toEqual([
      [
        ['0', '1/4', 60, 0],
        ['1/4', '1/4', 60, 0],
        ['1/2', '1/20', 62, 0],
        ['11/20', '1/28', 62, 0],
      ],
      [
        ['1', '1/6', 58, 1],
        ['7/6', '1/12', 37, 9],
      ],
    ]);
    expect(codes(problems)).toEqual([
      'midi-pitch-rounded',
      'midi-unpitched',
      'midi-pitch-outside',
      'midi-part-missing',
    ]);
    expect(problems[0]?.part).toBe('P2');
  });

  it('finds a resolution for elevenths, and says when there is none', () => {
    const map = constant(per('1/4', '60'));
    const bars = layBars(['4/4']);
    const eleven = timeline(map, bars, [], [noteAt(map, 'P1', '1/11', '1/44', 60)]);
    const parts = [{ id: 'P1', name: 'One', program: null }];
    const first = writeMidi(eleven, { title: '', parts });
    expect(first.problems).toEqual([]);
    const file = readWithMido(first.bytes);
    expect(file.ticks_per_beat % 11).toBe(0);
    expect(
      file.tracks[2]?.notes.map(({ tick }) => F.format(F.fraction(tick, 4 * file.ticks_per_beat))),
    ).toEqual(['1/11']);
    const wild = ['1/11', '1/13', '1/17', '1/19', '1/23'].map((from) => noteAt(map, 'P1', from, '1/4', 60));
    expect(codes(writeMidi(timeline(map, bars, [], wild), { title: '', parts }).problems)).toEqual([
      'midi-position-rounded',
    ]);
  });

  it('keeps parts off the percussion channel and says when channels run out', () => {
    const map = constant(per('1/4', '60'));
    const parts = Array.from({ length: 17 }, (_, k) => ({
      id: `P${String(k)}`,
      name: String(k),
      program: null,
    }));
    const notes = parts.map(({ id }) => noteAt(map, id, '0', '1/4', 60));
    const { bytes, problems } = writeMidi(timeline(map, layBars(['4/4']), [], notes), { title: '', parts });
    expect(
      readWithMido(bytes)
        .tracks.slice(2)
        .map((track) => track.notes[0]?.channel),
    ).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15, 0, 1]);
    expect(codes(problems)).toEqual(['midi-channels-shared']);
  });

  it('bridges a silence that is longer than one delta time', () => {
    const map = constant(per('1/4', '900'));
    const far = at('20000');
    const line = timeline(map, layBars(['4/4', '4/4 20000']), [
      clickAt(map, at('0'), true),
      clickAt(map, far, true),
    ]);
    const file = readWithMido(writeMidi(line, none).bytes);
    expect(file.tracks[1]?.notes.map(({ tick }) => String(tick))).toEqual(['0', tickOf(far, file)]);
  });

  it('gives the same bytes for the same timeline', () => {
    const make = (map: TempoMap) =>
      writeMidi(timeline(map, layBars(['4/4']), [clickAt(map, at('1/3'), false)]), none);
    expect(make(constant(per('1/4', '77')))).toEqual(make(constant(per('1/4', '77'))));
  });

  it('puts any exact position of the usual tuplets on its very tick', () => {
    const map = constant(per('1/4', '60'));
    const positions = fc.array(
      fc
        .tuple(fc.nat(5000), fc.constantFrom(128, 96, 80, 112, 144, 7, 9, 5))
        .map(([n, d]) => F.fraction(n, d)),
      { minLength: 1, maxLength: 20 },
    );
    fc.assert(
      fc.property(positions, (list) => {
        const sorted = [...list].sort(F.compare).map((x) => at(F.format(x)));
        const line = timeline(
          map,
          layBars(['4/4']),
          sorted.map((x) => clickAt(map, x, false)),
        );
        const file = readWithMido(writeMidi(line, none).bytes);
        expect(file.ticks_per_beat).toBe(10080);
        expect(file.tracks[1]?.notes.map(({ tick }) => String(tick))).toEqual(
          line.clicks.map((click) => tickOf(click.at, file)),
        );
      }),
      { numRuns: 10, seed: 7 },
    );
  });
});
