import { describe, expect, it } from 'vitest';
import { clickWav } from '../../src/sound/wav/clicks.ts';
import { fullWav, type FullWavOptions } from '../../src/sound/wav/full.ts';
import { partsWav } from '../../src/sound/wav/parts.ts';
import { readWav } from '../../src/sound/wav/read.ts';
import { decibels, type Result } from '../../src/units/index.ts';
import { music, partOf } from './music.ts';
import { steady } from './timelines.ts';

const parts = ['strings.violin', 'strings.violin', 'strings.viola', 'strings.cello'].map((sound, i) =>
  partOf(sound, `P${i + 1}`),
);
const notes = parts.flatMap(({ id }, i) =>
  [0, 1, 2, 3].map((k) => ({ part: id, at: `${k}`, length: '1', midi: 76 - 9 * i + k })),
);
const { clicks } = steady({ perMinute: '90', steps: [1, 1, 1] }, '1/15', 48_000);
const timeline = { ...music(notes, '4'), clicks };

const channels = (wav: Result<Iterable<Uint8Array>>): readonly Float32Array[] => {
  if (!wav.ok) throw new Error(wav.error.message);
  const read = readWav(new Uint8Array(Buffer.concat([...wav.value])));
  if (!read.ok) throw new Error(read.error.message);
  return read.value.channels;
};
const full = (options: FullWavOptions): readonly Float32Array[] =>
  channels(fullWav(timeline, parts, { depth: 32, ...options }));
const peak = (samples: Float32Array | undefined): number =>
  (samples ?? new Float32Array(0)).reduce((high, x) => Math.max(high, Math.abs(x)), 0);

describe('click and parts together', () => {
  it('stand in one channel, the click as in its own file, and never pass -1.5 dBFS', () => {
    const mono = full({});
    expect(mono.length).toBe(1);
    for (const level of [-30, -6, -1.5])
      expect(peak(full({ level: decibels(level) })[0])).toBeLessThanOrEqual(10 ** (-1.5 / 20));
    const [click] = channels(clickWav(timeline, { depth: 32 }));
    const [sound] = channels(fullWav({ ...timeline, clicks: [] }, parts, { depth: 32, register: 'middle' }));
    const register = channels(fullWav(timeline, parts, { depth: 32, without: parts.map(({ id }) => id) }));
    expect(register[0]).toEqual(click);
    const difference = (mono[0] ?? new Float32Array(0)).map(
      (x, n) => x - (click?.[n] ?? 0) - (sound?.[n] ?? 0),
    );
    expect(peak(difference)).toBeLessThan(1e-6);
  });

  it('stand apart: the click alone on the left, the parts alone on the right', () => {
    const [left, right, ...more] = full({ place: 'left' });
    expect(more).toEqual([]);
    expect(left).toEqual(channels(clickWav(timeline, { depth: 32 }))[0]);
    expect(right).toEqual(channels(partsWav(timeline, parts, { depth: 32 }))[0]);
  });

  it('can have a channel each', () => {
    const all = full({ seating: 'apart' });
    expect(all.length).toBe(5);
    expect(all[0]).toEqual(channels(clickWav(timeline, { depth: 32 }))[0]);
    expect(all.slice(1)).toEqual(channels(partsWav(timeline, parts, { depth: 32, seating: 'apart' })));
  });

  it('are seated from left to right with the click in the middle', () => {
    const [left, right] = channels(partsWav(timeline, parts, { depth: 32, seating: 'seated', only: ['P1'] }));
    expect(peak(left) / peak(right)).toBeCloseTo(2, 5); // sqrt(1.6 / 0.4)
    const [clickLeft, clickRight] = full({ seating: 'seated', without: parts.map(({ id }) => id) });
    expect(clickLeft).toEqual(clickRight);
  });

  it('refuse what each of them refuses', () => {
    expect(fullWav(timeline, parts, { reference: 300 })).toMatchObject({
      error: { code: 'reference-pitch' },
    });
    expect(fullWav(timeline, parts, { level: decibels(3) })).toMatchObject({
      error: { code: 'click-level' },
    });
    expect(fullWav(timeline, parts, { depth: 8 })).toMatchObject({ error: { code: 'wav-depth' } });
    expect(fullWav({ ...timeline, sampleRate: 4_000 }, parts)).toMatchObject({
      error: { code: 'sample-rate' },
    });
  });
});
