/** The sound of a take: one channel of 32-bit floating point in a WAV file, whose header is written first and mended at the end. */
import { writeWav } from '../../sound/wav/write.ts';

/** The longest take, in seconds: half an hour, 346 MB at 48 kHz. Our own choice. */
export const longestTake = 30 * 60;

/** Bytes in front of the samples. */
export const takeHeaderSize = 58;

export const bytesPerSample = 4;

/** The header of a take of so many samples, as `writeWav` has it. */
export const takeHeader = (sampleRate: number, frames: number): Uint8Array => {
  const made = writeWav([], { sampleRate, channels: 1, depth: 32, frames });
  if (made.ok) for (const first of made.value) return first;
  // Rates come from the browser's audio, lengths from files: neither passes what a WAV file can say.
  throw new RangeError(`No WAV file of ${frames} samples at ${sampleRate} Hz.`);
};

/** Samples that a file of this size holds. */
export const samplesIn = (bytes: number): number =>
  Math.max(0, Math.floor((bytes - takeHeaderSize) / bytesPerSample));

/** Hz, from the header of a take. */
export const rateIn = (header: Uint8Array): number =>
  header.length < 28 ? 0 : new DataView(header.buffer, header.byteOffset, header.length).getUint32(24, true);

/** How loud a stretch is for a recording: its largest amplitude, full scale 1, in plain words. */
export type Loudness = 'silent' | 'soft' | 'good' | 'loud';

/**
 * Peaks in dBFS. Above -1 something is cut or nearly so; below -40 the noise of small microphones comes near; below -66 there is nothing but it.
 * Our own choice; common practice leaves 6 to 20 dB above a loud passage, no source.
 */
const bounds = { loud: -1, soft: -40, silent: -66 } as const;

export const loudnessOf = (peak: number): Loudness => {
  const level = 20 * Math.log10(peak);
  if (level >= bounds.loud) return 'loud';
  if (level >= bounds.soft) return 'good';
  return level >= bounds.silent ? 'soft' : 'silent';
};
