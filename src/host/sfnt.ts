/** A web font unpacked: WOFF 1.0 (W3C 2012) holds the tables of an OpenType font, each packed by itself. */
import { unzlibSync } from 'fflate';

/** "wOFF". */
const signature = 0x774f4646;
const headLength = 44;
const entryLength = 20;

/** Length of a table with the zeros that fill it up to four bytes. */
const padded = (length: number): number => (length + 3) & ~3;

/** The OpenType font in a WOFF file; any other bytes as they are. */
export const openType = (woff: Uint8Array): Uint8Array => {
  const from = new DataView(woff.buffer, woff.byteOffset, woff.byteLength);
  if (woff.length < headLength || from.getUint32(0) !== signature) return woff;
  const count = from.getUint16(12);
  const tables = Array.from({ length: count }, (_, i) => {
    const at = headLength + i * entryLength;
    const [tag, offset, packed, length, sum] = [0, 4, 8, 12, 16].map((step) => from.getUint32(at + step));
    const bytes = woff.subarray(offset ?? 0, (offset ?? 0) + (packed ?? 0));
    return { tag: tag ?? 0, sum: sum ?? 0, bytes: (packed ?? 0) < (length ?? 0) ? unzlibSync(bytes) : bytes };
  });
  const whole = tables.reduce((size, { bytes }) => size + padded(bytes.length), 12 + 16 * count);
  const font = new Uint8Array(whole);
  const to = new DataView(font.buffer);
  // The directory's search fields: OpenType 1.9, "Table Directory".
  const power = 2 ** Math.floor(Math.log2(Math.max(1, count)));
  to.setUint32(0, from.getUint32(4));
  to.setUint16(4, count);
  to.setUint16(6, 16 * power);
  to.setUint16(8, Math.log2(power));
  to.setUint16(10, 16 * (count - power));
  let at = 12 + 16 * count;
  tables.forEach(({ tag, sum, bytes }, i) => {
    const entry = 12 + 16 * i;
    to.setUint32(entry, tag);
    to.setUint32(entry + 4, sum);
    to.setUint32(entry + 8, at);
    to.setUint32(entry + 12, bytes.length);
    font.set(bytes, at);
    at += padded(bytes.length);
  });
  return font;
};
