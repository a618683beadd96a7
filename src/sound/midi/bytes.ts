/** Standard MIDI File bytes: chunks, events, variable-length quantities (Standard MIDI Files 1.0, MIDI Association). */

/** An event of a track. Events on one tick stand in `rank` order, so that a note ends before it is struck again. */
export interface TrackEvent {
  readonly tick: number;
  readonly rank: number;
  readonly bytes: readonly number[];
}

/** Ranks on one tick: what is said before it sounds, what ends, what begins. */
export const rank = { name: 0, metre: 1, tempo: 2, text: 3, program: 4, off: 5, on: 6 } as const;

/** Largest variable-length quantity: four bytes of seven bits. */
const longestDelta = 0x0f_ff_ff_ff;

/** Seven bits a byte, high bits first, the top bit set on all bytes but the last. 0 to 0x0FFFFFFF. */
export const variableLength = (value: number): number[] => {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

/** A meta event: FF, type, length, data. */
export const meta = (type: number, data: ArrayLike<number>): number[] => [
  0xff,
  type,
  ...variableLength(data.length),
  ...Array.from(data),
];

/** Longest text kept in one event; longer ones are no names. */
const longestText = 4096;
const encoder = new TextEncoder();

/** A text event in UTF-8. The standard recommends ASCII and names no encoding; UTF-8 keeps names as they are. */
export const textEvent = (type: number, text: string): number[] =>
  meta(type, encoder.encode(text.slice(0, longestText)));

const chunk = (name: string, data: readonly number[]): Uint8Array => {
  const bytes = new Uint8Array(8 + data.length);
  for (let k = 0; k < 4; k += 1) bytes[k] = name.charCodeAt(k);
  new DataView(bytes.buffer).setUint32(4, data.length);
  bytes.set(data, 8);
  return bytes;
};

const trackChunk = (events: readonly TrackEvent[], end: number): Uint8Array => {
  const data: number[] = [];
  let now = 0;
  const wait = (tick: number) => {
    // An empty text carries a silence that is longer than one delta time can say.
    for (; tick - now > longestDelta; now += longestDelta)
      data.push(...variableLength(longestDelta), ...meta(0x01, []));
    data.push(...variableLength(tick - now));
    now = tick;
  };
  for (const event of [...events].sort((a, b) => a.tick - b.tick || a.rank - b.rank)) {
    wait(event.tick);
    for (const byte of event.bytes) data.push(byte);
  }
  wait(Math.max(end, now));
  data.push(...meta(0x2f, []));
  return chunk('MTrk', data);
};

/** A file of format 1. Every track ends at `end` or with its last event. `ticksPerQuarter`: 1 to 32767. */
export const midiFile = (
  ticksPerQuarter: number,
  tracks: readonly (readonly TrackEvent[])[],
  end: number,
): Uint8Array => {
  const header = [
    0,
    1,
    tracks.length >> 8,
    tracks.length & 0xff,
    ticksPerQuarter >> 8,
    ticksPerQuarter & 0xff,
  ];
  const chunks = [chunk('MThd', header), ...tracks.map((events) => trackChunk(events, end))];
  const bytes = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of chunks) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
};
