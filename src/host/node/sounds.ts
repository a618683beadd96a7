/**
 * Compressed sound on Node: decoders in WebAssembly, loaded only where a file needs them, and for AAC a program of the
 * machine (docs/decisions/decoders.md).
 */
import { readFile, stat } from 'node:fs/promises';
import type { SoundPort } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { decodedSound } from '../decoders.ts';
import { causeOf, codeOf } from './cause.ts';
import { decodeOutside } from './outsideDecoder.ts';

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
    return decodedSound(bytes, kind, block);
  },
};
