/** The network of a mixture: its arithmetic against results worked by hand and by NumPy, and what it makes of notes whose times are known. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { beliefRows, beliefsAround, placed } from '../../src/listen/mix/beliefs.ts';
import {
  constantCount,
  frameSeconds,
  hearOthers,
  heardAround,
  rowCount,
  width,
} from '../../src/listen/mix/features.ts';
import { partialWaves } from '../../src/listen/mix/featuresPartial.ts';
import { scoreView } from '../../src/listen/mix/featuresScore.ts';
import { wholeSound } from '../../src/listen/mix/featuresWhole.ts';
import { hear, unpackedMixNet, type MixNet } from '../../src/listen/mix/net.ts';
import { mixModel } from '../../src/listen/mix/netModel.ts';
import { mixModelAgain } from '../../src/listen/mix/netModelAgain.ts';
import { refine } from '../../src/listen/mix/refine.ts';
import { judged } from '../../src/listen/mix/refineJudge.ts';
import type { MixNote, OnsetDistribution } from '../../src/listen/mix/types.ts';

const rate = 22_050;
const hertzOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

const noteAt = (part: number, midi: number, time: number, more: Partial<MixNote> = {}): MixNote => ({
  part,
  id: `${part}-${midi}-${time}`,
  midi,
  hertz: hertzOf(midi),
  written: time,
  time,
  spread: 0.03,
  length: 0.5,
  slurred: false,
  repeated: false,
  level: null,
  found: true,
  ...more,
});

/** Tones of six partials that rise over 15 ms; `time` is the very beginning. */
const tones = (
  seconds: number,
  list: readonly { midi: number; time: number; length: number }[],
): Float32Array => {
  const out = new Float32Array(seconds * rate);
  for (const { midi, time, length } of list)
    for (let h = 1; h <= 6; h += 1) {
      const turn = (2 * Math.PI * h * hertzOf(midi)) / rate;
      const from = Math.round(time * rate);
      for (let n = 0; n < length * rate; n += 1) {
        const t = n / rate;
        const shape = Math.min(1, t / 0.015) * Math.min(1, (length - t) / 0.03);
        out[from + n] = (out[from + n] ?? 0) + (0.05 / h) * shape * Math.sin(turn * n + h);
      }
    }
  return out;
};

const middleOf = (answer: OnsetDistribution | null | undefined): number => {
  if (answer === null || answer === undefined) throw new Error('There is no answer.');
  return answer.p.reduce((sum, p, f) => sum + p * (answer.start + f * answer.step), 0);
};

describe('the arithmetic', () => {
  it('is convolution, constants added, max(0, x), what is given added to what comes out, softmax', () => {
    const net: MixNet = {
      // Two outputs of one row and three moments: the sum of neighbours, and the frame itself negated.
      first: { weights: Float64Array.of(1, 0, 1, 0, -1, 0), biases: Float64Array.of(0, 3), dilation: 1 },
      known: Float64Array.of(0.5, 0),
      // Only the first output hears the second one, two frames before.
      blocks: [
        {
          weights: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0),
          biases: Float64Array.of(0, 0),
          dilation: 2,
        },
      ],
      last: { weights: Float64Array.of(1, 0, 0, 1), biases: Float64Array.of(0, 0), dilation: 1 },
    };
    // Row 1 2 4 0 0. First: 2 5 2 4 0, with 0.5 x 2 added 3 6 3 5 1; second: 3 - row = 2 1 0 (max) 3 3.
    // Block: what the second was two frames before, 0 0 2 1 0, comes to the first: 3 6 5 6 1.
    const [one, two] = hear([net], Float32Array.of(1, 2, 4, 0, 0), Float32Array.of(2), 5);
    const expected = [3, 6, 5, 6, 1].map((x) => Math.exp(x));
    const sum = expected.reduce((a, b) => a + b, 0);
    expected.forEach((x, f) => {
      expect(one?.[f]).toBeCloseTo(x / sum, 6);
    });
    const other = [2, 1, 0, 3, 3].map((x) => Math.exp(x));
    const whole = other.reduce((a, b) => a + b, 0);
    other.forEach((x, f) => {
      expect(two?.[f]).toBeCloseTo(x / whole, 6);
    });
  });

  it.each([
    ['first', 'mixNet.json', mixModel, rowCount],
    ['second', 'mixNetAgain.json', mixModelAgain, rowCount + beliefRows],
  ] as const)(
    'gives with the real weights of the %s network what NumPy gives (training/mix/export.py)',
    (_, name, model, count) => {
      const file = new URL(`fixtures/${name}`, import.meta.url);
      const { beat, start } = JSON.parse(readFileSync(file, 'utf8')) as { beat: number[]; start: number[] };
      const rows = Float32Array.from({ length: count * width }, (_, i) => Math.sin(0.37 * i));
      const constants = Float32Array.from({ length: constantCount }, (_, i) => Math.cos(i));
      const out = hear(model.map(unpackedMixNet), rows, constants, width);
      expect(out).toHaveLength(2);
      [beat, start].forEach((values, o) => {
        values.forEach((value, f) => {
          expect(Math.abs((out[o]?.[f] ?? -1) - value)).toBeLessThan(1e-4);
        });
      });
    },
  );
});

describe('what was heard before', () => {
  it('is laid where it was heard: the note itself, those of its player, others by what they share', () => {
    // Our note, the one before, one a fifth above (its second partial is our third), one after that was not heard.
    const notes = [
      noteAt(0, 62, 0.9, { length: 0.1 }),
      noteAt(0, 60, 1),
      noteAt(1, 67, 1),
      noteAt(0, 64, 1.1),
    ];
    const sureAt = (time: number): OnsetDistribution => {
      const step = frameSeconds;
      const start = time - 45 * step;
      return {
        start,
        step,
        p: Float32Array.from({ length: 91 }, (_, i) => [0.3, 0.2, 0.15][Math.abs(i - 45)] ?? 0),
        lag: 0,
        trust: 'sure',
      };
    };
    const answers = [sureAt(0.9), sureAt(1), sureAt(1.04), null];
    const rows = beliefsAround(placed(notes, answers), answers, 1, 1, 45);
    const row = (r: number): Float32Array => rows.subarray(91 * r, 91 * (r + 1));
    const highest = (r: number): number => row(r).indexOf(Math.max(...row(r)));
    expect(rows).toHaveLength(91 * beliefRows);
    expect(highest(0)).toBe(45);
    expect(highest(1)).toBe(45 - Math.round(0.1 / frameSeconds));
    // A broad hump where it is expected.
    expect(highest(2)).toBe(45 + Math.round(0.1 / frameSeconds));
    expect(Math.max(...row(2))).toBeLessThan(0.5);
    expect(highest(3)).toBe(45 + Math.round(0.04 / frameSeconds));
    expect(highest(4)).toBe(highest(3));
    expect(Math.max(...row(3))).toBeGreaterThan(Math.max(...row(4)));
  });
});

describe('a partial', () => {
  it('has its amplitude in every window, and none of a tone 100 Hz beside it in the longest', () => {
    const [size, turn] = [0.3, (2 * Math.PI * 500) / rate];
    const signal = Float32Array.from({ length: rate }, (_, n) => size * Math.cos(turn * n));
    // Half the amplitude: a real tone has two halves.
    for (const wave of partialWaves(signal, 8000, 5, 500))
      expect(2 * Math.hypot(wave[4] ?? 0, wave[5] ?? 0)).toBeCloseTo(size, 3);
    const longest = partialWaves(signal, 8000, 5, 600)[2];
    expect(Math.hypot(longest?.[4] ?? 1, longest?.[5] ?? 1)).toBeLessThan(1e-4);
  });
});

describe('the score around a note', () => {
  it('tells shared partials: an octave below in another part covers all, a third the fifth and its like', () => {
    const view = (other: number): readonly number[] => {
      const notes = [noteAt(0, 72, 1), noteAt(1, other, 1)];
      const { rows } = scoreView(notes, 0, new Float64Array(0), 45);
      return Array.from({ length: 8 }, (_, i) => rows[(4 + i) * 91 + 70] ?? 0);
    };
    const octave = view(60);
    expect(Math.min(...octave.slice(0, 2))).toBeGreaterThan(0.9);
    // A major third below: its fifth partial lies 14 cents below our fourth (5:4 in equal temperament).
    const third = view(68);
    expect(third[3]).toBeGreaterThan(0.5);
    expect(third[0]).toBeLessThan(0.1);
  });
});

describe('a note that another covers', () => {
  it('is shown when the other begins by itself: the odd partials of an octave below', () => {
    const signal = tones(3, [
      { midi: 72, time: 1.0, length: 0.8 },
      { midi: 60, time: 1.06, length: 0.8 },
    ]);
    const notes = [noteAt(0, 72, 1), noteAt(1, 60, 1)];
    const whole = wholeSound(signal);
    const heard = notes.map(({ hertz, time }) => heardAround(signal, whole, hertz, time, 45));
    hearOthers(heard, notes);
    // Level, high level, and then what covers: 24 rows of partials go before.
    const others = heard[0]?.rows.subarray(26 * width, 27 * width) ?? new Float32Array(width);
    const top = others.reduce((a, b) => Math.max(a, b), -200);
    // Frames are 4 ms; 60 ms are 15 of them beyond the middle, 45.
    const risen = others.findIndex((value) => value > top - 10);
    expect(Math.abs(risen - 60)).toBeLessThanOrEqual(3);
    expect((others[45] ?? 0) - top).toBeLessThan(-30);
  });
});

describe('notes whose times are known', () => {
  it('are told apart when two begin 20 ms from each other on one beat', () => {
    const list = [
      { midi: 72, time: 1.0, length: 0.6 },
      { midi: 65, time: 1.02, length: 0.6 },
      { midi: 74, time: 1.75, length: 0.6 },
      { midi: 67, time: 1.75, length: 0.6 },
      { midi: 76, time: 2.52, length: 0.6 },
      { midi: 69, time: 2.5, length: 0.6 },
    ];
    const signal = tones(4, list);
    const notes = list.map(({ midi }, i) => noteAt(i % 2, midi, 1.01 + 0.75 * (i >> 1)));
    const answers = refine(signal, notes, { cents: 0, clicks: new Float64Array(0) });
    const apart = [0, 2, 4].map((i) => middleOf(answers[i + 1]) - middleOf(answers[i]));
    // Beats lie a few milliseconds after the beginnings, of both alike.
    expect(Math.abs((apart[0] ?? 1) - 0.02)).toBeLessThan(0.005);
    expect(Math.abs(apart[1] ?? 1)).toBeLessThan(0.005);
    expect(Math.abs((apart[2] ?? 1) + 0.02)).toBeLessThan(0.005);
    list.forEach(({ time }, i) => {
      expect(Math.abs(middleOf(answers[i]) - time - 0.004)).toBeLessThan(0.008);
      expect(answers[i]?.trust).toBe('sure');
    });
  });

  it('are unsure where the score has a pitch that nobody played', () => {
    const list = [
      { midi: 72, time: 1.0, length: 0.6 },
      { midi: 65, time: 1.02, length: 0.6 },
    ];
    const notes = [noteAt(0, 70, 1.01), noteAt(1, 65, 1.01)];
    const [exchanged, right] = refine(tones(3, list), notes, { cents: 0, clicks: new Float64Array(0) });
    expect(exchanged?.trust).toBe('unsure');
    expect(right?.trust).toBe('sure');
  });

  it('have no answer without a pitch or beyond the recording, and one that adds up to 1 elsewhere', () => {
    const notes = [noteAt(0, 72, 0.5), noteAt(1, 60, 0.5, { midi: null, hertz: 0 }), noteAt(0, 74, 9)];
    const [one, drum, late] = refine(tones(2, [{ midi: 72, time: 0.5, length: 0.5 }]), notes, {
      cents: 0,
      clicks: new Float64Array(0),
    });
    expect(drum).toBeNull();
    expect(late).toBeNull();
    expect(one?.p.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 5);
  });
});

describe('what a distribution is worth', () => {
  const peak = (...at: readonly number[]): Float32Array =>
    Float32Array.from({ length: width }, (_, f) => (at.includes(f) ? 1 / at.length : 0));
  it('is rough where it is 32 ms wide, and nothing beyond 45 ms', () => {
    const wide = (ms: number): Float32Array => {
      const shape = Float32Array.from({ length: width }, (_, f) =>
        Math.exp(-0.5 * (((f - 45) * 1000 * frameSeconds) / ms) ** 2),
      );
      const sum = shape.reduce((a, b) => a + b, 0);
      return shape.map((value) => value / sum);
    };
    expect(judged(wide(16), peak(44), false).trust).toBe('sure');
    expect(judged(wide(32), peak(44), false).trust).toBe('rough');
    expect(judged(wide(32), peak(44), false).lag).toBeNull();
    expect(judged(wide(50), peak(44), false).trust).toBe('unsure');
  });
  it('is nothing where it has two peaks, or is flat', () => {
    expect(judged(peak(30), peak(28), false).trust).toBe('sure');
    expect(judged(peak(20, 40, 60), peak(28), false).trust).toBe('unsure');
    expect(judged(new Float32Array(width).fill(1 / width), peak(28), false).trust).toBe('unsure');
  });
  it('holds how far the beginning lies before the beat; a slur has none', () => {
    expect(judged(peak(30), peak(28), false).lag).toBeCloseTo((2 * 88) / rate, 9);
    expect(judged(peak(30), peak(28), true).lag).toBe(0);
    expect(judged(peak(30), new Float32Array(width).fill(1 / width), false).lag).toBeNull();
  });
});
