/**
 * A player beside an audible click is not read as being on it. Tones with soft attacks and clicks are made here, so that every beat is known to the
 * sample; bounds are ours. Perceived beat: within 15 dB of the highest level (docs/hearing-reading.md).
 */
import { describe, expect, it } from 'vitest';
import { clickSound } from '../../src/desk/hearTask.ts';
import { hearMix } from '../../src/listen/mix/hear.ts';
import { refine } from '../../src/listen/mix/refine.ts';
import { listeningRate, type ClickSound, type HeardNote } from '../../src/listen/model.ts';
import { hearPlayer } from '../../src/listen/player.ts';
import { softness } from '../../src/sound/clickQueue.ts';
import { weighting } from '../../src/sound/loudness.ts';
import { seeded } from '../../src/units/index.ts';
import { make, offset, type Made, type Timbre } from './mix/ensemble.ts';
import { addClicks } from './sounds.ts';

const click = ((): ClickSound => {
  const made = clickSound(48_000, 'middle');
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
})();

const beat = 0.6;
const counted = 4;
const keys = [67, 66, 64, 62, 60, 62, 64, 66, 69, 67, 71, 69, 67, 66, 64, 67];
const clicks = Array.from({ length: counted + keys.length }, (_, i) => ({
  time: beat * i,
  first: i % 4 === 0,
}));
const soft = (attack: number): Timbre => ({ partials: [1, 0.5, 0.3, 0.2, 0.1, 0.05], attack, gain: 0.1 });

/** Each note on a click but `late` seconds after it. */
const played = (late: number, attack: number, midis: readonly number[] = keys) => ({
  timbre: soft(attack),
  notes: midis.map((midi, k) => ({ midi, time: beat * (counted + k), length: beat, late, share: 0.8 })),
});

/** A click behind a loudspeaker and a small room: two reflections, then noise that falls by 60 dB in 0.2 s (made up). */
const inRoom = (shape: Float32Array): Float32Array => {
  const random = seeded(5);
  const answer = Float32Array.from({ length: 1300 }, (_, n) =>
    n < 150 ? 0 : 0.06 * (random() - 0.5) * 10 ** ((-3 * n) / (0.2 * listeningRate)),
  );
  answer.set([1]);
  answer.set([0.4], 70);
  answer.set([-0.3], 120);
  const out = new Float32Array(shape.length + answer.length);
  answer.forEach((gain, at) => {
    if (gain !== 0) shape.forEach((x, n) => (out[at + n] = (out[at + n] ?? 0) + gain * x));
  });
  return out;
};
const heardClick: ClickSound = { beat: inRoom(click.beat), first: inRoom(click.first) };

const loudest = (sound: Float32Array): number => {
  const length = Math.round(0.05 * listeningRate);
  let [sum, most] = [0, 0];
  sound.forEach((x, n) => {
    sum += x * x - (n >= length ? (sound[n - length] ?? 0) ** 2 : 0);
    most = Math.max(most, sum);
  });
  return Math.sqrt(most / length);
};

/** Adds the clicks, so many dB louder than the music where both are loudest over 50 ms; those of the count `level` times as loud. */
const withClicks = ({ sound, task }: Made, db: number, level = 1): Made => {
  const gain = (10 ** (db / 20) * loudest(sound)) / loudest(heardClick.first);
  const random = seeded(9);
  for (let n = 0; n < sound.length; n += 1) sound[n] = (sound[n] ?? 0) + 2e-4 * (random() - 0.5);
  addClicks(sound, clicks.slice(0, counted), heardClick, { offset, ppm: 0, gain: gain * level });
  addClicks(sound, clicks.slice(counted), heardClick, { offset, ppm: 0, gain });
  return { sound, task, beats: new Map() };
};

/** By how many milliseconds each sure note is heard later than its click. */
const beside = (notes: readonly HeardNote[]): readonly number[] =>
  notes.flatMap(({ perceived, state }, k) =>
    perceived === null || state !== 'heard' ? [] : [1000 * (perceived - beat * (counted + k))],
  );

const alone = ({ sound, task }: Made, count: readonly { readonly underWord?: number }[] = []) =>
  hearPlayer(
    sound,
    {
      notes: task.parts[0]?.notes ?? [],
      clicks: clicks.map((one, i) => ({ ...one, ...count[i] })),
      click,
      onClock: true,
    },
    weighting(listeningRate),
  );

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? NaN;

describe('one player beside a click', () => {
  it.each([
    { late: 30, db: -10, attack: 0.05 },
    { late: 30, db: 0, attack: 0.04 },
    { late: 30, db: 6, attack: 0.06 },
    { late: -30, db: 6, attack: 0.05 },
    { late: 0, db: 0, attack: 0.05 },
  ])('$late ms from one of $db dB is heard there, and no note on the click', ({ late, db, attack }) => {
    const heard = beside(alone(withClicks(make([played(late / 1000, attack)]), db)).notes);
    expect(heard.length).toBeGreaterThanOrEqual(12);
    expect(Math.abs(median(heard) - late)).toBeLessThan(2);
    for (const one of heard) expect(Math.abs(one - late)).toBeLessThan(5);
  });
});

/** Cut to begin 0.3 s before the first note; clicks that come before that are not in it. */
const withoutCount = ({ sound, task, beats }: Made): Made => ({
  sound: sound.slice(Math.round((offset + beat * counted - 0.3) * listeningRate)),
  task,
  beats,
});

describe('a recording without the count-in, every note as much after its click', () => {
  it.each([
    { late: 5, db: -10, attack: 0.06 },
    { late: 10, db: 0, attack: 0.05 },
    { late: 20, db: 6, attack: 0.05 },
  ])('$late ms after one of $db dB is heard there', ({ late, db, attack }) => {
    const heard = beside(alone(withoutCount(withClicks(make([played(late / 1000, attack)]), db))).notes);
    expect(heard.length).toBeGreaterThanOrEqual(12);
    expect(Math.abs(median(heard) - late)).toBeLessThan(2);
    for (const one of heard) expect(Math.abs(one - late)).toBeLessThan(5);
  });
});

describe('a count that is spoken over soft clicks', () => {
  it.each([softness, 1])('is told by itself, at %s of the level', (level) => {
    const made = withClicks(make([played(0.03, 0.05)]), 0, level);
    const count = Array.from({ length: counted }, () => ({ underWord: softness }));
    const heard = beside(alone(made, count).notes);
    expect(heard.length).toBeGreaterThanOrEqual(12);
    expect(Math.abs(median(heard) - 30)).toBeLessThan(2);
  });
});

describe('two players through one microphone', () => {
  it.each([0, 6])('30 ms apart on a click of %s dB are read apart', (db) => {
    const made = withClicks(
      make([
        played(
          0,
          0.04,
          keys.map((key) => key + 16),
        ),
        played(0.03, 0.05),
      ]),
      db,
    );
    const players = hearMix(made.sound, { ...made.task, clicks, click, onClock: true }, { refine });
    const [first, second] = players.map(({ heard }) => median(beside(heard.notes)));
    expect(Math.abs((second ?? NaN) - (first ?? NaN) - 30)).toBeLessThan(10);
  });
});
