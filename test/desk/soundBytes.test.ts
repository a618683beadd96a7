/** A recording is read piece by piece: what is asked for at once does not grow with its length. */
import { describe, expect, it } from 'vitest';
import { heldBytes, type SoundBytes } from '../../src/desk/soundBytes.ts';
import { readSound } from '../../src/desk/hearSound.ts';
import type { Mono } from '../../src/listen/mono.ts';
import { fail, ok } from '../../src/units/index.ts';
import { soundWav } from '../listen/sounds.ts';

const port = { decode: () => Promise.resolve(fail('sound-kind', 'Not here.')) };

const rate = 48_000;
const noise = (seconds: number): Float32Array => {
  let state = 7;
  return Float32Array.from({ length: seconds * rate }, () => {
    state = (state * 48_271) % 2_147_483_647;
    return 0.5 * (state / 2_147_483_647 - 0.5);
  });
};

/** The bytes, all in one room that is written over each time, and what was asked for. */
const watched = (bytes: Uint8Array) => {
  const asked: number[] = [];
  let room = new Uint8Array(0);
  const source: SoundBytes = {
    size: bytes.length,
    piece: (from, to) => {
      const part = bytes.subarray(from, to);
      asked.push(part.length);
      if (room.length < part.length) room = new Uint8Array(part.length);
      room.fill(255);
      room.set(part);
      return Promise.resolve(ok(room.subarray(0, part.length)));
    },
  };
  return { source, asked };
};

const read = async (source: SoundBytes): Promise<Mono> => {
  const result = await readSound(source, 'a take', port);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

describe('a recording', () => {
  it('is read in pieces no larger for a long one, each byte once, to the same samples', async () => {
    const largest: number[] = [];
    for (const seconds of [3, 7]) {
      const bytes = soundWav([noise(seconds)], rate, 16);
      const { source, asked } = watched(bytes);
      const inPieces = await read(source);
      const whole = await read(heldBytes(bytes));
      expect(inPieces.signal).toHaveLength(whole.signal.length);
      expect(inPieces.signal.every((sample, n) => sample === whole.signal[n])).toBe(true);
      // Whole sections once; besides them only their names and what tells the format.
      expect(asked.reduce((sum, one) => sum + one, 0)).toBeLessThan(bytes.length + 8192);
      largest.push(Math.max(...asked));
    }
    expect(largest[1]).toBe(largest[0]);
    expect(largest[0]).toBeLessThan(1 << 18);
  });

  it('that cannot be read any further is refused', async () => {
    const bytes = soundWav([noise(7)], rate, 16);
    const broken: SoundBytes = {
      size: bytes.length,
      piece: (from, to) =>
        Promise.resolve(to > 500_000 ? fail('file-unreadable', 'gone') : ok(bytes.subarray(from, to))),
    };
    const result = await readSound(broken, 'a take', port);
    expect(result.ok ? 'read' : result.error.code).toBe('file-unreadable');
  });

  it('behind a tag longer than what is looked at first is known by what comes after it', async () => {
    // ID3v2, section 3.1: the size in four bytes of seven bits, without the ten of its head. Then an MPEG frame's sync.
    const bytes = new Uint8Array(10 + 20_000 + 64);
    bytes.set([0x49, 0x44, 0x33, 4, 0, 0, 0, 1, 28, 32]);
    bytes.set([0xff, 0xf1], 10 + 20_000);
    const kinds: string[] = [];
    await readSound(heldBytes(bytes), 'a take', {
      decode: (_, kind) => {
        kinds.push(kind);
        return Promise.resolve(fail('sound-damaged', 'No sound.'));
      },
    });
    expect(kinds).toEqual(['aac']);
  });
});
