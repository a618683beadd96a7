import fc from 'fast-check';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { loudness } from '../../src/sound/loudness.ts';
import { renderParts, type PartsOptions, type PartsTimeline } from '../../src/sound/parts/mix.ts';
import type { PartSound } from '../../src/sound/voices/voiceOf.ts';
import { attack } from '../../src/sound/voices/edges.ts';
import { partsWav } from '../../src/sound/wav/parts.ts';
import type { Result } from '../../src/units/index.ts';
import { instruments, music, partOf, readOnsets, readPitches, sample, type TestNote } from './music.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

/** All samples of a rendering, one array for each channel. */
const rendered = (
  timeline: PartsTimeline,
  parts: readonly PartSound[],
  options: PartsOptions = {},
  ceiling = 0.7,
): readonly Float64Array[] => {
  const { channels, frames, blocks } = value(renderParts(timeline, parts, ceiling, options));
  const sound = Array.from({ length: channels }, () => new Float64Array(frames));
  let n = 0;
  for (const block of blocks) {
    block.forEach((x, i) => {
      const channel = sound[i % channels];
      if (channel !== undefined) channel[n + Math.floor(i / channels)] = x;
    });
    n += block.length / channels;
  }
  return sound;
};
const largest = (samples: Float64Array): number =>
  samples.reduce((high, x) => Math.max(high, Math.abs(x)), 0);
const only = (samples: readonly Float64Array[]): Float64Array => samples[0] ?? new Float64Array(0);

const everyone = instruments.map(({ sound }, i) => partOf(sound, `P${i + 1}`));

describe('the onsets of the parts, found by a program that shares nothing with ours', () => {
  // Each instrument plays its three keys in triplets of a seventh of a second, which fall between samples.
  const row = [0, 1, 2, 3, 4, 5, 6, 7];
  const notes = instruments.flatMap(({ keys, voice }, i) =>
    row.map((k): TestNote => ({
      part: `P${i + 1}`,
      at: `${3 * k + 1}/21`,
      length: '1/7',
      midi: voice === 'percussion' ? null : (keys[k % 3] ?? 60),
    })),
  );
  it.each([44_100, 48_000])('stand on the very sample, for every voice, at %d Hz', async (rate) => {
    const report = await readOnsets(
      value(partsWav(music(notes, '3/2', rate), everyone, { seating: 'apart' })),
    );
    const expected = row.map((k) => sample(`${3 * k + 1}/21`, rate));
    for (const [i, { voice }] of instruments.entries()) {
      expect({ voice, onsets: report.channels[i]?.onsets }).toEqual({ voice, onsets: expected });
      // The last note ends with its value: silent at 16 bits in its last 4 ms at most, and for good after it.
      const end = report.channels[i]?.ends.at(-1) ?? 0;
      if (voice !== 'percussion') expect(sample('25/21', rate) - end).toBeLessThan(rate / 250);
      expect(end).toBeLessThanOrEqual(sample('25/21', rate));
    }
  });

  it('would be found out if a note were one sample late', async () => {
    const late = music([{ part: 'P1', at: '48001/48000', length: '1/2', midi: 69 }], '2');
    const report = await readOnsets(value(partsWav(late, [partOf('wind.reed.oboe')])));
    expect(report.channels[0]?.onsets).toEqual([48_001]);
    expect(report.channels[0]?.onsets).not.toEqual([48_000]);
  });

  it('are the same in the mix, which is the sum of the parts', () => {
    const timeline = music(notes, '3/2');
    const apart = rendered(timeline, everyone, { seating: 'apart' });
    const mix = only(rendered(timeline, everyone));
    const sum = mix.map((_, n) => apart.reduce((total, channel) => total + (channel[n] ?? 0), 0));
    expect(largest(sum.map((x, n) => x - (mix[n] ?? 0)))).toBeLessThan(1e-12);
  });
});

describe('pitch, measured by a program that shares nothing with ours', () => {
  // Equal temperament: reference x 2^((key - 69) / 12). 415.3 is a semitone below 440; 392, 415 and 466 as in design section 8.
  const players = ['flute', 'clarinet', 'violin', 'cello', 'voice', 'bassoon'];
  it.each([392, 415, 440, 466])(
    'is within a cent with A = %d Hz, vibrato or not',
    async (reference) => {
      // Those with and without vibrato at every reference, all of them at the usual one.
      for (const name of reference === 440 ? players : players.slice(1, 3)) {
        const found = instruments.find(({ voice }) => voice === name);
        if (found === undefined) throw new Error(name);
        const keys = [found.keys[0], found.keys[1] + 0.5];
        const notes = keys.map((midi, i): TestNote => ({ part: 'P1', at: `${i}`, length: '1', midi }));
        const wav = value(partsWav(music(notes, '2'), [partOf(found.sound)], { reference }));
        const stretches = keys.map((_, i): [number, number] => [i * 48_000 + 4_000, i * 48_000 + 24_000]);
        const heard = await readPitches(wav, stretches);
        for (const [i, key] of keys.entries()) {
          const cents = 1200 * Math.log2((heard[i] ?? 0) / (reference * 2 ** ((key - 69) / 12)));
          expect({ name, key, cents: Math.abs(cents) < 1 ? 'within 1' : cents }).toEqual({
            name,
            key,
            cents: 'within 1',
          });
        }
      }
    },
    60_000,
  );

  it.each([391.9, 466.1, 0, Number.NaN])('is refused with A = %d Hz', (reference) => {
    const wav = partsWav(music([], '1'), everyone, { reference });
    expect(wav).toMatchObject({ ok: false, error: { code: 'reference-pitch' } });
  });
});

describe('levels', () => {
  const lasting = instruments.filter((instrument) => instrument.lasting);
  // BS.1770 loudness, by the measure that is held against the EBU's signals. A single line: -20 dB weighted mean power, -20.7 LUFS.
  it.each(lasting)('are alike in all registers: $voice', ({ sound, keys }) => {
    for (const midi of keys) {
      const line = only(rendered(music([{ part: 'P1', at: '0', length: '3', midi }], '3'), [partOf(sound)]));
      expect(Math.abs(loudness([line], 48_000).integrated + 21)).toBeLessThan(0.5);
    }
  });
  it.each(instruments.filter(({ lasting: lasts, voice }) => !lasts && voice !== 'percussion'))(
    'of struck and plucked tones begin no softer than 7 dB below: $voice',
    ({ sound, keys }) => {
      for (const midi of keys) {
        const line = only(
          rendered(music([{ part: 'P1', at: '0', length: '1', midi }], '1'), [partOf(sound)]),
        );
        expect(Math.abs(loudness([line], 48_000).momentary + 24.5)).toBeLessThan(4);
      }
    },
  );

  it('never pass the ceiling, however many notes sound at once', () => {
    const chord = fc.array(
      fc.record({
        part: fc.integer({ min: 1, max: 4 }),
        start: fc.integer({ min: 0, max: 20 }),
        midi: fc.integer({ min: 24, max: 100 }),
      }),
      { minLength: 1, maxLength: 25 },
    );
    fc.assert(
      fc.property(
        chord,
        fc.constantFrom(0.05, 0.34, 0.7),
        fc.constantFrom('mono', 'seated'),
        (items, ceiling, seating) => {
          const notes = items.map(({ part, start, midi }): TestNote => ({
            part: `P${part}`,
            at: `${start}/60`,
            length: '1/5',
            midi,
          }));
          const parts = ['strings.violin', 'wind.reed.oboe', 'brass.trumpet', 'keyboard.piano'].map(
            (sound, i) => partOf(sound, `P${i + 1}`),
          );
          const shapes = new Map(
            notes.map((_, i) => [`n${i}`, { share: 1, slurred: i % 2 === 0, level: 6 }]),
          );
          for (const channel of rendered(music(notes, '3/5'), parts, { shapes, seating }, ceiling))
            expect(largest(channel)).toBeLessThanOrEqual(ceiling);
        },
      ),
      { numRuns: 25 },
    );
  });

  it('do not change when a part is left out, and then the others alone sound', () => {
    const notes: readonly TestNote[] = [
      { part: 'P1', at: '0', length: '1', midi: 76 },
      { part: 'P2', at: '1/2', length: '1', midi: 60 },
    ];
    const parts = [partOf('wind.flutes.flute', 'P1'), partOf('wind.reed.clarinet', 'P2')];
    const timeline = music(notes, '2');
    const both = only(rendered(timeline, parts));
    const first = only(rendered(timeline, parts, { only: ['P1'] }));
    const second = only(rendered(timeline, parts, { without: ['P1'] }));
    expect(largest(both.map((x, n) => x - (first[n] ?? 0) - (second[n] ?? 0)))).toBeLessThan(1e-15);
    expect(second.slice(0, 24_000).every((x) => x === 0)).toBe(true);
    expect(first.slice(48_000).every((x) => x === 0)).toBe(true);
    expect(partsWav(timeline, parts, { only: ['P9'] })).toMatchObject({ error: { code: 'part-unknown' } });
  });

  it('do not sound what the line filter drops', () => {
    const silent = music([{ part: 'P1', at: '0', length: '1', midi: 76, kept: false }], '1');
    expect(largest(only(rendered(silent, [partOf('wind.flutes.flute')])))).toBe(0);
  });
});

describe('tones', () => {
  /** Strength of partials 1 to 12 in dB below the strongest, by the textbook Fourier sum over 100 periods. */
  const profile = (
    sound: string,
    key: number,
    id = 'P1',
    others: readonly PartSound[] = [],
  ): readonly number[] => {
    const parts = [...others, partOf(sound, id)];
    const line = only(rendered(music([{ part: id, at: '0', length: '1', midi: key }], '1'), parts));
    const frequency = 440 * 2 ** ((key - 69) / 12);
    const [from, count] = [3_000, Math.round((20 * 48_000) / frequency)];
    const levels = Array.from({ length: 12 }, (_, k) => {
      let [re, im] = [0, 0];
      for (let n = 0; n < count; n += 1) {
        const angle = (2 * Math.PI * (k + 1) * frequency * n) / 48_000;
        re += (line[from + n] ?? 0) * Math.cos(angle);
        im += (line[from + n] ?? 0) * Math.sin(angle);
      }
      return Math.max(-60, 10 * Math.log10(re * re + im * im));
    });
    const most = Math.max(...levels);
    return levels.map((level) => Math.max(-40, level - most));
  };
  const distance = (a: readonly number[], b: readonly number[]): number =>
    Math.sqrt(a.reduce((sum, level, i) => sum + (level - (b[i] ?? 0)) ** 2, 0) / a.length);

  // D4, which all of these play. Our own requirement: their spectra differ by 4 dB or more, root mean square.
  it('of those who play together have spectra far apart', () => {
    const names = ['flute', 'oboe', 'clarinet', 'bassoon', 'horn', 'violin', 'voice'];
    const profiles = names.map((name) =>
      profile(instruments.find(({ voice }) => voice === name)?.sound ?? '', 62),
    );
    const near = names.flatMap((a, i) =>
      names.slice(i + 1).flatMap((b, j) => {
        const away = distance(profiles[i] ?? [], profiles[i + 1 + j] ?? []);
        return away < 4 ? [`${a} and ${b}: ${away.toFixed(1)} dB`] : [];
      }),
    );
    expect(near).toEqual([]);
  });

  it('of two players of the same instrument differ a little', () => {
    const first = profile('strings.violin', 69);
    const second = profile('strings.violin', 69, 'P2', [partOf('strings.violin', 'P1')]);
    expect(distance(first, second)).toBeGreaterThan(0.7);
    expect(distance(first, second)).toBeLessThan(4);
  });

  it('rise alike: half of the strength after 4.5 ms, whatever the voice', () => {
    for (const swell of [0, 0.03, 0.08]) {
      const curve = attack(48_000, false, swell);
      expect(curve[0]).toBeCloseTo(0.05, 12);
      expect(curve.findIndex((strength) => strength >= 0.5) / 48).toBeCloseTo(4.5, 1);
    }
  });

  it('under a slur leave no gap, and tongued ones do', () => {
    const notes = [60, 62].map((midi, i): TestNote => ({ part: 'P1', at: `${i}/2`, length: '1/2', midi }));
    const parts = [partOf('wind.reed.clarinet')];
    const around = (slurred: boolean): Float64Array => {
      const shapes = new Map([['n0', { share: 1, slurred, level: 0 }]]);
      return only(rendered(music(notes, '1'), parts, { shapes })).slice(23_000, 24_400);
    };
    // The softest 5 ms around the change, root mean square, against a held note's.
    const softest = (samples: Float64Array): number =>
      Math.min(
        ...Array.from({ length: samples.length - 240 }, (_, i) =>
          Math.sqrt(samples.slice(i, i + 240).reduce((sum, x) => sum + x * x, 0) / 240),
        ),
      );
    expect(softest(around(true))).toBeGreaterThan(0.03);
    expect(softest(around(false))).toBe(0);
  });

  it('marked staccato are short, accented ones stronger', () => {
    const timeline = music([{ part: 'P1', at: '0', length: '1', midi: 72 }], '1');
    const shaped = (share: number, level: number) =>
      only(
        rendered(timeline, [partOf('wind.flutes.flute')], {
          shapes: new Map([['n0', { share, slurred: false, level }]]),
        }),
      );
    const short = shaped(0.4, 0);
    expect(short.slice(19_200).every((x) => x === 0)).toBe(true);
    expect(largest(short.slice(18_000, 19_200))).toBeGreaterThan(0.05);
    const ratio = loudness([shaped(1, 3)], 48_000).integrated - loudness([shaped(1, 0)], 48_000).integrated;
    expect(ratio).toBeCloseTo(3, 0);
  });
});

describe('the same music', () => {
  const notes = instruments.map(({ keys }, i): TestNote => ({
    part: `P${i + 1}`,
    at: `${i}/50`,
    length: '1/2',
    midi: keys[1],
  }));
  const bytes = (): string => {
    const hash = createHash('sha256');
    for (const piece of value(partsWav(music(notes, '2'), everyone, { seating: 'seated' })))
      hash.update(piece);
    return hash.digest('hex');
  };
  it('gives the same bytes each time', () => {
    expect(bytes()).toBe(bytes());
  });

  it('is the same however it is cut into blocks: a long wait in front changes nothing', () => {
    const at = (seconds: number) =>
      only(
        rendered(music([{ part: 'P1', at: `${seconds}`, length: '3', midi: 60 }], `${seconds + 3}`), [
          partOf('strings.cello'),
        ]),
      ).slice(seconds * 48_000);
    expect(at(1)).toEqual(at(0));
  });

  it('asks for a voice where the file says nothing', () => {
    const result = renderParts(music([], '1'), [{ id: 'P1', name: 'Part 1', sound: '', program: null }], 0.7);
    expect(result).toMatchObject({ ok: true, problems: [{ code: 'part-voice-unknown', part: 'P1' }] });
  });
});
