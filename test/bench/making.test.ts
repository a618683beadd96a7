import { describe, expect, it } from 'vitest';
import { playItem, recordItem, truthOf, type Bank, type Timeline } from '../../bench/hear/item.mjs';
import { itemsOf, type Item } from '../../bench/hear/items.mjs';
import { deviations, groupTime } from '../../bench/hear/performance.mjs';
import { seeded } from '../../bench/hear/random.mjs';
import { convolve, onClock, response } from '../../bench/hear/room.mjs';
import { wavBytes } from '../../bench/hear/wav.mjs';

/** A source without any package: sines that rise in 5 ms. */
const sines: Bank = new Map(
  Array.from({ length: 70 }, (_, k) => k + 30).flatMap((midi) =>
    [55, 105].map((velocity) => {
      const hertz = 440 * 2 ** ((midi - 69) / 12);
      const samples = Float32Array.from(
        { length: 3 * 44_100 },
        (_value, n) => Math.min(1, n / 220) * Math.sin((2 * Math.PI * hertz * n) / 44_100),
      );
      return [`${midi}/${velocity}`, { samples, gain: 1, cents: 0 }] as const;
    }),
  ),
);

/** Two players, 12 quarters at 120 after two seconds. */
const timeline: Timeline = {
  notes: Array.from({ length: 12 }, (_, k) => k).flatMap((k) =>
    ['P1', 'P2'].map((part, p) => ({
      id: `${part}-${k}`,
      part,
      rep: 1,
      barIndex: Math.floor(k / 4),
      time: 2 + k / 2,
      duration: 0.5,
      midi: 72 - 7 * p + (k % 5),
      kept: true,
    })),
  ),
};

const first = itemsOf('tuning').find(({ voices, room }) => voices.length === 2 && room === 'dry');
if (first === undefined) throw new Error('No duet in the bench.');
const item: Item = {
  ...first,
  neighbourDb: null,
  clickDb: null,
  noiseDb: 90,
  articulation: ['detached', 'detached'],
  clock: { shared: false, ppm: 100 },
  mistakes: {},
  free: false,
  stop: false,
};
const make = (what: Item): { truth: ReturnType<typeof truthOf>; bytes: Buffer[]; sounds: Float32Array[] } => {
  const played = playItem(what, timeline, () => sines);
  const recordings = recordItem(what, played, new Float32Array(4 * what.rate));
  return {
    truth: truthOf(what, played, recordings),
    bytes: recordings.map(({ samples }) => wavBytes(samples, what.rate, what.bits)),
    sounds: recordings.map(({ samples }) => samples),
  };
};

describe('an item', () => {
  const made = make(item);

  it('is the same bytes from the same seed, and others from another', () => {
    const again = make(item);
    expect(again.truth).toEqual(made.truth);
    expect(again.bytes.map((bytes, k) => bytes.equals(made.bytes[k] ?? Buffer.alloc(0)))).toEqual([
      true,
      true,
    ]);
    expect(make({ ...item, seed: 'another' }).truth.notes).not.toEqual(made.truth.notes);
  });

  it('has each onset in the file where the truth says', () => {
    // Notes are detached, so before each there is silence: the first sample beyond 3 % of the note's peak is its start.
    for (const [k, clock] of made.truth.clock.entries()) {
      const sound = made.sounds[k] ?? new Float32Array();
      const notes = made.truth.notes.filter(({ part }) => part === clock.part);
      expect(notes).toHaveLength(12);
      for (const note of notes) {
        const at = note.time?.file ?? NaN;
        const from = Math.round((at - 0.03) * item.rate);
        const near = sound.subarray(from, Math.round((at + 0.08) * item.rate));
        const peak = near.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
        const start = (from + near.findIndex((value) => Math.abs(value) > 0.03 * peak)) / item.rate;
        expect(Math.abs(start - at), note.id).toBeLessThan(0.008);
      }
    }
  });

  it('keeps both clocks of a note by the stated rule', () => {
    for (const note of made.truth.notes) {
      const clock = made.truth.clock.find(({ part }) => part === note.part);
      if (clock === undefined || note.time === undefined) throw new Error('No clock.');
      expect(clock.offset + (1 + clock.ppm * 1e-6) * note.time.drill).toBeCloseTo(note.time.file, 5);
    }
    expect(new Set(made.truth.clock.map(({ ppm }) => ppm)).size).toBe(2);
  });

  it('says of every expected note what became of it', () => {
    const { truth } = make({ ...item, mistakes: { wrong: 0.2, missing: 0.2, added: 0.2 } });
    const expected = new Set(timeline.notes.map(({ id }) => id));
    const told = truth.notes.filter(({ id }) => expected.has(id)).map(({ id }) => id);
    expect(new Set(told)).toEqual(expected);
    expect(truth.notes.some(({ state }) => state === 'wrong')).toBe(true);
    for (const note of truth.notes) expect(note.time === undefined, note.id).toBe(note.state === 'missing');
  });
});

describe('timing', () => {
  const positions = Array.from({ length: 400 }, (_, k) => k * 0.5);

  it('has the spread that was asked for', () => {
    const away = deviations(positions, ['a', 'b', 'c'], { sd: [0.01, 0.03, 0.05] }, seeded('spread'));
    for (const [k, wanted] of [0.01, 0.03, 0.05].entries()) {
      const values = [...(away[k] ?? [])];
      const square = values.reduce((sum, value) => sum + value ** 2, 0) / values.length;
      expect(Math.sqrt(square)).toBeCloseTo(wanted, 9);
    }
  });

  it('has intervals whose lag-1 autocorrelation lies between -0.5 and 0', () => {
    // Wing and Kristofferson 1973; range as restated by Doumas and Wing 2007. One player, nobody to follow.
    const how = { sd: [0.02], towardsOthers: 0, towardsClick: 0 };
    for (const seed of ['one', 'two', 'three']) {
      const [away = new Float64Array()] = deviations(positions, ['a'], how, seeded(seed));
      const intervals = [...away.subarray(1)].map((value, k) => value - (away[k] ?? 0));
      const middle = intervals.reduce((sum, value) => sum + value, 0) / intervals.length;
      const part = (lag: number): number =>
        intervals
          .slice(lag)
          .reduce((sum, value, k) => sum + (value - middle) * ((intervals[k] ?? 0) - middle), 0);
      expect(part(1) / part(0)).toBeGreaterThan(-0.5);
      expect(part(1) / part(0)).toBeLessThan(0);
    }
  });

  it('plays a tempo and a drift as they are meant', () => {
    const even = groupTime({ tempo: 1.25, from: 2, to: 12 });
    expect(even(12)).toBeCloseTo(2 + 10 / 1.25, 6);
    // Tempo 1 + 0.06 t / 60: time is its reciprocal's integral, (60 / 0.06) ln(1 + 0.06 t / 60).
    const drifting = groupTime({ driftPercent: 6, from: 0, to: 60 });
    expect(drifting(60)).toBeCloseTo((60 / 0.06) * Math.log(1 + 0.06), 4);
  });
});

describe('rooms and recorders', () => {
  it('convolves as the sum says', () => {
    const random = seeded('convolution');
    const sound = Float32Array.from({ length: 3000 }, () => random.normal());
    const through = Float64Array.from({ length: 200 }, () => random.normal());
    const fast = convolve(sound, through);
    for (const n of [0, 57, 199, 200, 831, 1602, 2999]) {
      let slow = 0;
      for (let k = 0; k < 200 && k <= n; k += 1) slow += (through[k] ?? 0) * (sound[n - k] ?? 0);
      expect(fast[n]).toBeCloseTo(slow, 3);
    }
  });

  it('decays by 60 dB in the time asked for', () => {
    // Reverberation time from the slope between -5 and -25 dB of the backward-integrated energy: ISO 3382 (T20), from memory.
    const rate = 44_100;
    for (const [room, wanted] of [
      ['room', 0.5],
      ['hall', 1.8],
    ] as const) {
      const heard = response(room, 0, rate, seeded(room)).subarray(Math.round(0.1 * rate));
      const left = new Float64Array(heard.length);
      let sum = 0;
      for (let n = heard.length - 1; n >= 0; n -= 1) left[n] = sum += (heard[n] ?? 0) ** 2;
      const reach = (db: number): number =>
        left.findIndex((value) => value < (left[0] ?? 0) * 10 ** (db / 10));
      const time = (3 * (reach(-25) - reach(-5))) / rate;
      expect(time / wanted, room).toBeGreaterThan(0.75);
      expect(time / wanted, room).toBeLessThan(1.2);
    }
  });

  it('runs fast by the millionths asked for', () => {
    const rate = 44_100;
    const clicks = new Float32Array(30 * rate);
    for (const second of [1, 29]) clicks[second * rate] = 1;
    const file = onClock(clicks, rate, { offset: 0.5, ppm: 100 }, 0, 30.5);
    const peak = (from: number): number => {
      let best = from;
      for (let n = from; n < from + 2 * rate && n < file.length; n += 1)
        if ((file[n] ?? 0) > (file[best] ?? 0)) best = n;
      return best / rate;
    };
    // 0.5 + 1.0001 x 1 and 0.5 + 1.0001 x 29, to the nearest sample.
    expect(Math.abs(peak(rate) - 1.5001)).toBeLessThan(0.6 / rate);
    expect(Math.abs(peak(28.5 * rate) - 29.5029)).toBeLessThan(0.6 / rate);
  });
});
