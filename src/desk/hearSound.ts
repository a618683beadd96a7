/** From the bytes of a recording to what is listened to, block by block. */
import { judgeSound, monoMaker, type Mono } from '../listen/mono.ts';
import { chunksOf } from '../sound/wav/chunks.ts';
import { readWav } from '../sound/wav/read.ts';
import { fail, ok, refusable, type Problem, type Result } from '../units/index.ts';
import { soundKind, type SoundKind } from './soundKind.ts';

/** What takes compressed sound apart. Adapters stand in src/host. */
export interface DecodePort {
  /**
   * Decodes a file of a kind, telling each block with its rate in Hz and one array for each channel. What could not be
   * read of it is a Problem. Errors: `sound-damaged`, `sound-too-long`, and `sound-kind` where this machine cannot.
   */
  readonly decode: (
    bytes: Uint8Array,
    kind: Exclude<SoundKind, 'wav'>,
    block: (rate: number, channels: readonly Float32Array[]) => void,
  ) => Promise<Result<null>>;
}

/** Recordings: their bytes, and what is in them. */
export interface SoundPort extends DecodePort {
  /** The bytes of a recording. Errors: those of `ReadPort.read`. */
  readonly read: (path: string) => Promise<Result<Uint8Array>>;
}

/** Frames that are taken out of a WAV file at a time. */
const wavBlock = 1 << 18;

const chunk = (name: string, body: Uint8Array): Uint8Array => {
  const out = new Uint8Array(8 + body.length + (body.length % 2));
  for (let i = 0; i < 4; i += 1) out[i] = name.charCodeAt(i);
  new DataView(out.buffer).setUint32(4, body.length, true);
  out.set(body, 8);
  return out;
};

/** A whole WAV file that holds these frames of another. */
const slice = (format: Uint8Array, data: Uint8Array): Uint8Array => {
  const [head, body] = [chunk('fmt ', format), chunk('data', data)];
  const inside = new Uint8Array(4 + head.length + body.length);
  inside.set([0x57, 0x41, 0x56, 0x45]);
  inside.set(head, 4);
  inside.set(body, 4 + head.length);
  return chunk('RIFF', inside);
};

const bodyOf = (bytes: Uint8Array, name: string): Uint8Array | undefined =>
  chunksOf(bytes).chunks.find((found) => found.name === name)?.body;

/** What the reader of whole files says of a file whose beginning is wrong. */
const notWav = (bytes: Uint8Array): Result<never> => {
  const read = readWav(bytes.slice(0, 64));
  return read.ok ? fail('wav-damaged', 'The file has no sound section. It may be cut off or damaged.') : read;
};

/** Seconds of sound in a WAV file, as far as its beginning says so; 0 where it does not. */
const wavSeconds = (bytes: Uint8Array): number => {
  const [format, data] = [bodyOf(bytes, 'fmt '), bodyOf(bytes, 'data')];
  if (format === undefined || data === undefined || format.length < 16) return 0;
  const fields = new DataView(format.buffer, format.byteOffset, format.byteLength);
  const [frames, rate] = [data.length / Math.max(1, fields.getUint16(12, true)), fields.getUint32(4, true)];
  return rate === 0 ? 0 : frames / rate;
};

/** Reads a WAV file in pieces, each by the same reader as whole files, so that an hour need not be held twice. */
const wavBlocks = (
  bytes: Uint8Array,
  block: (rate: number, channels: readonly Float32Array[]) => void,
): Result<null> =>
  refusable(() => {
    const small = bytes.length <= 64 * 1024 ? readWav(bytes) : null;
    if (small !== null) {
      if (!small.ok) return small;
      block(small.value.sampleRate, small.value.channels);
      return ok(null, small.problems);
    }
    // Anything odd about the whole file is told by reading it without its sound.
    const start = bytes.subarray(0, 12);
    const name = String.fromCharCode(...start.subarray(0, 4), ...start.subarray(8, 12));
    if (name !== 'RIFFWAVE') return notWav(bytes);
    const { problems } = chunksOf(bytes);
    const [format, data] = [bodyOf(bytes, 'fmt '), bodyOf(bytes, 'data')];
    if (format === undefined || data === undefined) return notWav(bytes);
    const probe = readWav(slice(format, data.subarray(0, 0)));
    if (!probe.ok) return probe;
    const width = (probe.value.depth / 8) * probe.value.channels.length;
    const all: Problem[] = [...problems, ...probe.problems];
    for (let at = 0; at < data.length; at += wavBlock * width) {
      const read = readWav(slice(format, data.subarray(at, Math.min(data.length, at + wavBlock * width))));
      if (!read.ok) return read;
      all.push(...read.problems);
      block(read.value.sampleRate, read.value.channels);
    }
    return ok(null, all);
  });

const kinds = 'WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC and M4A';

const refuse = (name: string, found: ReturnType<typeof soundKind>, bytes: Uint8Array): Result<never> => {
  if (bytes.length === 0) return fail('file-empty', `${name} is empty.`);
  if (found !== null && typeof found === 'object')
    return fail(
      'sound-kind',
      `${name} is ${found.unread}, which is not read. Save or export it as WAV or FLAC (or record as such) and try again; ${kinds} are read.`,
    );
  return fail('sound-unknown', `${name} is no recording that is known. ${kinds} are read.`);
};

/** Repairs told once for each block are told once. */
const onceEach = (problems: readonly Problem[]): readonly Problem[] => [
  ...new Map(problems.map((found) => [found.code, found])).values(),
];

/**
 * Reads a recording. Errors: `file-empty`, `sound-kind`, `sound-unknown`, those of `readWav` and of the decoders, and
 * those of `judgeSound`. `name`: as the user named it.
 */
export const readSound = async (bytes: Uint8Array, name: string, port: DecodePort): Promise<Result<Mono>> => {
  const kind = soundKind(bytes);
  if (kind === null || typeof kind === 'object') return refuse(name, kind, bytes);
  const maker = monoMaker(kind === 'wav' ? wavSeconds(bytes) : 0);
  const read = kind === 'wav' ? wavBlocks(bytes, maker.push) : await port.decode(bytes, kind, maker.push);
  if (!read.ok) return { ok: false, error: { ...read.error, message: `${name}: ${read.error.message}` } };
  const mono = maker.end();
  const { error, problems } = judgeSound(mono, name);
  if (error !== null) return { ok: false, error };
  if (mono === null) return fail('take-empty', `${name} holds no sound.`);
  return ok(mono, onceEach([...read.problems, ...problems]));
};
