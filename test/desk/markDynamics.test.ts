/** Players' own dynamics: they sound, and those that name a time through sound in that time alone. */
import { describe, expect, it } from 'vitest';
import {
  asInScore,
  holdPiece,
  liveDrill,
  makeDrill,
  type DrillRequest,
  type MarkingText,
} from '../../src/desk/index.ts';
import type { WorkedDrill } from '../../src/drill/workOut.ts';
import { partsBlocks } from '../../src/sound/liveParts.ts';
import { samplesAt } from '../../src/units/index.ts';

// By hand: two voices without dynamics, and a repeat of two bars.
const abc = (text: string): Uint8Array => new TextEncoder().encode(`X:1\nT:Round\nM:4/4\nL:1/4\n${text}\n`);
const duet = abc('K:C\nV:1\nC D E F | G A B c |\nV:2\nE F G A | B c d e |');
const repeat = abc('K:C\n|: C D E F | G A B c :|');
const rate = 16_000;

const dynamics = (bar: number, text: string, time: number | null, part = ''): MarkingText => ({
  kind: 'dynamics',
  part,
  bar,
  beat: '1',
  text,
  time,
  note: '',
});

/** Samples of parts.wav at 32 bit floating point. */
const partsOf = (bytes: Uint8Array, request: DrillRequest, markings: readonly MarkingText[]) => {
  const settings = { ...asInScore, markings };
  const made = makeDrill(bytes, { countIn: 'none', ...request }, { rate, depth: 32, settings });
  if (!made.ok) throw new Error(made.error.message);
  const file = made.value.files.find(({ name }) => name === 'parts.wav');
  const all = Uint8Array.from([...(file?.chunks ?? [])].flatMap((chunk) => [...chunk]));
  const data = all.findIndex((_, i) => String.fromCharCode(...all.subarray(i, i + 4)) === 'data');
  const view = new DataView(all.buffer, data + 8);
  const samples = Float32Array.from({ length: Math.floor(view.byteLength / 4) }, (_, i) =>
    view.getFloat32(4 * i, true),
  );
  return { samples, worked: made.value.worked, files: made.value.files };
};

/** Mean power in dB of the music of each stretch of bars, told apart by `by`. */
const levels = (samples: Float32Array, { timeline }: WorkedDrill, by: 'rep' | 'pass'): readonly number[] => {
  const spans = new Map<number, { from: number; to: number }>();
  for (const note of timeline.notes) {
    const from = samplesAt(note.time, rate);
    const known = spans.get(note[by]) ?? { from, to: from };
    const to = Math.max(
      known.to,
      from + Math.round((Number(note.duration.n) * rate) / Number(note.duration.d)),
    );
    spans.set(note[by], { from: Math.min(known.from, from), to });
  }
  return [...spans.entries()]
    .sort(([a], [b]) => a - b)
    .map(([, { from, to }]) => {
      const row = samples.subarray(from, to);
      return 10 * Math.log10(row.reduce((sum, x) => sum + x * x, 0) / row.length);
    });
};

const difference = ([first = NaN, second = NaN]: readonly number[]): number => second - first;

describe('players’ own dynamics', () => {
  const twice = { bars: 'all', times: 2, upbeat: 'none' } as const;

  it('first time p, second time f: parts.wav is louder in the second repetition by what p and f are apart', () => {
    const plain = partsOf(duet, twice, []);
    expect(difference(levels(plain.samples, plain.worked, 'rep'))).toBeCloseTo(0, 1);
    const both = partsOf(duet, twice, [dynamics(0, 'p', 1), dynamics(0, 'f', 2)]);
    // 6.5 dB by our own table (src/sound/parts/shapes.ts); a little more, as loud tones are brighter.
    const louder = difference(levels(both.samples, both.worked, 'rep'));
    expect(louder).toBeGreaterThan(5.5);
    expect(louder).toBeLessThan(9);
  });

  it('in one part alone, the other stays as it is', () => {
    const both = partsOf(duet, { ...twice, parts: ['P1'] }, [dynamics(0, 'pp', 2, 'P1')]);
    expect(difference(levels(both.samples, both.worked, 'rep'))).toBeLessThan(-4);
    const other = partsOf(duet, { ...twice, parts: ['P2'] }, [dynamics(0, 'pp', 2, 'P1')]);
    expect(difference(levels(other.samples, other.worked, 'rep'))).toBeCloseTo(0, 1);
  });

  it('a third time that nothing is said of is as the score says; at a new tempo the times count anew', () => {
    const thrice = partsOf(duet, { ...twice, times: 3 }, [dynamics(0, 'ff', 2)]);
    const [first = NaN, second = NaN, third = NaN] = levels(thrice.samples, thrice.worked, 'rep');
    expect(third).toBeCloseTo(first, 1);
    expect(second).toBeGreaterThan(first + 1);
    const stepped = partsOf(duet, { ...twice, tempo: ['72', '80'] }, [dynamics(0, 'pp', 2)]);
    const rows = levels(stepped.samples, stepped.worked, 'rep');
    expect(rows).toHaveLength(4);
    expect(difference(rows.slice(0, 2))).toBeLessThan(-4);
    expect(difference(rows.slice(2))).toBeLessThan(-4);
  });

  it('live it is the same', () => {
    const held = holdPiece(duet, {
      ...asInScore,
      markings: [dynamics(0, 'p', 1), dynamics(0, 'f', 2)],
    });
    if (!held.ok) throw new Error(held.error.message);
    const made = liveDrill(held.value, { ...twice, countIn: 'none' }, rate, { parts: true });
    if (!made.ok || made.value.live.parts === null) throw new Error('Nothing sounds.');
    const { parts } = made.value.live;
    const sum = new Float32Array(parts.length);
    for (const block of partsBlocks(parts))
      for (const part of block.parts)
        part?.forEach((x, i) => {
          sum[block.from + i] = (sum[block.from + i] ?? 0) + x;
        });
    const louder = difference(levels(sum, made.value.worked, 'rep'));
    expect(louder).toBeGreaterThan(5.5);
    expect(louder).toBeLessThan(9);
  });

  it('with a repeat in the passage its times through count; on its page each stands where it is played', () => {
    const marks = [dynamics(0, 'p', 1), dynamics(0, 'f', 2)];
    const both = partsOf(repeat, { bars: 'all' }, marks);
    expect(difference(levels(both.samples, both.worked, 'pass'))).toBeGreaterThan(5.5);
    const again = partsOf(repeat, { bars: 'all', times: 2 }, marks);
    expect(difference(levels(again.samples, again.worked, 'rep'))).toBeCloseTo(0, 1);
    const text = both.files.find(({ name }) => name === 'drill.musicxml');
    const xml = [...(text?.chunks ?? [])].map((chunk) => new TextDecoder().decode(chunk)).join('');
    expect(xml.match(/<dynamics[^>]*>\s*<(p|f)\/>/g)).toHaveLength(2);
    expect(xml).toContain('color="#555555"');
  });

  it('for other programs both times stand together, and no marking of the score is touched', () => {
    const both = partsOf(duet, twice, [dynamics(0, 'f', 2), dynamics(0, 'p', 1)]);
    const text = both.files.find(({ name }) => name === 'drill.musicxml');
    const xml = [...(text?.chunks ?? [])].map((chunk) => new TextDecoder().decode(chunk)).join('');
    expect(xml).toMatch(/<other-dynamics>1\. p\u2002 ?2\. f<\/other-dynamics>/);
  });
});
