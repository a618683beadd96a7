import { expect, test } from 'vitest';
import { liveClicks } from '../../src/sound/live.ts';
import { renderClicks } from '../../src/sound/render.ts';
import { F, seconds, type Samples } from '../../src/units/index.ts';

/** Clicks at even and odd distances, some so near that they are cut, two on one sample, one at the very end. */
const clicks = [0, 700, 800, 801, 2_000, 2_000, 9_000, 47_990].map((sample, i) => ({
  sample: sample as Samples,
  first: i % 3 === 0,
}));

test('live clicks played one after the other are the click track, sample by sample', () => {
  // Held against the renderer of files, whose onsets an independent program reads (wav-clicks.test.ts).
  const timeline = { sampleRate: 48_000, duration: seconds(F.one) };
  const live = liveClicks({ ...timeline, clicks });
  const file = renderClicks(clicks, 48_000 as Samples, { sampleRate: 48_000 });
  if (!live.ok || !file.ok) throw new Error('clicks were refused');
  const { waves, starts, wave, length } = live.value;
  expect(length).toBe(48_000);
  expect(starts).toStrictEqual([0, 700, 800, 801, 2_000, 9_000, 47_990]);
  const played = new Float32Array(length);
  starts.forEach((start, i) => {
    const sound = waves[wave[i] ?? -1] ?? new Float32Array();
    expect(start + sound.length).toBeLessThanOrEqual(starts[i + 1] ?? length);
    played.set(sound, start);
  });
  const rendered = Float32Array.from([...file.value].flatMap((block) => [...block]));
  expect(played).toStrictEqual(rendered);
});

test('a drill of many equal clicks needs few waves', () => {
  const many = Array.from({ length: 500 }, (_, i) => ({
    sample: (i * 24_000) as Samples,
    first: i % 4 === 0,
  }));
  const live = liveClicks({ sampleRate: 48_000, duration: seconds(F.fraction(250)), clicks: many });
  expect(live.ok && live.value.waves.length).toBe(2);
});

test('a rate that no click can be made for is refused in words', () => {
  const live = liveClicks({ sampleRate: 4_000, duration: seconds(F.one), clicks: [] });
  expect(live).toMatchObject({ ok: false, error: { code: 'sample-rate' } });
});
