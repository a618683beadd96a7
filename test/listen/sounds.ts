/** Sounds for the ear: WAV files of samples, and takes made of our own voices with known beginnings. */
import type { ClickSound, ExpectedClick } from '../../src/listen/model.ts';
import { listeningRate } from '../../src/listen/model.ts';

/** A WAV file (RIFF, format tags 1 and 3) of whole numbers, or of floating point at 32 bits. */
export const soundWav = (channels: readonly Float32Array[], rate: number, depth: number): Uint8Array => {
  const width = depth / 8;
  const frames = channels[0]?.length ?? 0;
  const size = frames * width * channels.length;
  const bytes = new Uint8Array(44 + size);
  const view = new DataView(bytes.buffer);
  const text = (at: number, words: string): void => {
    for (let i = 0; i < words.length; i += 1) bytes[at + i] = words.charCodeAt(i);
  };
  text(0, 'RIFF');
  view.setUint32(4, 36 + size, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, depth === 32 ? 3 : 1, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * width * channels.length, true);
  view.setUint16(32, width * channels.length, true);
  view.setUint16(34, depth, true);
  text(36, 'data');
  view.setUint32(40, size, true);
  for (let n = 0; n < frames; n += 1)
    channels.forEach((channel, c) => {
      const at = 44 + (n * channels.length + c) * width;
      const x = channel[n] ?? 0;
      const full = 2 ** (depth - 1) - 1;
      if (depth === 32) view.setFloat32(at, x, true);
      else if (depth === 8) view.setUint8(at, Math.round(x * full) + 128);
      else if (depth === 16) view.setInt16(at, Math.round(x * full), true);
      else {
        const value = Math.round(x * full);
        view.setUint16(at, value & 0xffff, true);
        view.setInt8(at + 2, value >> 16);
      }
    });
  return bytes;
};

/** Adds a click track to a signal at the listening rate: sample positions are whole, so true times are those of samples. */
export const addClicks = (
  into: Float32Array,
  clicks: readonly ExpectedClick[],
  sound: ClickSound,
  { offset, ppm, gain }: { readonly offset: number; readonly ppm: number; readonly gain: number },
): void => {
  for (const { time, first } of clicks) {
    const start = Math.round((offset + time * (1 + ppm / 1e6)) * listeningRate);
    (first ? sound.first : sound.beat).forEach((x, n) => {
      if (start + n >= 0 && start + n < into.length) into[start + n] = (into[start + n] ?? 0) + gain * x;
    });
  }
};

/** The bursts of fixtures/make.sh: when they were made, and where a signal first passes a tenth after 100 ms below it. */
export const burstTimes = {
  made: [0, 1, 2, 3, 4, 5, 6].map((n) => 0.25 + 0.35 * n),
  heard: (signal: Float32Array): readonly number[] => {
    const found: number[] = [];
    let quiet = listeningRate;
    signal.forEach((x, n) => {
      if (Math.abs(x) < 0.1) quiet += 1;
      else {
        if (quiet > 0.1 * listeningRate) found.push(n / listeningRate);
        quiet = 0;
      }
    });
    return found;
  },
};
