import { describe, expect, it } from 'vitest';
import { clickMaker, clickPartials, type ClickRegister } from '../../src/sound/click.ts';
import { renderClickTrack } from '../../src/sound/clickTrack.ts';
import { chooseRegister, isLight } from '../../src/sound/registers.ts';
import { decibels, type Samples } from '../../src/units/index.ts';
import { music, type TestNote } from './music.ts';

/** Every semitone from one key to another, a quarter of a second each. */
const scale = (from: number, to: number): readonly TestNote[] =>
  Array.from({ length: to - from + 1 }, (_, i) => ({
    part: 'P1',
    at: `${i}/4`,
    length: '1/4',
    midi: from + i,
  }));

const semitonesFrom = (register: ClickRegister, keys: readonly number[]): number =>
  Math.min(
    ...(['beat', 'first beat'] as const).flatMap((character) =>
      keys.map((key) =>
        Math.abs(12 * Math.log2((clickPartials[register][character][0]?.frequency ?? 0) / 440) + 69 - key),
      ),
    ),
  );

describe('the register of the click', () => {
  // Three semitones: the distance stated in registers.ts.
  it.each([
    { who: 'bassoon and cello', from: 36, to: 64 },
    { who: 'oboe and viola', from: 48, to: 81 },
    { who: 'flute at the top', from: 84, to: 96 },
    { who: 'two violins high up', from: 76, to: 93 },
    { who: 'a piccolo', from: 86, to: 105 },
  ])('keeps three semitones clear of every note: $who', ({ from, to }) => {
    const notes = scale(from, to);
    const register = chooseRegister(music(notes, '99').notes, 48_000);
    const keys = notes.map(({ midi }) => midi ?? 0);
    const free = (['low', 'middle', 'high'] as const).some((other) => semitonesFrom(other, keys) >= 3);
    if (free) expect(semitonesFrom(register, keys)).toBeGreaterThanOrEqual(3);
    // Where none is clear, the one chosen is no worse than the usual one.
    else expect(semitonesFrom(register, keys)).toBeGreaterThanOrEqual(semitonesFrom('middle', keys));
  });

  it('is the middle one where nothing sounds, and is never one that the rate cannot hold', () => {
    expect(chooseRegister([], 48_000)).toBe('middle');
    const notes = music(scale(84, 92), '99').notes;
    expect(chooseRegister(notes, 48_000)).toBe('high');
    expect(chooseRegister(notes, 8_000)).not.toBe('high');
  });

  it('goes by what sounds at the reference pitch and is kept', () => {
    const dropped = music(
      scale(84, 92).map((note) => ({ ...note, kept: false })),
      '99',
    ).notes;
    expect(chooseRegister(dropped, 48_000)).toBe('middle');
  });

  it.each(['low', 'middle', 'high'] as const)(
    'has its peak, two pitches and nothing beyond its band: %s',
    (register) => {
      const maker = clickMaker(48_000, decibels(-6), register);
      if (!maker.ok) throw new Error(maker.error.message);
      for (const character of ['beat', 'first beat'] as const) {
        const samples = maker.value(character);
        expect(20 * Math.log10(samples.reduce((high, x) => Math.max(high, Math.abs(x)), 0))).toBeCloseTo(
          -6,
          9,
        );
        // Strongest of a Fourier transform in steps of 5 Hz: the first partial, within the width that 7 ms of decay leave.
        const strength = (frequency: number): number => {
          let [re, im] = [0, 0];
          samples.forEach((x, n) => {
            re += x * Math.cos((2 * Math.PI * frequency * n) / 48_000);
            im += x * Math.sin((2 * Math.PI * frequency * n) / 48_000);
          });
          return re * re + im * im;
        };
        const places = Array.from({ length: 1_000 }, (_, i) => 5 * (i + 1));
        const [strongest] = places.map((f) => [f, strength(f)] as const).sort((a, b) => b[1] - a[1]);
        expect(
          Math.abs((strongest?.[0] ?? 0) - (clickPartials[register][character][0]?.frequency ?? 0)),
        ).toBeLessThan(30);
      }
    },
  );
});

describe('accents', () => {
  it('are off where the placement is light, but counts keep theirs', () => {
    expect(['weak', 'after', 'bar', '2bars'].every(isLight)).toBe(true);
    expect(['every', 'half', '1/8', '1 2&', 'none', 'hemiola:1-2'].some(isLight)).toBe(false);
    const place = {
      at: { n: 0n, d: 1n },
      time: { n: 0n, d: 1n },
      bar: '1',
      barIndex: 0,
      beat: '1',
      pass: 1,
      rep: 1,
      first: true,
    };
    const clicks = [
      { ...place, kind: 'count-in', word: 'one', sample: 0 },
      { ...place, kind: 'click', word: null, sample: 24_000 },
    ];
    const timeline = { ...music([], '1'), clicks } as unknown as Parameters<typeof renderClickTrack>[0];
    const sound = (light: boolean): readonly Float64Array[] => {
      const track = renderClickTrack(timeline, { light });
      if (!track.ok) throw new Error(track.error.message);
      const all = Float64Array.from([...track.value.blocks].flatMap((block) => [...block]));
      return [all.slice(0, 2_000), all.slice(24_000, 26_000)];
    };
    const maker = clickMaker(48_000);
    if (!maker.ok) throw new Error(maker.error.message);
    const beat = maker.value('beat', 2_000 as Samples);
    const first = maker.value('first beat', 2_000 as Samples);
    const start = (samples: Float64Array | undefined): readonly number[] =>
      [...(samples ?? [])].slice(0, 1_700);
    expect(sound(false).map(start)).toEqual([first, first].map(start));
    expect(sound(true).map(start)).toEqual([first, beat].map(start));
  });
});
