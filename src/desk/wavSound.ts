/** WAV files in pieces, each by the same reader as whole files, so that no more than a piece need be held. */
import { findChunks, type ChunkPlace } from '../sound/wav/chunks.ts';
import { readWav } from '../sound/wav/read.ts';
import { fail, ok, refusable, type Problem, type Result } from '../units/index.ts';
import { keptPiece, type SoundBytes } from './soundBytes.ts';

type Block = (rate: number, channels: readonly Float32Array[]) => void;

/** Frames that are taken out of a file at a time. */
const blockFrames = 1 << 16;
/** Files up to this size are read whole. */
const small = 64 * 1024;
/** No section that tells the format is longer. */
const longestFormat = 1 << 16;

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

interface Layout {
  readonly format: Uint8Array;
  readonly data: ChunkPlace;
  readonly problems: readonly Problem[];
}

/** What the reader of whole files says of a file whose beginning is wrong. */
const notWav = async (bytes: SoundBytes): Promise<Result<never>> => {
  const start = await keptPiece(bytes, 0, 64);
  if (!start.ok) return start;
  const read = readWav(start.value);
  return read.ok ? fail('wav-damaged', 'The file has no sound section. It may be cut off or damaged.') : read;
};

const layoutOf = async (bytes: SoundBytes): Promise<Result<Layout>> => {
  const start = await keptPiece(bytes, 0, 12);
  if (!start.ok) return start;
  const name = String.fromCharCode(...start.value.subarray(0, 4), ...start.value.subarray(8, 12));
  if (name !== 'RIFFWAVE') return notWav(bytes);
  const search = findChunks(bytes.size);
  let asked = search.next();
  while (asked.done !== true) {
    const { from, to } = asked.value;
    const read = await bytes.piece(from, to);
    if (!read.ok) return read;
    asked = search.next(read.value);
  }
  const { chunks, problems } = asked.value;
  const [format, data] = ['fmt ', 'data'].map((wanted) => chunks.find((found) => found.name === wanted));
  if (format === undefined || data === undefined) return notWav(bytes);
  const told = await keptPiece(bytes, format.from, Math.min(format.to, format.from + longestFormat));
  return told.ok ? ok({ format: told.value, data, problems }) : told;
};

/** Seconds of sound in a WAV file, as far as its beginning says so; 0 where it does not. */
const secondsOf = ({ format, data }: Layout): number => {
  if (format.length < 16) return 0;
  const fields = new DataView(format.buffer, format.byteOffset, format.byteLength);
  const frames = (data.to - data.from) / Math.max(1, fields.getUint16(12, true));
  const rate = fields.getUint32(4, true);
  return rate === 0 ? 0 : frames / rate;
};

/** Takes a WAV file apart. `begin`: told the seconds of sound to come, 0 where they are not known, and gives what takes the blocks. */
export const wavBlocks = async (
  bytes: SoundBytes,
  begin: (seconds: number) => Block,
): Promise<Result<null>> => {
  const whole = bytes.size <= small ? await keptPiece(bytes, 0, bytes.size) : null;
  if (whole !== null) {
    if (!whole.ok) return whole;
    const read = readWav(whole.value);
    if (!read.ok) return read;
    begin(0)(read.value.sampleRate, read.value.channels);
    return ok(null, read.problems);
  }
  // Anything odd about the whole file is told by reading it without its sound.
  const layout = await layoutOf(bytes);
  if (!layout.ok) return layout;
  const { format, data, problems } = layout.value;
  const probe = refusable(() => readWav(slice(format, new Uint8Array(0))));
  if (!probe.ok) return probe;
  const step = blockFrames * (probe.value.depth / 8) * probe.value.channels.length;
  const all: Problem[] = [...problems, ...probe.problems];
  const block = begin(secondsOf(layout.value));
  // All but the last are read out of one and the same array.
  const full = slice(format, new Uint8Array(step));
  for (let at = data.from; at < data.to; at += step) {
    const piece = await bytes.piece(at, Math.min(data.to, at + step));
    if (!piece.ok) return piece;
    if (piece.value.length === step) full.set(piece.value, full.length - step - (step % 2));
    const read = readWav(piece.value.length === step ? full : slice(format, piece.value));
    if (!read.ok) return read;
    all.push(...read.problems);
    block(read.value.sampleRate, read.value.channels);
  }
  return ok(null, all);
};
