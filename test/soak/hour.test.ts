import { describe, expect, it } from 'vitest';
import { clickWav } from '../../src/sound/wav/clicks.ts';
import { pulseName, pulses, readClicks, steady } from '../sound/timelines.ts';

describe('an hour of clicks', () => {
  // Click arithmetic of the check values: no accumulated error. The samples expected are computed by the outside
  // program, from the tempo alone. One file at a time, about 345 MB, removed afterwards.
  it.each(pulses.map((pulse) => ({ name: pulseName(pulse), pulse })))(
    'has every click on its exact sample: $name',
    async ({ pulse }) => {
      const timeline = steady(pulse, '60', 48_000);
      const wav = clickWav(timeline);
      if (!wav.ok) throw new Error(wav.error.message);
      const report = await readClicks(wav.value, pulse);
      expect(report.differences).toEqual([]);
      expect(report.equal).toBe(true);
      expect(report.count).toBe(report.expected_count);
      expect(report.frames).toBe(3_600 * 48_000);
      expect(report.shapes).toEqual(timeline.clicks.map(({ first }) => (first ? 0 : 1)));
      expect(report.longest_click).toBeLessThanOrEqual(0.04 * 48_000);
      console.log(
        `${pulseName(pulse)}: ${report.count} clicks, shortest silence ${report.shortest_silence} samples`,
      );
    },
  );
});
