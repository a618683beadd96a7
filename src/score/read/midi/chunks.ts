/**
 * The file checked before anything is decoded: chunks, lengths, running status and event lengths (Standard MIDI Files
 * 1.0, MIDI Association). What comes out is a file that the decoding library takes without surprise: events that break
 * the rules are cut off here, and what says nothing about the score (system exclusive, sequencer's own) is left out
 * with its time kept.
 */
import { Refusal } from '../../../units/index.ts';

/** Bounds against hostile files, far beyond any piece. */
const limits = { bytes: 16 * 2 ** 20, tracks: 1024, events: 1_000_000, text: 4096 } as const;

export interface CheckedFile {
  readonly format: 0 | 1;
  readonly ticksPerQuarter: number;
  /** One clean file with this one track for each track. */
  readonly tracks: readonly Uint8Array[];
  /** What was cut or left out, by kind. */
  readonly tracksCut: number;
  readonly tracksMissing: number;
  readonly tracksExtra: number;
  readonly exclusive: number;
  readonly badEvents: number;
  readonly badMetres: number;
  readonly longTexts: number;
}

const uint = (bytes: Uint8Array, at: number, size: number): number => {
  let value = 0;
  for (let k = 0; k < size; k += 1) value = value * 256 + (bytes[at + k] ?? 0);
  return value;
};

const nameAt = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

/** Lengths that the standard gives to meta events; the library throws at others. */
const metaLengths: Readonly<Record<number, readonly number[]>> = {
  0x00: [2],
  0x20: [1],
  0x21: [1],
  0x2f: [0],
  0x51: [3],
  0x54: [5],
  0x58: [2, 4],
  0x59: [2],
};

/** Meta events that say nothing about the score: sequence number, ports, SMPTE offset, and all unknown ones. */
const isKept = (type: number): boolean =>
  (type >= 0x01 && type <= 0x07) || type === 0x20 || type === 0x51 || type === 0x58 || type === 0x59;

interface Counts {
  events: number;
  cut: number;
  exclusive: number;
  badEvents: number;
  badMetres: number;
  longTexts: number;
}

/** Reads events of one track and gathers clean ones. */
class TrackCheck {
  readonly #bytes: Uint8Array;
  readonly #counts: Counts;
  readonly #clean: number[] = [];
  #at: number;
  readonly #end: number;
  #status = 0;
  /** Ticks of events that were left out, added to the next delta. */
  #waiting = 0;

  constructor(bytes: Uint8Array, start: number, end: number, counts: Counts) {
    this.#bytes = bytes;
    this.#at = start;
    this.#end = end;
    this.#counts = counts;
  }

  run(): Uint8Array {
    let ended = false;
    while (!ended && this.#at < this.#end) {
      const next = this.#event();
      if (next === 'cut') {
        this.#counts.cut += 1;
        break;
      }
      ended = next === 'end';
    }
    this.#put([0xff, 0x2f, 0x00]);
    const body = this.#clean;
    const size = body.length;
    return Uint8Array.from(
      [
        ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96],
        ...[0x4d, 0x54, 0x72, 0x6b, size >>> 24, (size >>> 16) & 255, (size >>> 8) & 255, size & 255],
      ].concat(body),
    );
  }

  /** At most four bytes of seven bits; null where the track or the rule ends first. */
  #variable(): number | null {
    let value = 0;
    for (let k = 0; k < 4; k += 1) {
      if (this.#at >= this.#end) return null;
      const byte = this.#bytes[this.#at] ?? 0;
      this.#at += 1;
      value = value * 128 + (byte & 0x7f);
      if (byte < 0x80) return value;
    }
    return null;
  }

  #event(): 'on' | 'end' | 'cut' {
    const delta = this.#variable();
    if (delta === null || this.#at >= this.#end) return 'cut';
    this.#counts.events += 1;
    if (this.#counts.events > limits.events)
      throw new Refusal(
        'file-too-large',
        `The file has more than ${limits.events} events; no piece needs as many, so it is not read.`,
      );
    this.#waiting += delta;
    const first = this.#bytes[this.#at] ?? 0;
    if (first === 0xff) return this.#meta();
    if (first === 0xf0 || first === 0xf7) return this.#exclusive();
    if (first > 0xf0) return 'cut';
    return this.#channel(first);
  }

  #channel(first: number): 'on' | 'cut' {
    if (first >= 0x80) {
      this.#status = first;
      this.#at += 1;
    }
    const status = this.#status;
    if (status === 0) return 'cut';
    const size = (status & 0xe0) === 0xc0 ? 1 : 2;
    if (this.#at + size > this.#end) return 'cut';
    const data = this.#bytes.subarray(this.#at, this.#at + size);
    if (data.some((byte) => byte >= 0x80)) {
      // A status byte where data should stand: the track is broken from here on.
      return 'cut';
    }
    this.#at += size;
    this.#put([status, ...data]);
    return 'on';
  }

  #exclusive(): 'on' | 'cut' {
    this.#at += 1;
    // The standard: system exclusive and meta events cancel running status.
    this.#status = 0;
    const length = this.#variable();
    if (length === null || this.#at + length > this.#end) return 'cut';
    this.#at += length;
    this.#counts.exclusive += 1;
    return 'on';
  }

  #meta(): 'on' | 'end' | 'cut' {
    const type = this.#bytes[this.#at + 1];
    this.#at += 2;
    // Many writers go on with running status after a meta event, against the standard; it is let stand.
    if (type === undefined || this.#at > this.#end) return 'cut';
    const length = this.#variable();
    if (length === null || this.#at + length > this.#end) return 'cut';
    const data = this.#bytes.subarray(this.#at, this.#at + length);
    this.#at += length;
    if (type === 0x2f) return 'end';
    const lengths = metaLengths[type];
    if (lengths !== undefined && !lengths.includes(length)) this.#counts.badEvents += 1;
    // No beats, or beats shorter than a 1024th: no metre. The library would take the exponent modulo 32.
    else if (type === 0x58 && (data[0] === 0 || (data[1] ?? 0) > 10)) this.#counts.badMetres += 1;
    else if (isKept(type)) {
      if (length > limits.text) this.#counts.longTexts += 1;
      const kept = data.subarray(0, limits.text);
      this.#put([0xff, type, ...variable(kept.length), ...kept]);
    }
    return 'on';
  }

  #put(event: readonly number[]): void {
    // Waiting ticks may exceed what one delta time says; an empty text carries the rest.
    for (; this.#waiting > 0x0f_ff_ff_ff; this.#waiting -= 0x0f_ff_ff_ff)
      this.#clean.push(0xff, 0xff, 0xff, 0x7f, 0xff, 0x01, 0x00);
    for (const byte of variable(this.#waiting)) this.#clean.push(byte);
    for (const byte of event) this.#clean.push(byte);
    this.#waiting = 0;
  }
}

const variable = (value: number): number[] => {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

/** Checks a file. Throws Refusal, for `refusable`, where nothing can be made of it. */
export const checkFile = (bytes: Uint8Array): CheckedFile => {
  if (bytes.length === 0) throw new Refusal('file-empty', 'The file is empty.');
  if (bytes.length > limits.bytes)
    throw new Refusal(
      'file-too-large',
      `The file has ${bytes.length} bytes; at most ${limits.bytes} are read.`,
    );
  if (nameAt(bytes, 0) !== 'MThd')
    throw new Refusal('midi-no-header', 'This is not a MIDI file: it does not begin with the letters MThd.');
  const headerLength = uint(bytes, 4, 4);
  if (bytes.length < 14 || headerLength < 6)
    throw new Refusal('file-truncated', 'The MIDI file breaks off in its header. Was it copied in full?');
  const format = uint(bytes, 8, 2);
  const declared = uint(bytes, 10, 2);
  const division = uint(bytes, 12, 2);
  if (format === 2)
    throw new Refusal(
      'midi-format-2',
      'This is a MIDI file of format 2, a collection of patterns that do not make one piece. Formats 0 and 1 are read.',
    );
  if (format > 2) throw new Refusal('midi-format-unknown', `MIDI files of format ${format} are not known.`);
  if (division >= 0x8000)
    throw new Refusal(
      'midi-smpte',
      'This MIDI file counts film frames and not beats, so it says nothing of bars. Export it with ticks per quarter.',
    );
  if (division === 0)
    throw new Refusal(
      'midi-division-zero',
      'The MIDI file says that a quarter has 0 ticks, so nothing in it has a place.',
    );
  const counts: Counts = { events: 0, cut: 0, exclusive: 0, badEvents: 0, badMetres: 0, longTexts: 0 };
  const tracks: Uint8Array[] = [];
  let at = 8 + headerLength;
  while (at + 8 <= bytes.length) {
    const length = uint(bytes, at + 4, 4);
    const start = at + 8;
    const end = Math.min(start + length, bytes.length);
    if (nameAt(bytes, at) === 'MTrk') {
      if (tracks.length >= limits.tracks)
        throw new Refusal(
          'file-too-large',
          `The file has more than ${limits.tracks} tracks, so it is not read.`,
        );
      const cutBefore = counts.cut;
      tracks.push(new TrackCheck(bytes, start, end, counts).run());
      if (start + length > bytes.length && counts.cut === cutBefore) counts.cut += 1;
    }
    // Other chunks are to be passed over (Standard MIDI Files 1.0: "expect alien chunks").
    at = start + length;
  }
  if (tracks.length === 0)
    throw new Refusal('midi-no-tracks', 'The MIDI file holds no track. Was it copied in full?');
  return {
    format: format === 0 && tracks.length === 1 ? 0 : 1,
    ticksPerQuarter: division,
    tracks,
    tracksCut: counts.cut,
    tracksMissing: Math.max(0, declared - tracks.length),
    tracksExtra: Math.max(0, tracks.length - declared),
    exclusive: counts.exclusive,
    badEvents: counts.badEvents,
    badMetres: counts.badMetres,
    longTexts: counts.longTexts,
  };
};
