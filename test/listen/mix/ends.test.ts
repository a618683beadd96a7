/** Short and held notes in a line that goes to and fro between two, through one microphone and each alone. Sounds are made here; bounds are ours. */
import { describe, expect, it } from 'vitest';
import { hear, make, pipe, reed, type Played, type Timbre, type Voice } from './ensemble.ts';

const step = 0.4;
/** Seconds that the short notes sound. */
const short = 0.16;
// Steps of a tone and less: no window holds such notes apart.
const upper = [74, 79, 78, 79];
const lower = [67, 66, 64, 62];

/** Speaks so slowly that it sounds well before its beat is perceived. */
const slow = (timbre: Timbre): Timbre => ({ ...timbre, attack: 0.08 });

/** Four notes of every eight, from the first or the fifth on, each louder than the one before: it is heard the sooner beside it. */
const turns = (keys: readonly number[], from: number, sounding: number): readonly Played[] =>
  [0, 8, 16, 24].flatMap((start) =>
    keys.map((midi, k): Played => ({ midi, time: (start + from + k) * step, length: sounding, db: 6 * k })),
  );

const voices = (sounding: number): readonly [Voice, Voice] => [
  { timbre: slow(pipe), notes: turns(upper, 0, sounding) },
  { timbre: slow(reed), notes: turns(lower, 4, sounding) },
];

/** Of surely heard notes whose player goes on at once: the share of the time to the next that they sound. */
const shares = (of: readonly Voice[]): readonly (readonly number[])[] =>
  hear(make(of)).map(({ heard: { notes } }) =>
    notes.flatMap((note, i) => {
      const next = notes[i + 1];
      if (i % 4 === 3 || next === undefined || note.state !== 'heard' || next.state !== 'heard') return [];
      const [from, to, end] = [note.perceived, next.perceived, note.offset];
      return from === null || to === null || end === null ? [] : [(end - from) / (to - from)];
    }),
  );

describe.each([
  ['short', short],
  ['held', step],
])('%s notes', (_, sounding) => {
  const [first, second] = voices(sounding);
  const mixed = shares([first, second]);
  const alone = [shares([first])[0] ?? [], shares([second])[0] ?? []];

  it('sound as long as they are played, and as long in one recording of both as in one of each', () => {
    for (const heard of [...mixed, ...alone]) {
      expect(heard.length).toBeGreaterThan(4);
      for (const share of heard) {
        expect(share).toBeGreaterThan(sounding / step - 0.12);
        expect(share).toBeLessThan(sounding / step + 0.12);
      }
    }
  });
});
