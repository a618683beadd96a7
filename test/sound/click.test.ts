import { describe, expect, it } from 'vitest';
import { clickMaker, type ClickCharacter } from '../../src/sound/click.ts';
import { decibels, type Samples } from '../../src/units/index.ts';

const rates = [8_000, 22_050, 44_100, 48_000, 96_000, 192_000];
const characters: readonly ClickCharacter[] = ['beat', 'first beat'];
const cases = rates.flatMap((rate) => characters.map((character) => ({ rate, character })));

const made = (rate: number, character: ClickCharacter, level?: number, longest?: number): Float64Array => {
  const maker = clickMaker(rate, level === undefined ? undefined : decibels(level));
  if (!maker.ok) throw new Error(maker.error.message);
  return maker.value(character, longest as Samples | undefined);
};

const peak = (samples: Float64Array): number =>
  samples.reduce((high, value) => Math.max(high, Math.abs(value)), 0);

/**
 * Share of the energy between two frequencies: discrete Fourier transform with bins of 25 Hz (the click padded with
 * zeros to 40 ms), by the textbook sum; the whole by Parseval's theorem.
 */
const share = (samples: Float64Array, rate: number, low: number, high: number): number => {
  const length = rate / 25;
  const cosine = Float64Array.from({ length }, (_, n) => Math.cos((2 * Math.PI * n) / length));
  let band = 0;
  for (let bin = Math.ceil(low / 25); bin <= high / 25; bin += 1) {
    let re = 0;
    let im = 0;
    samples.forEach((value, n) => {
      re += value * (cosine[(bin * n) % length] ?? 0);
      im += value * (cosine[(bin * n + length / 4) % length] ?? 0);
    });
    band += (2 * (re * re + im * im)) / length;
  }
  return band / samples.reduce((sum, value) => sum + value * value, 0);
};

describe('the click', () => {
  it.each(cases)(
    'begins on its first sample and ends softly: $character at $rate Hz',
    ({ rate, character }) => {
      const samples = made(rate, character);
      expect(samples.length).toBeLessThanOrEqual(0.04 * rate);
      expect(samples[0]).toBeCloseTo(peak(samples), 12);
      // 36 ms after its start the formula has fallen by e^(-36/7), 45 dB, before the window takes the rest.
      const lastMillisecond = samples.slice(-Math.ceil(rate / 1000));
      expect(peak(lastMillisecond)).toBeLessThan(peak(samples) * 1e-4);
    },
  );

  it.each(cases)(
    'has no DC and its peak is the level asked for: $character at $rate Hz',
    ({ rate, character }) => {
      for (const level of [-6, -1.5, -20, -60]) {
        const samples = made(rate, character, level);
        expect(20 * Math.log10(peak(samples))).toBeCloseTo(level, 9);
        expect(Math.abs(samples.reduce((sum, value) => sum + value, 0))).toBeLessThan(1e-10);
      }
    },
  );

  // The band is stated in src/sound/click.ts. Common practice, no source.
  it.each(cases.filter(({ rate }) => rate % 100 === 0))(
    'keeps its energy from 1 to 3 kHz: $character at $rate Hz',
    ({ rate, character }) => {
      const samples = made(rate, character);
      expect(share(samples, rate, 0, rate / 2)).toBeCloseTo(1, 1);
      expect(share(samples, rate, 1_000, 3_000)).toBeGreaterThan(0.95);
      expect(share(samples, rate, 0, 500)).toBeLessThan(0.01);
    },
  );

  it('agrees with its formula, written with the sine and cosine of the language', () => {
    const rate = 48_000;
    const length = Math.floor(0.036 * rate);
    const envelope = Array.from(
      { length },
      (_, n) => Math.cos((Math.PI * n) / (2 * length)) ** 2 * Math.exp(-n / rate / 0.007),
    );
    const wave = envelope.map(
      (value, n) =>
        value *
        (Math.cos((2 * Math.PI * 1_350 * n) / rate) + 0.35 * Math.cos((2 * Math.PI * 2_170 * n) / rate)),
    );
    const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
    const offset = sum(wave) / sum(envelope);
    expect(offset / (1.35 - offset)).toBeCloseTo(0.002, 4);
    const whole = wave.map((value, n) => value - offset * (envelope[n] ?? 0));
    const largest = Math.max(...whole.map(Math.abs));
    made(rate, 'beat', -6).forEach((value, n) =>
      expect(value).toBeCloseTo(((whole[n] ?? 0) / largest) * 10 ** (-6 / 20), 9),
    );
  });

  it('stays below full scale between its samples too, at the highest level', () => {
    for (const character of characters) {
      const samples = made(48_000, character, -1.5);
      // Band-limited interpolation by the sum of sin(x)/x (Shannon 1949), sixteen points a sample around the onset.
      for (let time = -20; time < 60; time += 1 / 16) {
        const value = samples.reduce((sum, sample, n) => {
          const x = Math.PI * (time - n);
          return sum + (Math.abs(x) < 1e-9 ? sample : (sample * Math.sin(x)) / x);
        }, 0);
        expect(Math.abs(value)).toBeLessThan(1);
      }
    }
  });

  it('tells beat and first beat apart by pitch, at the same peak', () => {
    const [beat, first] = [made(48_000, 'beat'), made(48_000, 'first beat')];
    expect(peak(beat)).toBeCloseTo(peak(first), 12);
    expect(share(beat, 48_000, 1_000, 1_600)).toBeGreaterThan(0.7);
    expect(share(first, 48_000, 1_000, 1_600)).toBeLessThan(0.2);
  });

  it('is cut short where asked, still at its level, free of DC and beginning at once', () => {
    for (const longest of [1, 2, 3, 7, 48, 200, 1_000, 1_727]) {
      const samples = made(48_000, 'beat', -6, longest);
      expect(samples.length).toBe(longest);
      expect(20 * Math.log10(peak(samples))).toBeCloseTo(-6, 9);
      expect(Math.abs(samples[0] ?? 0)).toBeGreaterThan(0.5 * peak(samples));
      if (longest >= 200) expect(Math.abs(samples.reduce((a, b) => a + b, 0))).toBeLessThan(1e-10);
    }
    expect(made(48_000, 'beat', -6, 99_999)).toEqual(made(48_000, 'beat', -6));
  });

  it('gives fresh samples: changing one click changes no other', () => {
    const maker = clickMaker(48_000);
    if (!maker.ok) throw new Error(maker.error.message);
    maker.value('beat').fill(0);
    expect(peak(maker.value('beat'))).toBeGreaterThan(0.4);
  });

  it.each([0, -1, 7_999, 192_001, 48_000.5, Number.NaN, Infinity])('refuses a rate of %d Hz', (rate) => {
    const maker = clickMaker(rate);
    expect(maker).toMatchObject({ ok: false, error: { code: 'sample-rate' } });
  });

  it.each([0, -1.4, -60.5, Number.NaN, -Infinity])('refuses a level of %d dB', (level) => {
    expect(clickMaker(48_000, decibels(level))).toMatchObject({ ok: false, error: { code: 'click-level' } });
  });
});
