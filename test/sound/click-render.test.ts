import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clickMaker } from '../../src/sound/click.ts';
import { blockLength, renderClicks, type ClickOnset } from '../../src/sound/render.ts';
import { decibels, type Samples } from '../../src/units/index.ts';

const at = (sample: number, first = false): ClickOnset => ({ sample: sample as Samples, first });

const sound = (events: readonly ClickOnset[], length: number, level = -6): Float64Array => {
  const blocks = renderClicks(events, length as Samples, { sampleRate: 48_000, level: decibels(level) });
  if (!blocks.ok) throw new Error(blocks.error.message);
  return Float64Array.from([...blocks.value].flatMap((block) => [...block]));
};

const onsets = (samples: Float64Array, zeros: number): readonly number[] => {
  const found: number[] = [];
  let silent = zeros;
  samples.forEach((value, n) => {
    if (value !== 0 && silent >= zeros) found.push(n);
    silent = value === 0 ? silent + 1 : 0;
  });
  return found;
};

describe('clicks in a sound', () => {
  it('puts the click itself at its sample and exact zero elsewhere, across the edges of blocks', () => {
    const maker = clickMaker(48_000);
    if (!maker.ok) throw new Error(maker.error.message);
    const places = [0, 5_000, blockLength - 1, 2 * blockLength - 700, 3 * blockLength];
    const expected = new Float64Array(3 * blockLength + 10_000);
    for (const [i, place] of places.entries()) {
      expected.set(maker.value(i % 2 === 0 ? 'first beat' : 'beat'), place);
    }
    expect(
      sound(
        places.map((place, i) => at(place, i % 2 === 0)),
        expected.length,
      ),
    ).toEqual(expected);
  });

  it('keeps every onset, the peak and silence in between, whatever the spacing', () => {
    // From 4 ms (15,000 a minute, faster than anything played) to 0.4 s, in any order and with repeats.
    const gaps = fc.array(fc.integer({ min: 192, max: 20_000 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(gaps, fc.integer({ min: 192, max: 9_000 }), (steps, rest) => {
        let sample = 0;
        const places = steps.map((step) => (sample += step));
        const shuffled = [...places, ...places.slice(0, 2)].reverse();
        const samples = sound(
          shuffled.map((place) => at(place)),
          sample + rest,
        );
        expect(samples.length).toBe(sample + rest);
        expect(onsets(samples, 48)).toEqual(places);
        const peak = samples.reduce((high, value) => Math.max(high, Math.abs(value)), 0);
        expect(20 * Math.log10(peak)).toBeCloseTo(-6, 9);
      }),
      { numRuns: 60 },
    );
  });

  it('never passes the level, not even with a click on every sample', () => {
    const samples = sound(
      Array.from({ length: 3_000 }, (_, n) => at(n, n % 2 === 0)),
      3_000,
      -1.5,
    );
    expect(samples.every((value) => Math.abs(value) <= 0.8414 && value !== 0)).toBe(true);
  });

  it('makes one of clicks on the same sample, and a first beat where one of them is', () => {
    const once = sound([at(100, true)], 5_000);
    expect(sound([at(100), at(100, true), at(100)], 5_000)).toEqual(once);
    expect(sound([at(100), at(100)], 5_000)).not.toEqual(once);
  });

  it('cuts a click to the end of the sound', () => {
    const samples = sound([at(995)], 1_000);
    expect(onsets(samples, 48)).toEqual([995]);
  });

  it('can be iterated again and is the same; no events and no length are silence', () => {
    const blocks = renderClicks([at(3)], 70_000 as Samples, { sampleRate: 48_000 });
    if (!blocks.ok) throw new Error(blocks.error.message);
    expect([...blocks.value]).toEqual([...blocks.value]);
    expect([...blocks.value].map((block) => block.length)).toEqual([blockLength, 70_000 - blockLength]);
    expect(sound([], 10)).toEqual(new Float64Array(10));
    expect(sound([], 0).length).toBe(0);
  });

  it.each([-1, 1_000, 1.5, Number.NaN])('refuses a click on sample %d of 1000', (place) => {
    const result = renderClicks([at(place)], 1_000 as Samples, { sampleRate: 48_000 });
    expect(result).toMatchObject({ ok: false, error: { code: 'click-outside' } });
  });

  it.each([-1, 1.5, Number.NaN, Infinity])('refuses a length of %d samples', (length) => {
    const result = renderClicks([], length as Samples, { sampleRate: 48_000 });
    expect(result).toMatchObject({ ok: false, error: { code: 'sound-length' } });
  });
});
