/**
 * One player's recording made with our own voices: every note begins on a known sample. What is true of the sound is
 * measured on it: voices begin at once, so that the physical start is the sample itself.
 */
import { describe, expect, it } from 'vitest';
import { hearPlayer, type PlayerHeard } from '../../src/listen/player.ts';
import { listeningRate, type ClickSound, type ExpectedNote } from '../../src/listen/model.ts';
import { clickSound } from '../../src/desk/hearTask.ts';
import { resampled } from '../../src/listen/resample.ts';
import { weighting } from '../../src/sound/loudness.ts';
import { renderParts } from '../../src/sound/parts/mix.ts';
import { music, partOf, type TestNote } from '../sound/music.ts';
import { seeded } from '../../src/units/index.ts';
import { addClicks } from './sounds.ts';

const sound = ((): ClickSound => {
  const made = clickSound(48_000, 'middle');
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
})();

interface Played {
  /** Milliseconds, as rendered. */
  readonly at: number;
  readonly length: number;
  readonly midi: number;
}

/** The sound of notes at the listening rate, and a click with it. */
const take = (
  notes: readonly Played[],
  seconds: number,
  { instrument = 'wind.reed.oboe', reference = 440 } = {},
): Float32Array => {
  const rendered = renderParts(
    music(
      notes.map(({ at, length, midi }): TestNote => ({
        part: 'P1',
        at: `${at}/1000`,
        length: `${length}/1000`,
        midi,
      })),
      `${seconds}`,
    ),
    [partOf(instrument)],
    0.7,
    { reference },
  );
  if (!rendered.ok) throw new Error(rendered.error.message);
  const all: number[] = [];
  for (const block of rendered.value.blocks) for (const x of block) all.push(x);
  return resampled(Float32Array.from(all), 48_000, listeningRate);
};

/** A line of eighths at 100 a minute, up and down, with a repeated note now and then. */
const steps = [
  0, 2, 4, 5, 7, 7, 5, 4, 2, 4, 0, -1, 0, 2, 2, 4, 7, 9, 11, 12, 11, 9, 7, 5, 4, 2, 0, 0, 2, 4, 5, 7,
];
const countIn = 2400;
const expected = (start = countIn): readonly ExpectedNote[] =>
  steps.map((step, i) => ({
    id: `n${i}`,
    time: (start + 300 * i) / 1000,
    duration: 0.3,
    midi: 69 + step,
    slurred: false,
    entry: i % 8 === 0,
  }));

const random = seeded(11);
/** Milliseconds that the player is away from the beat: spread 20 ms. */
const away = steps.map(() => Math.round(20 * (random() + random() + random() - 1.5) * 2));
const played = steps.map((step, i): Played => ({
  at: countIn + 300 * i + (away[i] ?? 0),
  length: 260,
  midi: 69 + step,
}));
const clicks = Array.from({ length: 20 }, (_, i) => ({ time: 0.6 * i, first: i % 4 === 0 }));

const hear = (signal: Float32Array, { onClock = true, notes = expected() } = {}): PlayerHeard =>
  hearPlayer(signal, { notes, clicks, click: sound, onClock }, weighting(listeningRate));

/** Seconds of silence put in front, so that the recording begins before the drill. */
const later = (signal: Float32Array, seconds: number): Float32Array => {
  const out = new Float32Array(signal.length + Math.round(seconds * listeningRate));
  out.set(signal, out.length - signal.length);
  return out;
};

const withClicks = (notes: readonly Played[], options: Parameters<typeof take>[2] = {}): Float32Array => {
  const signal = later(take(notes, 14, options), 2);
  addClicks(signal, clicks, sound, { offset: 2, ppm: 0, gain: 0.1 });
  return signal;
};

const errorsOf = (heard: PlayerHeard, notes: readonly Played[], truth = expected()): readonly number[] =>
  heard.notes.flatMap(({ id, onset, state }) => {
    const at = truth.findIndex((note) => note.id === id);
    const note = notes.find(({ at: time }) => Math.abs(time / 1000 - (truth[at]?.time ?? 0)) < 0.14);
    return onset === null || state !== 'heard' || note === undefined ? [] : [onset - note.at / 1000];
  });
const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))] ?? NaN;

describe('one player with a click in the room', () => {
  const heard = hear(withClicks(played));

  it('is put on the drill by the clicks', () => {
    expect(heard.clock.by).toBe('clicks');
    expect(Math.abs(heard.clock.offset - 2)).toBeLessThan(0.002);
  });

  it('has its beginnings found: half of them within 5 ms, nine in ten within 25 ms', () => {
    const sizes = errorsOf(heard, played).map(Math.abs);
    expect(sizes.length).toBeGreaterThanOrEqual(29);
    expect(quantile(sizes, 0.5)).toBeLessThan(0.005);
    expect(quantile(sizes, 0.9)).toBeLessThan(0.025);
  });

  it('gets times of its own and not those of the click: perceived beats follow the player, slope near 1', () => {
    // Physical starts are hidden in the ringing of the note before where notes overlap, with a click or without one (next test).
    const pairs = heard.notes.flatMap(({ perceived }, i) =>
      perceived === null ? [] : [[(away[i] ?? 0) / 1000, perceived - (expected()[i]?.time ?? 0)] as const],
    );
    const mean = (k: 0 | 1): number => pairs.reduce((sum, pair) => sum + pair[k], 0) / pairs.length;
    const [mx, my] = [mean(0), mean(1)];
    const slope =
      pairs.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0) /
      pairs.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
    expect(Math.abs(slope - 1)).toBeLessThan(0.1);
  });

  it('is read as without the click, note by note: starts and beats within 2 ms', () => {
    const clean = hear(later(take(played, 14), 2));
    for (const time of ['onset', 'perceived'] as const) {
      const apart = heard.notes.map((note, i) => (note[time] ?? NaN) - (clean.notes[i]?.[time] ?? NaN));
      // Without a click the drill's zero is not known.
      const middle = quantile(apart, 0.5);
      for (const off of apart) expect(Math.abs(off - middle)).toBeLessThan(0.002);
    }
  });

  it('has its ends, levels and pitch', () => {
    const lengths = heard.notes.flatMap(({ onset, offset }) =>
      onset === null || offset === null ? [] : [offset - onset],
    );
    expect(quantile(lengths, 0.5)).toBeGreaterThan(0.2);
    expect(quantile(lengths, 0.5)).toBeLessThan(0.31);
    expect(heard.notes.every(({ level }) => level === null || (level < 0 && level > -60))).toBe(true);
    const cents = heard.notes.flatMap((note) => (note.cents === null ? [] : [note.cents]));
    expect(Math.abs(quantile(cents, 0.5))).toBeLessThan(10);
    expect(Math.abs(heard.reference - 440)).toBeLessThan(4);
  });

  it('comes out the same every time', () => {
    expect(hear(withClicks(played))).toEqual(heard);
  });
});

describe('what else happens', () => {
  it.each([392, 415, 466])('playing at A = %d Hz is followed', (reference) => {
    const heard = hear(withClicks(played, { reference, instrument: 'wind.flutes.flute' }));
    expect(Math.abs(1200 * Math.log2(heard.reference / reference))).toBeLessThan(15);
    expect(heard.notes.filter(({ state }) => state === 'heard').length).toBeGreaterThan(26);
  });

  it('a note left out is not said to be heard', () => {
    const heard = hear(withClicks(played.filter((_, i) => i !== 9 && i !== 18)));
    const states = heard.notes.map(({ state }) => state);
    expect([states[9], states[18]]).not.toContain('heard');
    expect(states.filter((state) => state === 'heard').length).toBeGreaterThan(26);
  });

  it('without a click the notes lay the take on the drill, and that is said', () => {
    const slower = played.map((note) => ({ ...note, at: Math.round(note.at * 1.12) }));
    const signal = later(take(slower, 15), 40);
    const heard = hear(signal, { onClock: false });
    expect(heard.clock.by).toBe('notes');
    const shift = quantile(
      heard.notes.flatMap(({ onset }, i) => (onset === null ? [] : [onset - (slower[i]?.at ?? 0) / 1000])),
      0.5,
    );
    const off = heard.notes.flatMap(({ onset }, i) =>
      onset === null ? [] : [Math.abs(onset - (slower[i]?.at ?? 0) / 1000 - shift)],
    );
    expect(off.length).toBeGreaterThan(28);
    expect(quantile(off, 0.9)).toBeLessThan(0.025);
  });

  it('stopping and beginning again from a bar line is followed', () => {
    const first = played.slice(0, 20);
    const stopAt = (first.at(-1)?.at ?? 0) + 1800;
    const again = played.slice(16).map((note) => ({ ...note, at: note.at - (played[16]?.at ?? 0) + stopAt }));
    const heard = hear(later(take([...first, ...again], 17), 1), { onClock: false });
    expect(heard.abandoned).toBeGreaterThanOrEqual(3);
    expect(heard.notes.filter(({ state }) => state === 'heard').length).toBeGreaterThan(26);
  });

  it('another piece is not taken for this one', () => {
    const other = played.map((note, i) => ({ ...note, midi: 58 + ((i * 7) % 5) * 3, at: countIn + 430 * i }));
    expect(hear(later(take(other, 18), 1)).fit).toBeLessThan(0.5);
    expect(hear(withClicks(played)).fit).toBeGreaterThan(0.8);
  });
});
