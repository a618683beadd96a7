/** Plain WAV files (RIFF, Microsoft/IBM 1991): read 16, 24 and 32 bit as one channel, write 16 or 24 bit mono. */
import { readFileSync, writeFileSync } from 'node:fs';

/** Samples in [-1, 1], channels averaged. */
export const readWav = (file) => {
  const bytes = readFileSync(file);
  let format = null;
  let data = null;
  for (let at = 12; at + 8 <= bytes.length;) {
    const name = bytes.toString('latin1', at, at + 4);
    const size = Math.min(bytes.readUInt32LE(at + 4), bytes.length - at - 8);
    if (name === 'fmt ') {
      format = {
        kind: bytes.readUInt16LE(at + 8),
        channels: bytes.readUInt16LE(at + 10),
        rate: bytes.readUInt32LE(at + 12),
        bits: bytes.readUInt16LE(at + 22),
      };
      if (format.kind === 0xfffe) format.kind = bytes.readUInt16LE(at + 32);
    }
    if (name === 'data') data = bytes.subarray(at + 8, at + 8 + size);
    at += 8 + size + (size % 2);
  }
  if (format === null || data === null) throw new Error(`${file} is not a WAV file.`);
  const { channels, bits, kind, rate } = format;
  const width = bits / 8;
  const read = {
    16: (at) => data.readInt16LE(at) / 32768,
    24: (at) => data.readIntLE(at, 3) / 8388608,
    32: kind === 3 ? (at) => data.readFloatLE(at) : (at) => data.readInt32LE(at) / 2147483648,
  }[bits];
  if (read === undefined) throw new Error(`${file} has ${bits} bits a sample; 16, 24 and 32 are read here.`);
  const samples = new Float32Array(Math.floor(data.length / width / channels));
  for (let n = 0; n < samples.length; n += 1) {
    let sum = 0;
    for (let c = 0; c < channels; c += 1) sum += read((n * channels + c) * width);
    samples[n] = sum / channels;
  }
  return { rate, samples };
};

/** Bytes of a mono file. What lies beyond full scale is an error here, never clipped in silence. */
export const wavBytes = (samples, rate, bits) => {
  const width = bits / 8;
  const out = Buffer.alloc(44 + samples.length * width);
  out.write('RIFF', 0, 'latin1');
  out.writeUInt32LE(out.length - 8, 4);
  out.write('WAVEfmt ', 8, 'latin1');
  out.writeUInt32LE(16, 16);
  out.writeUInt16LE(1, 20);
  out.writeUInt16LE(1, 22);
  out.writeUInt32LE(rate, 24);
  out.writeUInt32LE(rate * width, 28);
  out.writeUInt16LE(width, 32);
  out.writeUInt16LE(bits, 34);
  out.write('data', 36, 'latin1');
  out.writeUInt32LE(samples.length * width, 40);
  const scale = 2 ** (bits - 1) - 1;
  for (let n = 0; n < samples.length; n += 1) {
    const value = Math.round(samples[n] * scale);
    if (Math.abs(value) > scale) throw new Error(`Sample ${n} is beyond full scale.`);
    if (bits === 16) out.writeInt16LE(value, 44 + n * 2);
    else out.writeIntLE(value, 44 + n * 3, 3);
  }
  return out;
};

export const writeWav = (file, samples, rate, bits) => writeFileSync(file, wavBytes(samples, rate, bits));
