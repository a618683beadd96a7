/** One run through a drill's clicks, block by block, without a browser. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fadeTime, SoundRun } from '../../src/host/browser/soundRun.ts';
import { liveClicks } from '../../src/sound/live.ts';
import { renderClicks } from '../../src/sound/render.ts';
import { F, seconds, type Samples } from '../../src/units/index.ts';

const rate = 48_000;
const block = 128;
const balance = { click: 1, parts: [], place: 'centre' } as const;

const clicksAt = (samples: readonly number[]) =>
  samples.map((sample, i) => ({ sample: sample as Samples, first: i % 3 === 0 }));

const run = (samples: readonly number[], start: number): SoundRun => {
  const live = liveClicks({ sampleRate: rate, duration: seconds(F.one), clicks: clicksAt(samples) });
  if (!live.ok) throw new Error(live.error.message);
  return new SoundRun({ run: 1, clicks: live.value, head: null, from: 0 }, start, balance);
};

const played = (clicks: SoundRun, from: number, blocks: number, stopAt = Infinity): Float32Array => {
  const all = new Float32Array(blocks * block);
  for (let i = 0; i < blocks; i++) {
    const frame = from + i * block;
    if (frame >= stopAt && frame - block < stopAt) clicks.stop(frame);
    clicks.addTo(all.subarray(i * block, (i + 1) * block), new Float32Array(block), frame, balance);
  }
  return all;
};

const sameBytes = (a: Float32Array, b: Float32Array): boolean =>
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength));

const someSamples = fc.uniqueArray(fc.integer({ min: 0, max: rate - 1 }), { minLength: 1, maxLength: 30 });

test('whatever the clicks and the frame of the start, the blocks hold the click track', () => {
  fc.assert(
    fc.property(someSamples, fc.integer({ min: 0, max: 1_000 }), (samples, late) => {
      const file = renderClicks(clicksAt(samples), rate as Samples, { sampleRate: rate });
      if (!file.ok) throw new Error(file.error.message);
      const track = new Float32Array(rate);
      let at = 0;
      for (const one of file.value) {
        track.set(one, at);
        at += one.length;
      }
      const heard = played(run(samples, 12_800 + late), 12_800, 400);
      expect(heard.subarray(0, late).every((value) => value === 0)).toBe(true);
      expect(sameBytes(heard.subarray(late, late + rate), track)).toBe(true);
    }),
    { numRuns: 40 },
  );
});

test('a stop leaves exact zeros after its fade, and no step that the click itself does not have', () => {
  const fade = Math.round(fadeTime * rate);
  const step = (sound: Float32Array, from: number): number =>
    sound.reduce(
      (most, value, i) => (i <= from ? most : Math.max(most, Math.abs(value - (sound[i - 1] ?? 0)))),
      0,
    );
  // A click on sample 1000 is stopped at each block that it sounds in.
  const whole = played(run([1_000], 0), 0, 40);
  for (let stopAt = 1_024; stopAt < 2_700; stopAt += block) {
    const clicks = run([1_000, 4_000], 0);
    const heard = played(clicks, 0, 60, stopAt);
    expect(clicks.end()).toBe(stopAt + fade);
    expect(heard.subarray(stopAt + fade).every((value) => value === 0)).toBe(true);
    expect(heard.subarray(0, stopAt)).toStrictEqual(whole.subarray(0, stopAt));
    expect(step(heard, 1_000)).toBeLessThanOrEqual(step(whole, 1_000));
  }
});
