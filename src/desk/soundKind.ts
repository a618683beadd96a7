/** What kind of sound file some bytes are, by their content; what they are called does not matter. */

/** `aac` is a stream of ADTS frames, `m4a` an MP4 file, which may hold other sound than AAC. */
export type SoundKind = 'wav' | 'flac' | 'mp3' | 'vorbis' | 'opus' | 'aac' | 'm4a';

/** Kinds that are known and not read, as a person would name them. */
export interface Unread {
  readonly unread: string;
}

const text = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, bytes.length)));

/** Where the sound itself begins: after a tag ("ID3", its size in four bytes of seven bits), where there is one. */
export const tagged = (bytes: Uint8Array): number => {
  if (text(bytes, 0, 3) !== 'ID3' || bytes.length < 10) return 0;
  const [a = 0, b = 0, c = 0, d = 0] = bytes.subarray(6, 10);
  return 10 + ((a & 127) << 21) + ((b & 127) << 14) + ((c & 127) << 7) + (d & 127);
};

/** In an Ogg stream the first packet names the codec (RFC 3533, RFC 7845, Vorbis I specification, RFC 9639). */
const inOgg = (bytes: Uint8Array): SoundKind | Unread => {
  const head = text(bytes, 0, 512);
  if (head.includes('OpusHead')) return 'opus';
  if (head.includes('\u0001vorbis')) return 'vorbis';
  if (head.includes('\u007fFLAC')) return 'flac';
  return { unread: 'an Ogg file of a kind that is not read' };
};

/** The kind; null where this is no sound file that is known. `behind`: what comes after a tag, where `bytes` do not reach there. */
export const soundKind = (
  bytes: Uint8Array,
  behind: Uint8Array = bytes.subarray(tagged(bytes)),
): SoundKind | Unread | null => {
  const start = text(bytes, 0, 4);
  const kind = text(bytes, 8, 12);
  if (['RIFF', 'RF64', 'BW64', 'RIFX'].includes(start) && (kind === 'WAVE' || start !== 'RIFF')) return 'wav';
  if (start === 'fLaC') return 'flac';
  if (start === 'OggS') return inOgg(bytes);
  if (text(bytes, 4, 8) === 'ftyp') return 'm4a';
  if (start === 'FORM' && kind.startsWith('AIF')) return { unread: 'AIFF' };
  if (start === 'caff') return { unread: 'CAF' };
  if (bytes[0] === 0x1a && bytes[1] === 0x45 && bytes[2] === 0xdf && bytes[3] === 0xa3)
    return { unread: 'WebM' };
  const at = tagged(bytes);
  const [sync = 0, next = 0] = behind;
  // Eleven set bits, then two of version and two of layer (ISO/IEC 11172-3); layer 0 is ADTS (ISO/IEC 13818-7).
  if (sync === 0xff && (next & 0xe0) === 0xe0 && (next & 0x18) !== 0x08)
    return (next & 0x06) === 0 ? 'aac' : 'mp3';
  if (at > 0 && text(behind, 0, 4) === 'fLaC') return 'flac';
  return at > 0 ? 'mp3' : null;
};
