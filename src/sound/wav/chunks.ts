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

/** Whether from here to the end of the bytes there are whole chunks and nothing else. */
const chunksOnly = (bytes: Uint8Array, from: number): boolean => {
  let at = from;
  while (at + 8 <= bytes.length && isName(nameAt(bytes, at))) {
    const size = sizeAt(bytes, at + 4);
    at += 8 + size + (size % 2);
  }
  // The last padding byte may be missing.
  return at === bytes.length || at === bytes.length + 1;
};

/** A recorder that was cut off leaves its size unset: 0, or the largest number. */
const unset = (bytes: Uint8Array, body: number, size: number): boolean =>
  size === largestSize || (size === 0 && body < bytes.length && !chunksOnly(bytes, body));

/**
 * The chunks of a RIFF file, from byte 12 on. The size in the file's first bytes is not relied upon, for recorders that
 * were cut off leave it wrong; each chunk is taken as far as there are bytes.
 */
export const chunksOf = (bytes: Uint8Array): { chunks: readonly Chunk[]; problems: readonly Problem[] } => {
  const chunks: Chunk[] = [];
  const problems: Problem[] = [];
  let at = 12;
  while (at + 8 <= bytes.length) {
    const name = nameAt(bytes, at);
    if (!isName(name)) break;
    const stated = sizeAt(bytes, at + 4);
    const body = at + 8;
    const left = bytes.length - body;
    if (name === 'data' && unset(bytes, body, stated)) {
      problems.push(
        problem(
          'repair',
          'wav-size-unset',
          `The file does not say how long its sound is (a recording that was cut off leaves it so). All of the ${left} bytes that follow were taken as sound.`,
        ),
      );
      chunks.push({ name, body: bytes.subarray(body) });
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
    chunks.push({ name, body: bytes.subarray(body, Math.min(body + stated, bytes.length)) });
    at = body + stated;
    // Chunks begin on even bytes (RIFF 1991), but some programs leave the padding byte out.
    const unpadded = stated % 2 === 1 && (bytes[at] ?? 0) !== 0 && isName(nameAt(bytes, at));
    if (stated % 2 === 1 && !unpadded) at += 1;
  }
  if (at < bytes.length) {
    problems.push(
      problem(
        'note',
        'wav-rest',
        `After its last section the file has ${countText(bytes.length - at, 'byte that means nothing here. It was', 'bytes that mean nothing here. They were')} left out.`,
      ),
    );
  }
  return { chunks, problems };
};
