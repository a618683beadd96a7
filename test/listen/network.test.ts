/** The arithmetic of the networks, against results worked by hand, and what is measured instead. */
import { describe, expect, it } from 'vitest';
import { measuredOf } from '../../src/listen/measured.ts';
import { forward, unpacked, type Network } from '../../src/listen/network.ts';

describe('packed numbers', () => {
  it('are 16-bit integers, lower byte first, in base64 (RFC 4648)', () => {
    // Bytes 01 00 FF FF 00 80 FF 7F: 1, -1, -32768, 32767.
    const packed = Buffer.from([1, 0, 0xff, 0xff, 0, 0x80, 0xff, 0x7f]).toString('base64');
    expect([...unpacked({ scale: 0.5, text: packed })]).toEqual([0.5, -0.5, -16384, 16383.5]);
  });
});

describe('networks', () => {
  const one = (bias: number): Network => ({
    middles: Float64Array.of(1, 0),
    spreads: Float64Array.of(2, 1),
    layers: [
      { weights: Float64Array.of(1, 1, -1, 0), biases: Float64Array.of(0, 0.5) },
      { weights: Float64Array.of(2, 3), biases: Float64Array.of(bias) },
    ],
  });

  it('are linear layers with max(0, x) between them', () => {
    // (3 - 1) / 2 = 1 and 1: hidden 2 and max(0, -0.5) = 0; 2 x 2 + 3 x 0 + 0.25.
    expect([...forward([one(0.25)], Float32Array.of(3, 1))]).toEqual([4.25]);
  });

  it('give the mean of several; inputs count four spreads at most', () => {
    expect([...forward([one(0), one(1)], Float32Array.of(3, 1))]).toEqual([4.5]);
    expect([...forward([one(0)], Float32Array.of(1000, 1000))]).toEqual([16]);
  });
});

describe('a beginning that can be read off', () => {
  it('is, where what was before lies clearly below and the network is near', () => {
    const found = measuredOf({ at: 1.005, margin: 12 }, 1, false);
    expect(found).toMatchObject({ at: 1.005, margin: 12 });
    expect(found?.away).toBeCloseTo(0.005, 9);
  });

  it('is not where the note before rings, or where another sound is likelier', () => {
    expect(measuredOf({ at: 1.005, margin: 3 }, 1, false)).toBeNull();
    expect(measuredOf({ at: 1.005, margin: 12 }, 1, true)).toBeNull();
    expect(measuredOf({ at: 1.03, margin: 30 }, 1, false)).toBeNull();
    expect(measuredOf(null, 1, false)).toBeNull();
  });
});
