/** What writes a take, on a disk of the test's own: every sample, whatever the disk does; and what is made of the notes. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { performedOf, performedSchema, samplesIn } from '../../src/desk/index.ts';
import { headLine, leftLine, notesState, runLine, shelvedLine } from '../../src/desk/takes/notes.ts';
import type { RunBegun } from '../../src/desk/takes/performed.ts';
import { TapRun } from '../../src/host/browser/takes/tapRun.ts';
import { mended, TakeWriter, type Disk } from '../../src/host/browser/takes/writer.ts';
import { readWav } from '../../src/sound/wav/read.ts';

/** A disk with room for so many bytes; a full one takes what still goes in, as the standard lets it, or throws. */
const disk = (room = Infinity, throws = false) => {
  let bytes = new Uint8Array(0);
  const file: Disk = {
    write: (more, { at }) => {
      const length = Math.max(0, Math.min(more.length, room - at));
      if (throws && length < more.length) throw new DOMException('Full.', 'QuotaExceededError');
      const next = new Uint8Array(Math.max(bytes.length, at + length));
      next.set(bytes);
      next.set(more.subarray(0, length), at);
      bytes = next;
      return length;
    },
    truncate: (size) => {
      const next = new Uint8Array(size);
      next.set(bytes.subarray(0, size));
      bytes = next;
    },
    getSize: () => bytes.length,
    flush: () => undefined,
    close: () => undefined,
  };
  return { file, bytes: () => bytes };
};

const samplesOf = (bytes: Uint8Array): readonly number[] => {
  const read = readWav(bytes);
  if (!read.ok) throw new Error(read.error.message);
  return [...(read.value.channels[0] ?? [])];
};

const head = headLine({
  begun: '2026-11-28T12:40:03.000Z',
  rate: 48_000,
  piece: 'own.1',
  asked: {},
  click: 'room',
  unasked: [],
});

const blocks = fc.array(
  fc.float32Array({ noNaN: true, noDefaultInfinity: true, minLength: 1, maxLength: 300 }),
  { maxLength: 12 },
);

describe('a take on the disk', () => {
  test('is whole after its end, and after a crash at any byte once it is mended', () => {
    fc.assert(
      fc.property(blocks, fc.nat(2000), (list, lost) => {
        const all = list.flatMap((block) => [...block]);
        const [sound, notes] = [disk(), disk()];
        const writer = new TakeWriter(sound.file, notes.file, 48_000, head);
        for (const block of list) writer.write(new Float32Array(block));
        const cut = disk();
        cut.file.write(new Uint8Array(sound.bytes().slice(0, Math.max(60, sound.bytes().length - lost))), {
          at: 0,
        });
        expect(writer.end('played')).toBe(all.length);
        expect(samplesOf(sound.bytes())).toEqual(all);
        const left = mended(cut.file, 48_000);
        expect(left).toBe(samplesIn(cut.bytes().length));
        expect(samplesOf(cut.bytes())).toEqual(all.slice(0, left));
      }),
    );
  });

  it.each([false, true])('keeps what went in where the disk is full (throws: %s)', (throws) => {
    const [sound, notes] = [disk(58 + 4 * 100 + 2, throws), disk(500, throws)];
    const writer = new TakeWriter(sound.file, notes.file, 48_000, head);
    writer.write(new Float32Array(80).fill(0.5));
    expect(() => writer.write(new Float32Array(80).fill(0.25))).toThrow();
    const kept = writer.end('no-room');
    expect(kept).toBe(throws ? 80 : 100);
    expect(samplesOf(sound.bytes()).length).toBe(kept);
    expect(notesState(new TextDecoder().decode(notes.bytes()))).toEqual({ ended: true, shelved: false });
  });

  test('gathers blocks without losing a sample, silence where nothing comes, and ends at its longest', () => {
    const run = new TapRun(10_000);
    const written: number[] = [];
    const given: number[] = [];
    for (let i = 0; !run.full; i++) {
      const block = i % 7 === 3 ? null : Float32Array.from({ length: 128 }, (_, n) => (i * 128 + n) / 65_536);
      given.push(...(block ?? new Float32Array(128)));
      for (const part of run.take(block)) written.push(...part);
    }
    written.push(...(run.rest() ?? []));
    expect(run.count).toBe(10_000);
    expect(written).toEqual(given.slice(0, 10_000));
    expect(run.rest()).toBeNull();
  });
});

describe('what was performed', () => {
  const run = (at: number, from: number): RunBegun => ({
    drill: { format: 'levare.drill/2' },
    settings: {},
    sounding: { parts: false, reference: 440 },
    at,
    from,
    clicks: [0, 100, 200, 300].map((sample) => ({ sample, rep: 1, bar: '1', beat: '1', word: null })),
    bars: [0, 200].map((sample, barIndex) => ({ sample, rep: 1, barIndex, number: String(barIndex + 1) })),
  });
  it('is read from its notes: what was left is clipped, a new start is a run of its own, a torn last line is left', () => {
    const notes = [
      head,
      runLine(run(1000, 1000)),
      runLine(run(1000, 1200)),
      leftLine(1250),
      runLine(run(2000, 2000)),
    ];
    const read = performedOf(`${notes.join('\n')}\n{"left":20`, 2150);
    if (!read.ok) throw new Error(read.error.message);
    const { runs, samples, ended } = performedSchema.parse(read.value);
    expect([samples, ended]).toEqual([2150, 'cut-off']);
    expect(
      runs.map(({ from, to, clicks, bars }) => [from, to, clicks.map(({ sample }) => sample), bars.length]),
    ).toEqual([
      [1000, 1200, [1000, 1100], 1],
      [1200, 1250, [1200], 1],
      [2000, 2150, [2000, 2100], 1],
    ]);
    expect(notesState(`${notes.join('\n')}\n${shelvedLine}\n`)).toEqual({ ended: false, shelved: true });
    expect(performedOf('', 0)).toMatchObject({ ok: false, error: { code: 'take-damaged' } });
  });

  it('of version 1 can be read', () => {
    const file = path.resolve('test', 'desk', 'fixtures', 'levare.performed.1.json');
    const { runs } = performedSchema.parse(JSON.parse(readFileSync(file, 'utf8')));
    expect(runs.map(({ clicks }) => clicks.length)).toEqual([2]);
  });
});
