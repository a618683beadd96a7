import { describe, expect, it } from 'vitest';
import { clickWav } from '../../src/sound/wav/clicks.ts';
import { decibels, F, seconds, type Samples } from '../../src/units/index.ts';
import { inFile, pulseName, pulses, python, readClicks, steady, type ClickTimeline } from './timelines.ts';

const pieces = (timeline: ClickTimeline, options: Parameters<typeof clickWav>[1] = {}) => {
  const wav = clickWav(timeline, options);
  if (!wav.ok) throw new Error(wav.error.message);
  return wav.value;
};

/** Sample 16-bit files of this level are rounded by at most half a step, 1/65536 of full scale. */
const rounding = 20 * Math.log10(1 + 1 / 65_536 / 10 ** (-6 / 20));

describe('click.wav, read by a program that shares nothing with ours', () => {
  // Click arithmetic of the check values: every click on round(t x rate), t exact. Computed by the outside program.
  it.each(pulses.map((pulse) => ({ name: pulseName(pulse), pulse })))(
    'has every click of two minutes on its exact sample: $name',
    async ({ pulse }) => {
      const timeline = steady(pulse, '2', 48_000);
      const report = await readClicks(pieces(timeline), pulse);
      expect(report.differences).toEqual([]);
      expect(report.equal).toBe(true);
      expect(report.count).toBe(timeline.clicks.length);
      expect(report).toMatchObject({ rate: 48_000, channels: 1, bits: 16, float: false, extensible: false });
      expect(report.frames).toBe(120 * 48_000);
      expect(Math.abs(report.peak_dbfs + 6)).toBeLessThanOrEqual(rounding);
      expect(report.least_first_sample).toBe(1);
      expect(report.longest_click).toBeLessThanOrEqual(0.04 * 48_000);
      expect(report.shapes).toEqual(timeline.clicks.map(({ first }) => (first ? 0 : 1)));
    },
  );

  it('would be found out if one click were one sample late', async () => {
    const pulse = { perMinute: '133.33', steps: [1, 1, 1] };
    const timeline = steady(pulse, '0.2', 48_000);
    const clicks = timeline.clicks.map((click, i) =>
      i === 7 ? { ...click, sample: (click.sample + 1) as Samples } : click,
    );
    const report = await readClicks(pieces({ ...timeline, clicks }), pulse);
    const right = timeline.clicks[7]?.sample ?? 0;
    expect(report).toMatchObject({ equal: false, differences: [[right + 1, right]] });
  });

  it.each([
    { rate: 8_000, depth: 16 },
    { rate: 44_100, depth: 16 },
    { rate: 44_100, depth: 24 },
    { rate: 96_000, depth: 24 },
    { rate: 48_000, depth: 32 },
    { rate: 192_000, depth: 32 },
  ])('keeps its samples at $rate Hz and $depth bits', async ({ rate, depth }) => {
    const pulse = { perMinute: '133.33', steps: [1, 1, 1] };
    const report = await readClicks(pieces(steady(pulse, '0.5', rate), { depth }), pulse);
    expect(report.equal).toBe(true);
    expect(report).toMatchObject({ rate, bits: depth, float: depth === 32, extensible: depth === 24 });
    expect(report.frames).toBe(30 * rate);
    expect(Math.abs(report.peak_dbfs + 6)).toBeLessThanOrEqual(rounding);
  });

  it('leaves silence between clicks that come faster than a click lasts', async () => {
    const pulse = { perMinute: '2400', steps: [1, 1] }; // 25 ms apart
    const report = await readClicks(pieces(steady(pulse, '0.1', 48_000)), pulse);
    expect(report.equal).toBe(true);
    expect(report.shortest_silence).toBeGreaterThanOrEqual(300);
  });

  it('has the level asked for', async () => {
    const pulse = { perMinute: '90', steps: [1] };
    const options = { depth: 24, level: decibels(-20) };
    const report = await readClicks(pieces(steady(pulse, '0.1', 48_000), options), pulse);
    expect(report.peak_dbfs).toBeCloseTo(-20, 4);
  });

  it('is read by the wave module of Python', async () => {
    const program =
      'import sys, wave; w = wave.open(sys.argv[1]); print(*w.getparams()[:4], len(w.readframes(w.getnframes())))';
    const timeline = steady({ perMinute: '90', steps: [1] }, '0.1', 44_100);
    const text = await inFile(pieces(timeline), (file) => python('-c', program, file));
    expect(text.trim()).toBe(`1 2 44100 ${6 * 44_100} ${6 * 44_100 * 2}`);
  });

  it('is the same, byte for byte, each time', () => {
    const timeline = steady({ perMinute: '133.33', steps: [1, 1, 1] }, '0.1', 48_000);
    expect([...pieces(timeline)]).toEqual([...pieces(timeline)]);
  });

  it('lasts as long as the drill, to the nearest sample', () => {
    const duration = seconds(F.fraction(10, 7));
    const bytes = [...pieces({ sampleRate: 48_000, clicks: [], duration })].reduce((n, p) => n + p.length, 0);
    expect(bytes).toBe(44 + 2 * 68_571); // 48000 x 10/7 = 68571.43
  });

  it.each([7_999, 192_001, 44_100.5, 0, -48_000, Number.NaN])('refuses a rate of %d Hz', (sampleRate) => {
    const wav = clickWav({ sampleRate, clicks: [], duration: seconds(F.one) });
    expect(wav).toMatchObject({ ok: false, error: { code: 'sample-rate' } });
  });

  it('refuses depths that are not written, levels above full scale, and more than 4 GiB', () => {
    const timeline = { sampleRate: 192_000, clicks: [], duration: seconds(F.fraction(3 * 3600)) };
    expect(clickWav(timeline, { depth: 8 })).toMatchObject({ ok: false, error: { code: 'wav-depth' } });
    expect(clickWav(timeline, { level: decibels(3) })).toMatchObject({ error: { code: 'click-level' } });
    // 3 h x 192,000 x 3 bytes = 6.2 GB.
    const long = clickWav(timeline, { depth: 24 });
    expect(long).toMatchObject({ ok: false, error: { code: 'wav-too-long' } });
    expect(long.ok ? '' : long.error.message).toContain('3.0 hours');
    // 16 bits: 4,147,200,044 bytes, just within the 4,294,967,295 that a RIFF size can state.
    expect(clickWav(timeline).ok).toBe(true);
  });
});
