/** Mutations of real MIDI files: whatever the bytes, the reader answers with a sound score or a sentence. */
import { expect } from 'vitest';
import { readMidi } from '../../src/score/read/midi.ts';
import { F, seeded } from '../../src/units/index.ts';
import { madeByMido, notes } from './midi-files.ts';

const scale = Array.from(
  { length: 40 },
  (_, k) => [48 + (k % 24), k * 120, k * 120 + 110 + (k % 3) * 60] as const,
);

const files = (): readonly Uint8Array[] => [
  madeByMido({
    type: 0,
    ticks_per_beat: 480,
    tracks: [
      [
        [0, 'track_name', { name: 'één' }],
        [0, 'time_signature', { numerator: 3, denominator: 4 }],
        ...notes(scale),
      ],
    ],
  }),
  madeByMido({
    type: 1,
    ticks_per_beat: 96,
    tracks: [
      [
        [0, 'time_signature', { numerator: 1, denominator: 4 }],
        [96, 'time_signature', { numerator: 4, denominator: 4 }],
        [96, 'key_signature', { key: 'A' }],
        [100, 'set_tempo', { tempo: 652174 }],
        [300, 'marker', { text: 'B' }],
        [900, 'time_signature', { numerator: 7, denominator: 8 }],
        [901, 'sysex', {}],
      ],
      [[0, 'lyrics', { text: 'la' }], ...notes(scale)],
      notes(scale, 9),
      [[0, 'program_change', { program: 40, channel: 3 }], ...notes(scale, 3)],
    ],
  }),
  madeByMido({ type: 1, ticks_per_beat: 24, tracks: [notes(scale), [[5000, 'text', { text: 'x' }]]] }),
];

const tellingBytes = [
  0x00, 0x7f, 0x80, 0xff, 0xf0, 0xf7, 0x2f, 0x51, 0x58, 0x59, 0x90, 0x80, 0xc0, 0x81, 0x01,
];

export const fuzzMidi = (
  seed: number,
  count: number,
): { readonly read: number; readonly refused: number } => {
  console.log(`Fuzzing the MIDI reader with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const below = (n: number) => Math.floor(random() * n);
  const bases = files();
  let read = 0;
  let refused = 0;
  for (let round = 0; round < count; round += 1) {
    let bytes = Array.from(bases[below(bases.length)] ?? []);
    for (let edits = 1 + below(6); edits > 0; edits -= 1) {
      const at = below(bytes.length);
      const kind = below(6);
      if (kind < 3) bytes[at] = random() < 0.5 ? below(256) : (tellingBytes[below(tellingBytes.length)] ?? 0);
      else if (kind === 3) bytes.splice(at, 1 + below(8));
      else if (kind === 4) bytes.splice(at, 0, ...bytes.slice(below(bytes.length)).slice(0, below(40)));
      else if (random() < 0.2) bytes = bytes.slice(0, at);
    }
    const result = readMidi(Uint8Array.from(bytes));
    const shown = () => `seed ${String(seed)}, round ${String(round)}`;
    if (!result.ok) {
      refused += 1;
      expect(result.error.message.length, shown()).toBeGreaterThan(10);
      continue;
    }
    read += 1;
    const { bars, parts, marks } = result.value;
    const ends = bars.map(({ start, length }) => F.add(start, length));
    expect(bars.length, shown()).toBeGreaterThan(0);
    expect(
      bars.every(({ start }, k) => k === 0 || F.equal(start, ends[k - 1] ?? F.zero)),
      shown(),
    ).toBe(true);
    for (const part of parts) {
      const inside = part.written
        .slice(0, 400)
        .every(
          ({ bar, onset, duration }) =>
            F.isPositive(duration) &&
            F.atMost(bars[bar]?.start ?? F.one, onset) &&
            F.atMost(F.add(onset, duration), ends[bar] ?? F.zero),
        );
      expect(inside, shown()).toBe(true);
      expect(
        part.notes.every(({ duration }) => F.isPositive(duration)),
        shown(),
      ).toBe(true);
    }
    expect(
      marks.every(({ bar }) => bar < bars.length),
      shown(),
    ).toBe(true);
  }
  return { read, refused };
};
