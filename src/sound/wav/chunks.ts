import { problem, countText, type Problem } from '../../units/index.ts';
import { largestSize } from './format.ts';

/** A piece of the file, without its eight bytes of name and size. */
export interface Chunk {
  readonly name: string;
  readonly body: Uint8Array;
}

const nameAt = (bytes: Uint8Array, at: number): string =>
  String.fromCharCode(...bytes.subarray(at, Math.min(at + 4, bytes.length)));

const isName = (name: string): boolean => /^[ -~]{4}$/.test(name);

const sizeAt = (bytes: Uint8Array, at: number): number =>
  (bytes[at] ?? 0) +
  (bytes[at + 1] ?? 0) * 0x100 +
  (bytes[at + 2] ?? 0) * 0x1_0000 +
  (bytes[at + 3] ?? 0) * 0x100_0000;

/** Where a section's body lies. */
export interface ChunkPlace {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** Bytes that are asked for, the latter place left out; fewer come where the file ends. */
interface Asked {
  readonly from: number;
  readonly to: number;
}

/** Bytes of a name and a size. */
const headBytes = 8;

/** Whether from here to the end of the file there are whole chunks and nothing else. */
function* chunksOnly(size: number, from: number): Generator<Asked, boolean, Uint8Array> {
  let at = from;
  while (at + headBytes <= size) {
    const head = yield { from: at, to: at + headBytes };
    if (!isName(nameAt(head, 0))) break;
    const stated = sizeAt(head, 4);
    at += headBytes + stated + (stated % 2);
  }
  // The last padding byte may be missing.
  return at === size || at === size + 1;
}

/** A recorder that was cut off leaves its size unset: 0, or the largest number. */
function* unset(size: number, body: number, stated: number): Generator<Asked, boolean, Uint8Array> {
  if (stated === largestSize) return true;
  return stated === 0 && body < size && !(yield* chunksOnly(size, body));
}

/**
 * Looks for the chunks of a RIFF file of so many bytes, from byte 12 on, asking for the few that tell them. The size in the file's first bytes is
 * not relied upon, for recorders that were cut off leave it wrong; each chunk is taken as far as there are bytes.
 */
export function* findChunks(
  size: number,
): Generator<Asked, { chunks: readonly ChunkPlace[]; problems: readonly Problem[] }, Uint8Array> {
  const chunks: ChunkPlace[] = [];
  const problems: Problem[] = [];
  let at = 12;
  while (at + headBytes <= size) {
    const head = yield { from: at, to: at + headBytes };
    const name = nameAt(head, 0);
    if (!isName(name)) break;
    const stated = sizeAt(head, 4);
    const body = at + headBytes;
    const left = size - body;
    if (name === 'data' && (yield* unset(size, body, stated))) {
      problems.push(
        problem(
          'repair',
          'wav-size-unset',
          `The file does not say how long its sound is (a recording that was cut off leaves it so). All of the ${left} bytes that follow were taken as sound.`,
        ),
      );
      chunks.push({ name, from: body, to: size });
      return { chunks, problems };
    }
    if (stated > left) {
      problems.push(
        problem(
          'repair',
          'file-truncated',
          `The file ends early: its "${name.trim()}" section should have ${stated} bytes and has ${left}. What is there was used; the end may be missing.`,
        ),
      );
    }
    chunks.push({ name, from: body, to: Math.min(body + stated, size) });
    at = body + stated;
    // Chunks begin on even bytes (RIFF 1991), but some programs leave the padding byte out.
    if (stated % 2 === 1) {
      const next = at < size ? yield { from: at, to: at + 4 } : new Uint8Array(0);
      const unpadded = (next[0] ?? 0) !== 0 && isName(nameAt(next, 0));
      if (!unpadded) at += 1;
    }
  }
  if (at < size) {
    problems.push(
      problem(
        'note',
        'wav-rest',
        `After its last section the file has ${countText(size - at, 'byte that means nothing here. It was', 'bytes that mean nothing here. They were')} left out.`,
      ),
    );
  }
  return { chunks, problems };
}

/** The chunks of a whole RIFF file (`findChunks`). */
export const chunksOf = (bytes: Uint8Array): { chunks: readonly Chunk[]; problems: readonly Problem[] } => {
  const search = findChunks(bytes.length);
  let asked = search.next();
  while (asked.done !== true) asked = search.next(bytes.subarray(asked.value.from, asked.value.to));
  const { chunks, problems } = asked.value;
  return { chunks: chunks.map(({ name, from, to }) => ({ name, body: bytes.subarray(from, to) })), problems };
};
