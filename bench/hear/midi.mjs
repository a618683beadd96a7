/** A Standard MIDI File (MIDI 1.0, format 0) of single notes: how notes are asked of a sound font. */

const variable = (value) => {
  const bytes = [value & 0x7f];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

/** `notes` are {midi, velocity, on, off} in whole milliseconds, by time, none overlapping. */
export const midiBytes = (program, notes) => {
  // 500 ticks a quarter at 120 a minute: one tick is one millisecond.
  const track = [0, 0xff, 0x51, 3, 0x07, 0xa1, 0x20, 0, 0xc0, program];
  let now = 0;
  for (const note of notes) {
    track.push(...variable(note.on - now), 0x90, note.midi, note.velocity);
    track.push(...variable(note.off - note.on), 0x80, note.midi, 0);
    now = note.off;
  }
  track.push(...variable(1000), 0xff, 0x2f, 0);
  const head = Buffer.from('MThd\0\0\0\x06\0\0\0\x01\x01\xf4MTrk', 'latin1');
  const size = Buffer.alloc(4);
  size.writeUInt32BE(track.length);
  return Buffer.concat([head, size, Buffer.from(track)]);
};
