/** Compressed sound by decoders in WebAssembly, loaded only where a file needs them (docs/decisions/decoders.md). */
import type { DecodePort, SoundBytes } from '../desk/index.ts';
import { eachPiece } from '../desk/soundBytes.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';

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

/** What is taken apart without a program of the machine or the browser. */
export type DecodedKind = Exclude<Parameters<DecodePort['decode']>[1], 'aac' | 'm4a'>;
type Kind = DecodedKind;
type Block = Parameters<DecodePort['decode']>[2];

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

const decoded = async (bytes: SoundBytes, kind: Kind, block: Block): Promise<Result<null>> => {
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
    const read = await eachPiece(bytes, async (piece) => take(await decoder.decode(piece)));
    if (!read.ok) return read;
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

/** Takes a file apart. Error: `sound-damaged`. */
export const decodedSound = async (
  bytes: SoundBytes,
  kind: DecodedKind,
  block: Block,
): Promise<Result<null>> => {
  try {
    return await decoded(bytes, kind, block);
  } catch {
    // What decoders throw speaks of their own insides.
    return fail(
      'sound-damaged',
      `The file begins like ${names[kind]} but cannot be read as such. It is damaged or cut off.`,
    );
  }
};
