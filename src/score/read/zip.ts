/**
 * Reads single files out of a ZIP archive, by its central directory. Source: PKWARE APPNOTE.TXT 6.3.10, sections 4.3
 * and 4.4 (layout), RFC 1952 section 8 (CRC-32). What is unpacked is measured while it grows: the sizes that the
 * archive claims are not believed.
 */
import { Inflate } from 'fflate';
import { ok, Refusal, refusable, type Result } from '../../units/index.ts';

export interface ZipEntry {
  readonly name: string;
  readonly method: number;
  readonly encrypted: boolean;
  readonly crc: number;
  readonly packedSize: number;
  /** Where the local header stands, in bytes from the start. */
  readonly at: number;
}

/** Limits for a compressed score, far above any real one. Bytes. */
const zipLimits = { entries: 2000, unpacked: 64 * 1024 * 1024 } as const;

const cutOff = (): Refusal =>
  new Refusal(
    'file-truncated',
    'The compressed file is cut off or damaged: its table of contents is missing. Copy or export it again.',
  );
const damaged = (name: string): Refusal =>
  new Refusal('zip-damaged', `The compressed file is damaged: "${name}" inside it can not be unpacked.`);

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const endRecord = (view: DataView): number => {
  const last = view.byteLength - 22;
  for (let at = last; at >= 0 && at >= last - 0xffff; at -= 1) {
    if (view.getUint32(at, true) === 0x06054b50) return at;
  }
  throw cutOff();
};

/** Bit 11 says UTF-8; older names are mostly ASCII, and UTF-8 reads those too. */
const nameOf = (bytes: Uint8Array): string => new TextDecoder('utf-8').decode(bytes);

/**
 * The files in an archive. Errors: `file-truncated`, `zip-too-many`, `zip-unsupported`.
 */
export const zipEntries = (bytes: Uint8Array): Result<readonly ZipEntry[]> =>
  refusable(() => {
    const view = viewOf(bytes);
    const end = endRecord(view);
    const count = view.getUint16(end + 10, true);
    const size = view.getUint32(end + 12, true);
    const claimed = view.getUint32(end + 16, true);
    if (count === 0xffff || claimed === 0xffffffff)
      throw new Refusal('zip-unsupported', 'The compressed file uses ZIP64, which no score needs.');
    if (count > zipLimits.entries)
      throw new Refusal('zip-too-many', `The compressed file holds ${count} files; a score holds a few.`);
    // Something may stand before the archive: then all offsets are off by the same amount.
    const shift = end - size - claimed;
    if (shift < 0) throw cutOff();
    const entries: ZipEntry[] = [];
    let at = claimed + shift;
    for (let index = 0; index < count; index += 1) {
      if (at + 46 > end || view.getUint32(at, true) !== 0x02014b50) throw cutOff();
      const nameLength = view.getUint16(at + 28, true);
      const next = at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
      if (next > end) throw cutOff();
      entries.push({
        name: nameOf(bytes.subarray(at + 46, at + 46 + nameLength)),
        method: view.getUint16(at + 10, true),
        encrypted: (view.getUint16(at + 8, true) & 1) === 1,
        crc: view.getUint32(at + 16, true),
        packedSize: view.getUint32(at + 20, true),
        at: view.getUint32(at + 42, true) + shift,
      });
      at = next;
    }
    return ok(entries);
  });

const crcTable = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

/** CRC-32 of RFC 1952. */
const crc32 = (bytes: Uint8Array): number => {
  let value = 0xffffffff;
  for (const byte of bytes) value = (crcTable[(value ^ byte) & 0xff] ?? 0) ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
};

/** Small steps, because one step may grow a thousandfold before its size can be seen. Bytes. */
const step = 16 * 1024;

const inflate = (packed: Uint8Array, name: string): Uint8Array => {
  const pieces: Uint8Array[] = [];
  let total = 0;
  const stream = new Inflate((piece) => {
    total += piece.length;
    if (total > zipLimits.unpacked)
      throw new Refusal(
        'file-too-large',
        `"${name}" inside the compressed file unpacks to more than 64 MiB; no score is that large.`,
      );
    pieces.push(piece);
  });
  try {
    for (let from = 0; from === 0 || from < packed.length; from += step)
      stream.push(packed.slice(from, from + step), from + step >= packed.length);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw damaged(name);
  }
  const whole = new Uint8Array(total);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
};

/**
 * Unpacks one entry of `bytes`. Errors: `zip-damaged`, `file-truncated`, `zip-unsupported` (encrypted, or an unusual
 * method), `file-too-large`.
 */
export const unzipEntry = (bytes: Uint8Array, entry: ZipEntry): Result<Uint8Array> =>
  refusable(() => {
    const { name, at, packedSize, method } = entry;
    if (entry.encrypted)
      throw new Refusal('zip-unsupported', `"${name}" inside the compressed file is locked by a password.`);
    const view = viewOf(bytes);
    if (at + 30 > bytes.length || view.getUint32(at, true) !== 0x04034b50) throw damaged(name);
    const from = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
    if (from + packedSize > bytes.length) throw cutOff();
    const packed = bytes.subarray(from, from + packedSize);
    if (method !== 0 && method !== 8)
      throw new Refusal(
        'zip-unsupported',
        `"${name}" is compressed by a method (${method}) that is not read.`,
      );
    if (method === 0 && packed.length > zipLimits.unpacked)
      throw new Refusal('file-too-large', `"${name}" inside the compressed file is larger than 64 MiB.`);
    const content = method === 0 ? packed : inflate(packed, name);
    if (crc32(content) !== entry.crc) throw damaged(name);
    return ok(content);
  });
