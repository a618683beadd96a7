/**
 * Compressed sound on Node: decoders in WebAssembly, loaded only where a file needs them, and for AAC a program of the
 * machine (docs/decisions/decoders.md).
 */
import { open, readFile, stat } from 'node:fs/promises';
import { heldBytes, type SoundBytes, type SoundPort } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { decodedSound } from '../decoders.ts';
import { causeOf, codeOf } from './cause.ts';
import { decodeOutside } from './outsideDecoder.ts';

/** Larger recordings are refused: 2 GiB, an hour and a half of stereo at 96 kHz and 16 bits. */
const largest = 2 ** 31 - 1;

/** A file's bytes, each piece read when it is asked for. */
const fileBytes = (name: string, size: number): SoundBytes => {
  let room = new Uint8Array(0);
  return {
    size,
    piece: async (from, to) => {
      const wanted = Math.max(0, Math.min(size, to) - from);
      if (room.length < wanted) room = new Uint8Array(wanted);
      try {
        const file = await open(name);
        try {
          let there = 0;
          while (there < wanted) {
            const { bytesRead } = await file.read(room, there, wanted - there, from + there);
            if (bytesRead === 0) break;
            there += bytesRead;
          }
          return ok(room.subarray(0, there));
        } finally {
          await file.close();
        }
      } catch (error) {
        return fail('file-unreadable', `${name} cannot be read: ${causeOf(error)}.`);
      }
    },
  };
};

const readSound = async (name: string): Promise<Result<SoundBytes>> => {
  try {
    const info = await stat(name);
    if (info.isDirectory()) return fail('file-is-folder', `${name} is a folder; a recording is needed.`);
    if (info.size > largest)
      return fail('file-too-large', `${name} is larger than 2 GiB. Save a shorter part of it.`);
    const bytes = info.isFile() ? fileBytes(name, info.size) : heldBytes(await readFile(name));
    const first = await bytes.piece(0, 1);
    return first.ok ? ok(bytes) : first;
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
