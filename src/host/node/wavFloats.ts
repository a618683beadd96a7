/** WAV of 32-bit floating point as it comes out of another program: bit by bit, and without its length. */

export interface WavFloats {
  readonly take: (bytes: Uint8Array) => void;
  /** Frames that were told so far. */
  readonly frames: () => number;
}

interface Head {
  readonly rate: number;
  readonly channels: number;
  /** Where the sound begins. */
  readonly at: number;
}

/** Bytes among which the sound has to begin. */
const longestHead = 1 << 16;

const nameAt = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

/** Null where the sound has not begun yet, or where this is no such WAV. */
const headOf = (bytes: Uint8Array): Head | null => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let format: Omit<Head, 'at'> | null = null;
  for (let at = 12; at + 8 <= bytes.length;) {
    const [name, size] = [nameAt(bytes, at), view.getUint32(at + 4, true)];
    if (name === 'data') return format === null ? null : { ...format, at: at + 8 };
    if (name === 'fmt ' && at + 24 <= bytes.length) {
      const [channels, rate] = [view.getUint16(at + 10, true), view.getUint32(at + 12, true)];
      const bits = view.getUint16(at + 22, true);
      format = bits === 32 && channels > 0 && rate > 0 ? { rate, channels } : null;
    }
    at += 8 + size + (size % 2);
  }
  return null;
};

/** Tells each stretch of sound as one array for each channel. */
export const wavFloats = (block: (rate: number, channels: readonly Float32Array[]) => void): WavFloats => {
  let rest = new Uint8Array(0);
  let head: Head | null = null;
  let told = 0;
  return {
    take: (bytes) => {
      const all = new Uint8Array(rest.length + bytes.length);
      all.set(rest);
      all.set(bytes, rest.length);
      let at = 0;
      if (head === null) {
        head = headOf(all);
        if (head === null) {
          rest = all.length < longestHead ? all : new Uint8Array(0);
          return;
        }
        at = head.at;
      }
      const { rate, channels } = head;
      const count = Math.floor((all.length - at) / (4 * channels));
      const view = new DataView(all.buffer, at);
      const sound = Array.from({ length: channels }, (_, c) => {
        const samples = new Float32Array(count);
        for (let n = 0; n < count; n += 1) samples[n] = view.getFloat32(4 * (n * channels + c), true);
        return samples;
      });
      rest = all.slice(at + 4 * channels * count);
      told += count;
      if (count > 0) block(rate, sound);
    },
    frames: () => told,
  };
};
