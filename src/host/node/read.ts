/** Reading files and standard input on Node. */
import { open, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Readable } from 'node:stream';
import type { ReadPort } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { causeOf, codeOf } from './cause.ts';

/** Larger files are refused before they fill the memory: 256 MiB. */
const largestFile = 256 * 1024 * 1024;

const tooLarge = (name: string): Result<never> =>
  fail('file-too-large', `${name} is larger than 256 MiB: that is no score.`);

const readFile = async (name: string): Promise<Result<Uint8Array>> => {
  try {
    const file = await open(name, 'r');
    try {
      const info = await file.stat();
      if (info.isDirectory()) return fail('file-is-folder', `${name} is a folder; a file is needed.`);
      if (info.size > largestFile) return tooLarge(name);
      return await gathered(name, file.createReadStream({ autoClose: false }));
    } finally {
      await file.close();
    }
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return fail('file-missing', `There is no file ${name}.`);
    return fail('file-unreadable', `${name} cannot be read: ${causeOf(error)}.`);
  }
};

/** All bytes of a stream, up to the largest size: a pipe or a device tells no size in front. */
const gathered = async (name: string, stream: Readable): Promise<Result<Uint8Array>> => {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of stream) {
    const bytes: unknown = chunk;
    if (!(bytes instanceof Uint8Array)) continue;
    size += bytes.length;
    if (size > largestFile) return tooLarge(name);
    chunks.push(bytes);
  }
  return ok(new Uint8Array(Buffer.concat(chunks)));
};

const readInput = async (input: Readable): Promise<Result<Uint8Array>> => {
  try {
    return await gathered('What comes in', input);
  } catch (error) {
    return fail('file-unreadable', `Standard input cannot be read: ${causeOf(error)}.`);
  }
};

/** Files of this machine; "-" stands for standard input. */
export const nodeReader = (input: Readable = process.stdin): ReadPort => ({
  read: (name) => (name === '-' ? readInput(input) : readFile(name)),
  isFolder: async (name) => {
    if (name === '-') return false;
    try {
      return (await stat(name)).isDirectory();
    } catch {
      return false;
    }
  },
  inside: (folder, name) => path.join(folder, name),
  beside: (file, name) => path.join(file === '-' ? '.' : path.dirname(file), name),
});
