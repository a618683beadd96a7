import {
  fail,
  ok,
  problem,
  Refusal,
  refusable,
  countText,
  type Problem,
  type Result,
} from '../../units/index.ts';
import { chunksOf, type Chunk } from './chunks.ts';
import { subFormatTail, tag } from './format.ts';

export interface Wav {
  /** Hz. */
  readonly sampleRate: number;
  /** Bits of a sample as stored: 8, 16, 24 or 32. */
  readonly depth: number;
  readonly float: boolean;
  /** Samples of one channel. */
  readonly frames: number;
  /** One array per channel, full scale 1. Singles hold 24 bits exactly. */
  readonly channels: readonly Float32Array[];
}

interface Layout {
  readonly channels: number;
  readonly sampleRate: number;
  /** Bytes of a sample of one channel. */
  readonly width: number;
  readonly float: boolean;
}

const view = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const otherFormats: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'mu-law',
  17: 'ADPCM',
  49: 'GSM',
  80: 'MPEG',
  85: 'MP3',
};

/** The format tag; in the extensible format the one inside the sub-format, where that is of the usual family. */
const formatTag = (body: Uint8Array): number => {
  const stated = view(body).getUint16(0, true);
  if (stated !== tag.extensible) return stated;
  if (body.length < 40) {
    throw new Refusal(
      'wav-damaged',
      `The file's format section has ${countText(body.length, 'byte', 'bytes')}, but its kind needs 40.`,
    );
  }
  return subFormatTail.every((byte, i) => body[26 + i] === byte) ? view(body).getUint16(24, true) : stated;
};

const layoutOf = (body: Uint8Array, problems: Problem[]): Layout => {
  if (body.length < 16) {
    throw new Refusal(
      'wav-damaged',
      `The file's format section has ${countText(body.length, 'byte', 'bytes')}; it needs 16 or more.`,
    );
  }
  const fields = view(body);
  const kind = formatTag(body);
  const channels = fields.getUint16(2, true);
  const sampleRate = fields.getUint32(4, true);
  const align = fields.getUint16(12, true);
  const bits = fields.getUint16(14, true);
  if (kind !== tag.pcm && kind !== tag.float) {
    const known = otherFormats[kind] ?? `number ${kind}`;
    throw new Refusal(
      'wav-format',
      `The sound is stored in a compressed or unusual form (${known}). Save it as uncompressed WAV (PCM) and try again.`,
    );
  }
  if (channels === 0 || sampleRate === 0) {
    throw new Refusal(
      'wav-damaged',
      `The file states ${channels} channels at ${sampleRate} Hz; neither can be 0.`,
    );
  }
  const width = Math.ceil(bits / 8);
  if (kind === tag.float ? bits !== 32 : width < 1 || width > 4) {
    const form = kind === tag.float ? 'floating-point ' : '';
    throw new Refusal(
      'wav-depth',
      `The file has ${form}samples of ${bits} bits. Those of 8, 16, 24 and 32 bits and 32-bit floating point can be read.`,
    );
  }
  if (align !== channels * width) {
    problems.push(
      problem(
        'repair',
        'wav-align',
        `The file says that a frame has ${align} bytes, but ${channels} channel(s) of ${bits} bits make ${channels * width}. The latter was used.`,
      ),
    );
  }
  return { channels, sampleRate, width, float: kind === tag.float };
};

/** Reads one sample; whole numbers stand left-justified in their bytes, so that the bytes alone give the scale. */
const sampleReader = (data: Uint8Array, { width, float }: Layout): ((at: number) => number) => {
  const fields = view(data);
  if (float) return (at) => fields.getFloat32(at, true);
  // Eight bits are stored without a sign, around 128 (Microsoft and IBM 1991).
  if (width === 1) return (at) => (fields.getUint8(at) - 128) / 2 ** 7;
  if (width === 2) return (at) => fields.getInt16(at, true) / 2 ** 15;
  if (width === 3) return (at) => (fields.getUint16(at, true) + fields.getInt8(at + 2) * 2 ** 16) / 2 ** 23;
  return (at) => fields.getInt32(at, true) / 2 ** 31;
};

const samplesOf = (data: Uint8Array, layout: Layout, problems: Problem[]): readonly Float32Array[] => {
  const { channels, width } = layout;
  const frames = Math.floor(data.length / (channels * width));
  const odd = data.length - frames * channels * width;
  if (odd > 0) {
    problems.push(
      problem(
        'repair',
        'wav-odd-bytes',
        `The sound ends within a frame; its last ${odd} byte(s) were left out.`,
      ),
    );
  }
  const read = sampleReader(data, layout);
  let broken = 0;
  const sound = Array.from({ length: channels }, (_, channel) => {
    const samples = new Float32Array(frames);
    for (let i = 0; i < frames; i += 1) {
      const value = read((i * channels + channel) * width);
      if (Number.isFinite(value)) samples[i] = value;
      else broken += 1;
    }
    return samples;
  });
  if (broken > 0) {
    problems.push(
      problem(
        'repair',
        'wav-no-number',
        `${broken} sample(s) are not numbers (a damaged file). Silence stands there.`,
      ),
    );
  }
  if (width === 4 && !layout.float) {
    problems.push(
      problem(
        'note',
        'wav-rounded',
        'The samples have 32 bits; they were rounded to the 24 leading bits of each.',
      ),
    );
  }
  return sound;
};

const only = (chunks: readonly Chunk[], name: string, what: string, problems: Problem[]): Uint8Array => {
  const [first, ...more] = chunks.filter((chunk) => chunk.name === name);
  if (first === undefined) {
    throw new Refusal(
      'wav-damaged',
      `The file has no ${what} section ("${name.trim()}"). It may be cut off or damaged.`,
    );
  }
  if (more.length > 0) {
    problems.push(
      problem('note', 'wav-several', `The file has ${more.length + 1} ${what} sections; the first was used.`),
    );
  }
  return first.body;
};

const start = (bytes: Uint8Array): string => String.fromCharCode(...bytes.subarray(0, 4));

const refusedStart = (bytes: Uint8Array): Result<Wav> | null => {
  if (bytes.length === 0) return fail('file-empty', 'The file is empty.');
  const name = start(bytes);
  if (name === 'RF64' || name === 'BW64') {
    return fail(
      'wav-format',
      'The file is of the kind for more than 4 GiB, which is not read. Save a shorter part.',
    );
  }
  if (name === 'RIFX')
    return fail('wav-format', 'The file stores its numbers high byte first, which is not read.');
  if (bytes.length < 12 || name !== 'RIFF' || start(bytes.subarray(8)) !== 'WAVE') {
    return fail('not-wav', 'The file is not a WAV file: it does not begin as one.');
  }
  return null;
};

/**
 * Reads a WAV file: PCM of 8, 16, 24 or 32 bits (or of bits in between, stored in whole bytes) and 32-bit floating
 * point, plain or extensible, any number of channels, unknown chunks skipped, in any order.
 *
 * Repairs, each told: "wav-size-unset", "file-truncated", "wav-odd-bytes", "wav-align", "wav-no-number". Notes:
 * "wav-rest", "wav-rounded", "wav-several". Errors: "file-empty", "not-wav", "wav-damaged", "wav-format", "wav-depth".
 */
export const readWav = (bytes: Uint8Array): Result<Wav> =>
  refusable(() => {
    const refused = refusedStart(bytes);
    if (refused !== null) return refused;
    const { chunks, problems: found } = chunksOf(bytes);
    const problems = [...found];
    const layout = layoutOf(only(chunks, 'fmt ', 'format', problems), problems);
    const channels = samplesOf(only(chunks, 'data', 'sound', problems), layout, problems);
    const wav: Wav = {
      sampleRate: layout.sampleRate,
      depth: layout.width * 8,
      float: layout.float,
      frames: channels[0]?.length ?? 0,
      channels,
    };
    return ok(wav, problems);
  });
