/**
 * Compressed sound on Node: decoders in WebAssembly, loaded only where a file needs them, and for AAC a program of the
 * machine (docs/decisions/decoders.md).
 */
import { readFile, stat } from 'node:fs/promises';
import type { SoundPort } from '../../desk/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../../units/index.ts';
import { causeOf, codeOf } from './cause.ts';
import { decodeOutside, type OutsideKind } from './outsideDecoder.ts';

interface Decoded {
  readonly channelData: readonly Float32Array[];
  readonly samplesDecoded: number;
  readonly sampleRate: number;
  readonly errors: readonly unknown[];
}

interface Decoder {
  readonly ready: Promise<void>;
  readonly decode: (data: Uint8Array) => Decoded | Promise<Decoded>;
  readonly flush?: () => Promise<Decoded>;
  readonly free: () => void;
}

type Kind = Exclude<Parameters<SoundPort['decode']>[1], OutsideKind>;

const decoderFor = async (kind: Kind): Promise<Decoder> => {
  switch (kind) {
    case 'flac':
      return new (await import('@wasm-audio-decoders/flac')).FLACDecoder();
    case 'mp3':
      return new (await import('mpg123-decoder')).MPEGDecoder({ enableGapless: true });
    case 'vorbis':
      return new (await import('@wasm-audio-decoders/ogg-vorbis')).OggVorbisDecoder();
    case 'opus':
      return new (await import('ogg-opus-decoder')).OggOpusDecoder();
  }
};

const names: Readonly<Record<Kind, string>> = {
  flac: 'FLAC',
  mp3: 'MP3',
  vorbis: 'Ogg Vorbis',
  opus: 'Ogg Opus',
};

/** Bytes that are handed over at a time. */
const piece = 1 << 16;

const decoded = async (
  bytes: Uint8Array,
  kind: Kind,
  block: Parameters<SoundPort['decode']>[2],
): Promise<Result<null>> => {
  const decoder = await decoderFor(kind);
  await decoder.ready;
  let [samples, errors] = [0, 0];
  const take = (part: Decoded): void => {
    errors += part.errors.length;
    samples += part.samplesDecoded;
    if (part.samplesDecoded > 0)
      block(
        part.sampleRate,
        part.channelData.map((channel) => channel.slice(0, part.samplesDecoded)),
      );
  };
  try {
    for (let at = 0; at < bytes.length; at += piece)
      take(await decoder.decode(bytes.subarray(at, at + piece)));
    // The FLAC decoder gives its last frame only when something follows it.
    if (kind === 'flac') take(await decoder.decode(new Uint8Array(64)));
    if (decoder.flush !== undefined) take(await decoder.flush());
  } finally {
    decoder.free();
  }
  if (samples === 0)
    return fail(
      'sound-damaged',
      `The file begins like ${names[kind]}, but no sound can be made of it. It is damaged or cut off.`,
    );
  const problems: Problem[] =
    errors === 0
      ? []
      : [
          problem(
            'repair',
            'sound-damaged',
            `The file is damaged in ${errors} place(s); what could not be read there is left out, so that times after it may be wrong.`,
          ),
        ];
  return ok(null, problems);
};

/** Larger recordings are refused before they fill the memory: 2 GiB, an hour and a half of stereo at 96 kHz and 16 bits. */
const largest = 2 ** 31 - 1;

const readSound = async (name: string): Promise<Result<Uint8Array>> => {
  try {
    const info = await stat(name);
    if (info.isDirectory()) return fail('file-is-folder', `${name} is a folder; a recording is needed.`);
    if (info.size > largest)
      return fail('file-too-large', `${name} is larger than 2 GiB. Save a shorter part of it.`);
    const { buffer, byteOffset, length } = await readFile(name);
    return ok(new Uint8Array(buffer, byteOffset, length));
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return fail('file-missing', `There is no file ${name}.`);
    return fail('file-unreadable', `${name} cannot be read: ${causeOf(error)}.`);
  }
};

/** Recordings on this machine, and the decoders for them. */
export const nodeSounds: SoundPort = {
  read: readSound,
  decode: async (bytes, kind, block) => {
    if (kind === 'aac' || kind === 'm4a') return decodeOutside(bytes, kind, block);
    try {
      return await decoded(bytes, kind, block);
    } catch {
      // What decoders throw speaks of their own insides.
      return fail(
        'sound-damaged',
        `The file begins like ${names[kind]} but cannot be read as such. It is damaged or cut off.`,
      );
    }
  },
};
