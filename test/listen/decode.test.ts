/** Recordings of every kind that is read, made by other programs (fixtures/make.sh), and files that are none. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSound } from '../../src/desk/hearSound.ts';
import { soundKind } from '../../src/desk/soundKind.ts';
import { nodeSounds } from '../../src/host/node/index.ts';
import { listeningRate } from '../../src/listen/model.ts';
import type { Mono } from '../../src/listen/mono.ts';
import { burstTimes, soundWav } from './sounds.ts';

const fixture = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(path.resolve(import.meta.dirname, 'fixtures', name)));

const read = async (bytes: Uint8Array): Promise<Mono> => {
  const result = await readSound(bytes, 'a take', nodeSounds);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};
const refused = async (bytes: Uint8Array): Promise<string> => {
  const result = await readSound(bytes, 'a take', nodeSounds);
  return result.ok ? 'read' : result.error.code;
};
const saidOf = async (bytes: Uint8Array): Promise<readonly string[]> => {
  const result = await readSound(bytes, 'a take', nodeSounds);
  return result.ok ? result.problems.map(({ code }) => code) : [result.error.code];
};

describe('compressed recordings', () => {
  // Lossless to a sample; the others are transforms over some milliseconds, and their delay is taken out.
  it.each([
    ['bursts.flac', 'flac', 0.001],
    ['bursts.mp3', 'mp3', 0.002],
    ['bursts.ogg', 'vorbis', 0.002],
    ['bursts.opus', 'opus', 0.002],
  ])('%s is known by its content and its sounds stand at their times', async (name, kind, within) => {
    const bytes = fixture(name);
    expect(soundKind(bytes)).toBe(kind);
    const { signal } = await read(bytes);
    const found = burstTimes.heard(signal);
    expect(found).toHaveLength(7);
    found.forEach((time, n) => {
      expect(Math.abs(time - (burstTimes.made[n] ?? 0))).toBeLessThan(within);
    });
    expect(Math.abs(signal.length / listeningRate - 2.6)).toBeLessThan(0.05);
  });

  it.each(['bursts.flac', 'bursts.mp3', 'bursts.ogg', 'bursts.opus'])(
    '%s cut off in the middle gives what is left, or is refused in words',
    async (name) => {
      const bytes = fixture(name);
      const half = await readSound(bytes.slice(0, Math.floor(bytes.length * 0.9)), 'a take', nodeSounds);
      if (half.ok) expect(half.value.signal.length).toBeLessThan(2.65 * listeningRate);
      else expect(half.error.code).toMatch(/^(sound-damaged|take-short)$/);
      expect(await refused(bytes.slice(0, 40))).toMatch(/^(sound-damaged|take-empty|take-short)$/);
    },
  );
});

describe('files by their content', () => {
  const text = (words: string): Uint8Array => new TextEncoder().encode(words);

  it('AIFF, CAF and WebM are known, not read, and what to do is said', async () => {
    for (const bytes of [
      text('FORM\0\0\0\0AIFFCOMM'),
      text('caff\0\x01\0\0desc'),
      Uint8Array.of(0x1a, 0x45, 0xdf, 0xa3, 1, 2, 3),
    ]) {
      const result = await readSound(bytes, 'a take', nodeSounds);
      expect(result.ok).toBe(false);
      if (!result.ok) expect(result.error).toMatchObject({ code: 'sound-kind' });
      if (!result.ok) expect(result.error.message).toMatch(/WAV or FLAC/);
    }
  });

  it('what is no recording is refused', async () => {
    expect(await refused(text('<score-partwise/>'))).toBe('sound-unknown');
    expect(await refused(new Uint8Array(0))).toBe('file-empty');
    expect(await refused(text('RIFF\x04\0\0\0WAVE'))).toBe('wav-damaged');
    // A rate that would make hours of a few bytes, and one that no converter has.
    expect(await refused(soundWav([sine(3, 48_000)], 1, 16))).toBe('take-rate');
    expect(await refused(soundWav([sine(3, 48_000)], 4_000_000_000, 16))).toBe('take-rate');
  });
});

const sine = (seconds: number, rate: number, size = 0.5): Float32Array =>
  Float32Array.from(
    { length: Math.round(seconds * rate) },
    (_, n) => size * Math.sin((2 * Math.PI * 440 * n) / rate),
  );

describe('WAV files', () => {
  it.each([
    [8, 8_000],
    [16, 44_100],
    [24, 96_000],
    [32, 48_000],
  ])('of %d bits at %d Hz keep pitch and level', async (depth, rate) => {
    const { signal, channels } = await read(soundWav([sine(3, rate)], rate, depth));
    expect(channels).toBe(1);
    const inner = signal.subarray(4096, signal.length - 4096);
    const power = inner.reduce((sum, x) => sum + x * x, 0) / inner.length;
    expect(Math.abs(10 * Math.log10(power / 0.125))).toBeLessThan(0.1);
  });

  it('of 5.1 channels are mixed down and that is said', async () => {
    const channels = Array.from({ length: 6 }, (_, c) => sine(3, 48_000, c < 2 ? 0.6 : 0));
    const mono = await read(soundWav(channels, 48_000, 16));
    expect(mono.channels).toBe(6);
    expect(Math.max(...mono.signal.subarray(1000, 20_000))).toBeCloseTo(0.2, 2);
    expect(await saidOf(soundWav(channels, 48_000, 16))).toContain('take-mixed');
  });

  it('long ones are read in pieces with the same result as short ones', async () => {
    const long = sine(14, 48_000);
    const { signal } = await read(soundWav([long], 48_000, 16));
    const around = signal.subarray(Math.round((2 ** 18 / 48_000) * listeningRate) - 500).subarray(0, 1000);
    const steps = around.map((x, n) => Math.abs(x - (around[n - 1] ?? x)));
    // 440 Hz at 0.5: a step of at most 0.063 from sample to sample; a seam between pieces would show.
    expect(Math.max(...steps)).toBeLessThan(0.064);
  });

  it('samples that are no numbers become silence and are told', async () => {
    const broken = sine(3, 48_000);
    broken[1000] = NaN;
    broken[2000] = Infinity;
    const bytes = soundWav([broken], 48_000, 32);
    expect(await saidOf(bytes)).toContain('wav-no-number');
    expect((await read(bytes)).signal.every(Number.isFinite)).toBe(true);
  });

  it('that are silent, too short or distorted throughout are refused, cut ones are read', async () => {
    expect(await refused(soundWav([new Float32Array(48_000 * 3)], 48_000, 16))).toBe('take-silent');
    expect(await refused(soundWav([sine(1, 48_000)], 48_000, 16))).toBe('take-short');
    const square = sine(3, 48_000, 5).map((x) => Math.max(-1, Math.min(1, x)));
    expect(await refused(soundWav([square], 48_000, 16))).toBe('take-clipped');
    expect(
      await saidOf(soundWav([sine(3, 48_000, 1.003).map((x) => Math.max(-1, Math.min(1, x)))], 48_000, 16)),
    ).toContain('take-clipped');
    const whole = soundWav([sine(6, 48_000)], 48_000, 16);
    expect(await saidOf(whole.slice(0, Math.floor(whole.length / 2)))).toContain('file-truncated');
  });
});
