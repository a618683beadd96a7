/** The bytes of a recording, asked for piece by piece, so that a long one need not be held. */
import { ok, type Result } from '../units/index.ts';

export interface SoundBytes {
  /** Bytes in all. */
  readonly size: number;
  /**
   * The bytes from one place up to another, as far as there are some; they may be overwritten when the next are asked for. Errors: those of `ReadPort.read` that come
   * about later, as `file-unreadable`.
   */
  readonly piece: (from: number, to: number) => Promise<Result<Uint8Array>>;
}

/** Bytes that are there already. */
export const heldBytes = (bytes: Uint8Array): SoundBytes => ({
  size: bytes.length,
  piece: (from, to) => Promise.resolve(ok(bytes.subarray(from, Math.max(from, to)))),
});

/** A part of a recording that is kept. Errors pass through. */
export const keptPiece = async (
  { piece }: SoundBytes,
  from: number,
  to: number,
): Promise<Result<Uint8Array>> => {
  const read = await piece(from, to);
  return read.ok ? ok(read.value.slice()) : read;
};

/** Bytes that are read at a time. */
const atOnce = 1 << 16;

/** Tells all bytes in turn. Errors pass through. */
export const eachPiece = async (
  { size, piece }: SoundBytes,
  tell: (bytes: Uint8Array) => void | Promise<void>,
): Promise<Result<null>> => {
  for (let at = 0; at < size; at += atOnce) {
    const read = await piece(at, Math.min(size, at + atOnce));
    if (!read.ok) return read;
    await tell(read.value);
  }
  return ok(null);
};
