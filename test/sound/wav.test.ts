import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWav, type Wav } from '../../src/sound/wav/read.ts';
import { quantised, writeWav, type WavBlock, type WavOptions } from '../../src/sound/wav/write.ts';
import { seeded } from '../../src/units/index.ts';

const joined = (pieces: Iterable<Uint8Array>): Uint8Array =>
  Uint8Array.from([...pieces].flatMap((p) => [...p]));

const written = (blocks: Iterable<WavBlock>, options: WavOptions): Uint8Array => {
  const wav = writeWav(blocks, options);
  if (!wav.ok) throw new Error(wav.error.message);
  return joined(wav.value);
};

const read = (bytes: Uint8Array): { wav: Wav; codes: readonly string[] } => {
  const wav = readWav(bytes);
  if (!wav.ok) throw new Error(wav.error.message);
  return { wav: wav.value, codes: wav.problems.map(({ code }) => code) };
};

const bytesOf = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0));
const u16 = (value: number): number[] => [value & 0xff, (value >> 8) & 0xff];
const u32 = (value: number): number[] => [...u16(value & 0xffff), ...u16(Math.floor(value / 0x1_0000))];
const chunk = (name: string, body: readonly number[]): number[] => [
  ...bytesOf(name),
  ...u32(body.length),
  ...body,
  ...(body.length % 2 === 1 ? [0] : []),
];
const riff = (...chunks: readonly (readonly number[])[]): Uint8Array => {
  const body = [...bytesOf('WAVE'), ...chunks.flat()];
  return Uint8Array.from([...bytesOf('RIFF'), ...u32(body.length), ...body]);
};
const fmt = (tag: number, channels: number, rate: number, bits: number): number[] => {
  const align = channels * Math.ceil(bits / 8);
  return chunk('fmt ', [
    ...u16(tag),
    ...u16(channels),
    ...u32(rate),
    ...u32(rate * align),
    ...u16(align),
    ...u16(bits),
  ]);
};

describe('a WAV file as written', () => {
  it('is a header and samples to the letter of the RIFF definition (Microsoft and IBM 1991)', () => {
    const bytes = written([Float64Array.from([0, 0.5, -1, 1])], {
      sampleRate: 44_100,
      channels: 2,
      depth: 16,
      frames: 2,
    });
    const samples = [...u16(0), ...u16(0x4000), ...u16(0x8000), ...u16(0x7fff)];
    expect(bytes).toEqual(riff(fmt(1, 2, 44_100, 16), chunk('data', samples)));
  });

  it('has the extensible format for 24 bits, and a padding byte (Microsoft, WAVEFORMATEXTENSIBLE)', () => {
    const bytes = written([Float32Array.from([-0.5])], {
      sampleRate: 48_000,
      channels: 1,
      depth: 24,
      frames: 1,
    });
    const format = [
      ...u16(0xfffe),
      ...u16(1),
      ...u32(48_000),
      ...u32(144_000),
      ...u16(3),
      ...u16(24),
      ...u16(22),
      ...u16(24),
      ...u32(4),
      // KSDATAFORMAT_SUBTYPE_PCM, 00000001-0000-0010-8000-00aa00389b71.
      ...[0x01, 0, 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71],
    ];
    expect(bytes).toEqual(riff(chunk('fmt ', format), chunk('data', [0, 0, 0xc0])));
  });

  it('has a fact chunk in floating point, and leaves what passes full scale as it is', () => {
    const bytes = written([Float64Array.from([1.5, -0])], {
      sampleRate: 8_000,
      channels: 1,
      depth: 32,
      frames: 2,
    });
    expect(String.fromCharCode(...bytes.subarray(38, 42))).toBe('fact');
    const { wav } = read(bytes);
    expect(wav.float).toBe(true);
    expect(wav.channels).toEqual([Float32Array.from([1.5, -0])]);
  });

  it('rounds to the nearest step, halves upwards, zero to zero, and never wraps round', () => {
    const step = 1 / 32_768;
    expect([0, -0, 0.5, 0.49, -0.5, -0.51, 1.5].map((x) => quantised(x * step, 16) + 0)).toEqual([
      0, 0, 1, 0, 0, -1, 2,
    ]);
    expect([1, 7, -1, -7].map((x) => quantised(x, 16))).toEqual([32_767, 32_767, -32_768, -32_768]);
    expect([1, -1].map((x) => quantised(x, 24))).toEqual([8_388_607, -8_388_608]);
  });

  it('refuses what it cannot write', () => {
    const good = { sampleRate: 48_000, channels: 1, depth: 16, frames: 0 };
    const code = (change: Partial<WavOptions>) => {
      const wav = writeWav([], { ...good, ...change });
      return wav.ok ? 'ok' : wav.error.code;
    };
    expect(code({})).toBe('ok');
    expect([8, 0, 20, Number.NaN].map((depth) => code({ depth }))).toEqual(Array(4).fill('wav-depth'));
    expect([0, 65, 1.5].map((channels) => code({ channels }))).toEqual(Array(3).fill('wav-channels'));
    expect([0, -1, 1.5, 2 ** 32].map((sampleRate) => code({ sampleRate }))).toEqual(
      Array(4).fill('sample-rate'),
    );
    expect([-1, 0.5, Number.NaN].map((frames) => code({ frames }))).toEqual(Array(3).fill('wav-frames'));
    expect(code({ frames: 2 ** 31 - 41 })).toBe('ok');
    expect(code({ frames: 2 ** 31 })).toBe('wav-too-long');
    expect(code({ frames: Number.MAX_SAFE_INTEGER })).toBe('wav-too-long');
  });

  it('calls it a defect where the blocks do not hold what was announced', () => {
    const options = { sampleRate: 48_000, channels: 1, depth: 16, frames: 4 };
    expect(() => written([new Float64Array(3)], options)).toThrow(RangeError);
    expect(() => written([new Float64Array(5)], options)).toThrow(RangeError);
  });
});

describe('a WAV file read back', () => {
  const depths = fc.constantFrom(16, 24, 32);

  it('holds the samples that were written, cut into blocks anyhow', () => {
    const cases = fc.record({
      depth: depths,
      channels: fc.integer({ min: 1, max: 6 }),
      frames: fc.integer({ min: 0, max: 60 }),
      cut: fc.integer({ min: 1, max: 50 }),
      seed: fc.integer(),
      sampleRate: fc.integer({ min: 1, max: 192_000 }),
    });
    fc.assert(
      fc.property(cases, ({ depth, channels, frames, cut, seed, sampleRate }) => {
        const random = seeded(seed);
        const full = depth === 16 ? 2 ** 15 : 2 ** 23;
        // Values that the depth can hold exactly; 24 bits fit a single too.
        const values = Float64Array.from({ length: frames * channels }, () => {
          return (Math.floor(random() * 2 * full) - full) / full;
        });
        const blocks: Float64Array[] = [];
        for (let i = 0; i < values.length; i += cut) blocks.push(values.slice(i, i + cut));
        const bytes = written(blocks, { sampleRate, channels, depth, frames });
        expect(bytes.length % 2).toBe(0);
        const { wav, codes } = read(bytes);
        expect(codes).toEqual([]);
        expect(wav).toMatchObject({ sampleRate, depth, float: depth === 32, frames });
        expect(wav.channels.length).toBe(channels);
        wav.channels.forEach((samples, channel) =>
          expect([...samples]).toEqual(
            Array.from({ length: frames }, (_, i) => values[i * channels + channel]),
          ),
        );
      }),
    );
  });

  it('is within half a step of any value written', () => {
    const values = fc.array(fc.double({ min: -0.99, max: 0.99, noNaN: true }), { maxLength: 30 });
    fc.assert(
      fc.property(values, fc.constantFrom(16, 24), (list, depth) => {
        const options = { sampleRate: 48_000, channels: 1, depth, frames: list.length };
        const { wav } = read(written([Float64Array.from(list)], options));
        list.forEach((value, i) =>
          expect(Math.abs((wav.channels[0]?.[i] ?? 9) - value)).toBeLessThanOrEqual(2 ** -depth),
        );
      }),
    );
  });

  it('reads eight bits without a sign, and 32 bits as their leading 24', () => {
    const eight = read(riff(fmt(1, 1, 8_000, 8), chunk('data', [0, 128, 255])));
    expect([...(eight.wav.channels[0] ?? [])]).toEqual([-1, 0, 127 / 128]);
    const long = read(riff(fmt(1, 1, 8_000, 32), chunk('data', [...u32(0x4000_0000), ...u32(0x8000_0000)])));
    expect([...(long.wav.channels[0] ?? [])]).toEqual([0.5, -1]);
    expect(long.codes).toEqual(['wav-rounded']);
  });

  it('reads 20 bits kept in three bytes', () => {
    const { wav } = read(riff(fmt(1, 1, 48_000, 20), chunk('data', [0, 0, 0x40])));
    expect(wav).toMatchObject({ depth: 24, channels: [Float32Array.from([0.5])] });
  });

  it('skips sections that it does not know, of odd length, padded or not, and in any order', () => {
    const sound = chunk('data', [...u16(1), ...u16(2)]);
    const extra = chunk('LIST', bytesOf('abc'));
    const unpadded = extra.slice(0, -1);
    const files = [
      riff(extra, fmt(1, 1, 8_000, 16), extra, sound, extra),
      riff(unpadded, fmt(1, 1, 8_000, 16), unpadded, sound, unpadded),
      riff(sound, extra, fmt(1, 1, 8_000, 16)),
    ];
    for (const file of files) {
      const { wav, codes } = read(file);
      expect([...(wav.channels[0] ?? [])]).toEqual([1 / 32_768, 2 / 32_768]);
      expect(codes).toEqual([]);
    }
  });
});

describe('a damaged WAV file', () => {
  const format = fmt(1, 2, 8_000, 16);
  const sound = chunk('data', [1, 0, 2, 0, 3, 0, 4, 0]);
  const whole = riff(format, sound);

  it('is used as far as it goes, and says so', () => {
    const cut = read(whole.slice(0, -3));
    expect(cut.codes).toEqual(['file-truncated', 'wav-odd-bytes']);
    expect(cut.wav.frames).toBe(1);
    for (const unset of [0, 0xffff_ffff]) {
      const bytes = whole.slice();
      bytes.set(u32(unset), 40);
      bytes.set(u32(unset), 4);
      expect(read(bytes)).toMatchObject({ codes: ['wav-size-unset'], wav: { frames: 2 } });
    }
    const rest = Uint8Array.from([...whole, 1, 2, 3]);
    expect(read(rest)).toMatchObject({ codes: ['wav-rest'], wav: { frames: 2 } });
    const twice = read(riff(format, sound, sound));
    expect(twice).toMatchObject({ codes: ['wav-several'], wav: { frames: 2 } });
  });

  it('that is truly without sound is not taken for one that was cut off', () => {
    expect(read(riff(format, chunk('data', []), chunk('LIST', [1, 2])))).toMatchObject({
      codes: [],
      wav: { frames: 0 },
    });
  });

  it('mends a wrong frame size and samples that are no numbers', () => {
    const wrong = whole.slice();
    wrong.set(u16(3), 32);
    expect(read(wrong)).toMatchObject({ codes: ['wav-align'], wav: { frames: 2 } });
    const nan = read(riff(fmt(3, 1, 8_000, 32), chunk('data', [...u32(0x7fc0_0000), ...u32(0x3f80_0000)])));
    expect(nan.codes).toEqual(['wav-no-number']);
    expect([...(nan.wav.channels[0] ?? [])]).toEqual([0, 1]);
  });

  it.each([
    ['file-empty', Uint8Array.from([])],
    ['not-wav', Uint8Array.from(bytesOf('RIFF'))],
    ['not-wav', Uint8Array.from(bytesOf('MThd and so on, some bytes'))],
    ['wav-damaged', riff()],
    ['wav-damaged', riff(format)],
    ['wav-damaged', riff(sound)],
    ['wav-damaged', riff(chunk('fmt ', [1, 0]), sound)],
    ['wav-damaged', riff(fmt(1, 0, 8_000, 16), sound)],
    ['wav-damaged', riff(fmt(1, 1, 0, 16), sound)],
    ['wav-damaged', riff(fmt(0xfffe, 1, 8_000, 16), sound)],
    ['wav-format', riff(fmt(85, 1, 8_000, 16), sound)],
    ['wav-format', Uint8Array.from([...bytesOf('RF64'), ...whole.slice(4)])],
    ['wav-format', Uint8Array.from([...bytesOf('RIFX'), ...whole.slice(4)])],
    ['wav-depth', riff(fmt(1, 1, 8_000, 0), sound)],
    ['wav-depth', riff(fmt(1, 1, 8_000, 64), sound)],
    ['wav-depth', riff(fmt(3, 1, 8_000, 64), sound)],
  ])('is refused as "%s"', (code, bytes) => {
    expect(readWav(bytes)).toMatchObject({ ok: false, error: { code } });
  });

  it('never makes the reader throw or give samples that are no numbers, whatever was changed', () => {
    const start = written([Float64Array.from({ length: 30 }, (_, i) => Math.sin(i))], {
      sampleRate: 48_000,
      channels: 3,
      depth: 32,
      frames: 10,
    });
    const change = fc.tuple(fc.nat(start.length - 1), fc.nat(255));
    fc.assert(
      fc.property(fc.array(change, { maxLength: 8 }), fc.nat(start.length), (changes, length) => {
        const bytes = start.slice(0, length);
        for (const [at, value] of changes) if (at < length) bytes[at] = value;
        const wav = readWav(bytes);
        if (wav.ok) {
          expect(wav.value.channels.every((samples) => samples.every(Number.isFinite))).toBe(true);
        } else expect(wav.error.message).not.toBe('');
      }),
      { numRuns: 2_000 },
    );
  });
});
