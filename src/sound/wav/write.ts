import { fail, ok, type Result } from '../../units/index.ts';
import { largestSize, subFormatTail, tag } from './format.ts';

export interface WavOptions {
  /** Hz, a whole number above zero. */
  readonly sampleRate: number;
  /** Channels, 1 to 64; the samples of a frame stand side by side in the blocks. */
  readonly channels: number;
  /** 16 or 24: whole numbers of so many bits. 32: floating point. */
  readonly depth: number;
  /** Frames in all (samples of one channel), known in front because the header states them. */
  readonly frames: number;
}

/** Samples, full scale 1; channels interleaved. */
export type WavBlock = Float32Array | Float64Array;

/** Microsoft's speaker bits: front centre for one channel, left and right for two, no place stated for more. */
const speakers = (channels: number): number => (channels === 1 ? 0x4 : channels === 2 ? 0x3 : 0);

const header = ({ sampleRate, channels, depth, frames }: WavOptions): Uint8Array => {
  const bytes = depth / 8;
  const format = depth === 32 ? tag.float : tag.pcm;
  // Microsoft asks for the extensible format above 16 bits of PCM and above two channels.
  const extensible = depth === 24 || channels > 2;
  const formatSize = extensible ? 40 : format === tag.pcm ? 16 : 18;
  const factSize = format === tag.pcm ? 0 : 12;
  const dataSize = frames * channels * bytes;
  const size = 12 + 8 + formatSize + factSize + 8;
  const result = new Uint8Array(size);
  const view = new DataView(result.buffer);
  const name = (at: number, text: string) => {
    for (let i = 0; i < 4; i += 1) result[at + i] = text.charCodeAt(i);
  };
  name(0, 'RIFF');
  view.setUint32(4, size - 8 + dataSize + (dataSize % 2), true);
  name(8, 'WAVE');
  name(12, 'fmt ');
  view.setUint32(16, formatSize, true);
  view.setUint16(20, extensible ? tag.extensible : format, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, sampleRate, true);
  view.setUint32(28, sampleRate * channels * bytes, true);
  view.setUint16(32, channels * bytes, true);
  view.setUint16(34, depth, true);
  if (extensible) {
    view.setUint16(36, 22, true);
    view.setUint16(38, depth, true);
    view.setUint32(40, speakers(channels), true);
    view.setUint16(44, format, true);
    result.set(subFormatTail, 46);
  }
  const after = 20 + formatSize;
  if (factSize > 0) {
    name(after, 'fact');
    view.setUint32(after + 4, 4, true);
    view.setUint32(after + 8, frames, true);
  }
  name(size - 8, 'data');
  view.setUint32(size - 4, dataSize, true);
  return result;
};

/**
 * The whole number that stands for a sample: floor(x · 2^(depth-1) + 1/2), kept within what the depth can hold. Zero is
 * exactly 0. There is no dither: it would put noise where a click track must be silent, and a click that decays in a
 * few milliseconds has no slow tail for rounding to disturb.
 */
export const quantised = (value: number, depth: 16 | 24): number => {
  const full = 2 ** (depth - 1);
  return Math.min(full - 1, Math.max(-full, Math.floor(value * full + 0.5)));
};

const encoded = (block: WavBlock, depth: number): Uint8Array => {
  const bytes = new Uint8Array((block.length * depth) / 8);
  const view = new DataView(bytes.buffer);
  if (depth === 16) {
    block.forEach((value, i) => view.setInt16(2 * i, quantised(value, 16), true));
  } else if (depth === 24) {
    block.forEach((value, i) => {
      const whole = quantised(value, 24);
      view.setUint16(3 * i, whole & 0xffff, true);
      view.setInt8(3 * i + 2, whole >> 16);
    });
  } else {
    block.forEach((value, i) => view.setFloat32(4 * i, value, true));
  }
  return bytes;
};

function* chunks(blocks: Iterable<WavBlock>, options: WavOptions): Generator<Uint8Array> {
  const expected = options.frames * options.channels;
  yield header(options);
  let given = 0;
  for (const block of blocks) {
    given += block.length;
    if (given > expected) break;
    yield encoded(block, options.depth);
  }
  if (given !== expected) {
    throw new RangeError(
      `Announced ${expected} samples, but the blocks hold ${given > expected ? 'more' : given}.`,
    );
  }
  if (((expected * options.depth) / 8) % 2 === 1) yield new Uint8Array(1);
}

/**
 * A WAV file in pieces: the header, then each block encoded, so that it can be written while it is made. 16 bits are
 * plain PCM, 24 bits PCM in the extensible format, 32 bits IEEE floating point with a fact chunk; values are rounded as
 * in `quantised`, in floating point to the nearest single and not limited.
 *
 * Errors: "wav-depth", "wav-channels", "wav-rate", "wav-frames", "wav-too-long" (the file would pass 4 GiB, which the
 * sizes in its header cannot state). Iterating throws RangeError, a defect of the caller, where the blocks do not hold
 * the number of samples announced.
 */
export const writeWav = (blocks: Iterable<WavBlock>, options: WavOptions): Result<Iterable<Uint8Array>> => {
  const { sampleRate, channels, depth, frames } = options;
  if (depth !== 16 && depth !== 24 && depth !== 32) {
    return fail(
      'wav-depth',
      `A depth of ${depth} bits is not written. There are 16, 24 and 32 (floating point).`,
    );
  }
  if (!Number.isInteger(channels) || channels < 1 || channels > 64) {
    return fail('wav-channels', `A file with ${channels} channels cannot be written. There can be 1 to 64.`);
  }
  if (!Number.isInteger(sampleRate) || sampleRate < 1 || sampleRate * channels * 4 > largestSize) {
    return fail(
      'sample-rate',
      `A sample rate of ${sampleRate} Hz cannot be written. Take a whole number; 48000 is usual.`,
    );
  }
  if (!Number.isSafeInteger(frames) || frames < 0) {
    return fail('wav-frames', `The file would hold ${frames} frames. That has to be a whole number from 0.`);
  }
  // 80 bytes bound every header written here, with the padding byte.
  if (frames * channels * (depth / 8) + 80 > largestSize) {
    const hours = (frames / sampleRate / 3600).toFixed(1);
    return fail(
      'wav-too-long',
      `${hours} hours of sound with ${channels} channel(s) of ${depth} bits at ${sampleRate} Hz pass 4 GiB, the most that a WAV file can hold. Make it in several files, or with a lower rate or depth.`,
    );
  }
  return ok({ [Symbol.iterator]: () => chunks(blocks, options) });
};
