/** Slurs, vibrato, vowels, ornaments, other pitches and free playing, through one microphone. Sounds are made here; bounds are ours. */
import { describe, expect, it } from 'vitest';
import type { MixOptions } from '../../../src/listen/mix/hear.ts';
import { against, hear, line, make, median, pipe, reed, type Played } from './ensemble.ts';

const upper = [72, 74, 76, 77, 79, 77, 76, 74];
const lower = [57, 59, 61, 62, 66, 60, 62, 60];

const take = (more: (k: number) => Partial<Played>, a = 440, course?: (time: number) => number) =>
  make(
    [
      { timbre: pipe, a, notes: line(upper, 32, 0.5, more) },
      { timbre: reed, a, notes: line(lower, 32, 0.5) },
    ],
    course,
  );

/** How far the first player's sure notes are off on the whole, against the other player's, and how many are sure. */
const first = (made: ReturnType<typeof make>, options: MixOptions = {}) => {
  const [own = [], other = []] = against(made, hear(made, options));
  const offs = (of: typeof own): readonly number[] => of.flatMap((one) => (one.sure ? [one.off] : []));
  return { share: offs(own).length / own.length, off: median(offs(own)) - median(offs(other)), own };
};

const plain = first(take(() => ({})));

describe('one microphone', () => {
  it('reads a slurred note where the pitch changes', () => {
    const { share, off } = first(take((k) => ({ slurred: k % 4 !== 0 })));
    expect(share).toBeGreaterThan(0.6);
    expect(Math.abs(off)).toBeLessThan(0.015);
  });

  it('takes vibrato for no beginning', () => {
    const made = take(() => ({ vibrato: [35, 5.5] }));
    const { share, off } = first(made);
    expect(share).toBeGreaterThan(0.8 * plain.share);
    expect(Math.abs(off - plain.off)).toBeLessThan(0.008);
    for (const { heard } of hear(made)) expect(heard.added).toEqual([]);
  });

  // The rise of partials alone takes an early consonant for the note: 90 ms too soon.
  it('lets a voice start at its vowel, by what was learnt', () => {
    const { share, off } = first(take(() => ({ consonant: 0.08 })));
    expect(share).toBeGreaterThan(0.6);
    expect(Math.abs(off - plain.off)).toBeLessThan(0.02);
  });

  it('takes a trill for one note, whatever its end', () => {
    const made = take((k) => (k % 8 === 3 ? { trill: 1 } : {}));
    const players = hear(made);
    for (const { heard } of players) expect(heard.added).toEqual([]);
    const [own = []] = against(made, players);
    const usual = median(own.flatMap((one) => (one.sure ? [one.off] : [])));
    // Where the trill runs into the next note its beginning may be unsure, but not wrong.
    expect(own.filter((one) => one.sure && Math.abs(one.off - usual) > 0.025)).toEqual([]);
    expect(own.filter((one) => one.sure).length).toBeGreaterThan(own.length / 2);
  });

  it.each([392, 415, 466])('hears players at A = %i Hz', (a) => {
    const made = take(() => ({}), a);
    const players = hear(made);
    expect(players[0]?.heard.reference).toBeGreaterThan(a * 2 ** (-12 / 1200));
    expect(players[0]?.heard.reference).toBeLessThan(a * 2 ** (12 / 1200));
    expect(first(made).share).toBeGreaterThan(0.7 * plain.share);
  });

  it('hears players in another temperament whose pitch sinks as they play', () => {
    // Quarter-comma meantone against equal temperament, A alike, in cents (from memory); and 25 cents down over the take.
    const meantone = [10.3, -13.7, 3.4, 20.5, -3.4, 13.7, -10.3, 6.8, -17.1, 0, 17.1, -6.8];
    const sinking = (keys: readonly number[]): readonly Played[] =>
      line(keys, 32, 0.5, (k) => ({
        cents: (meantone[(keys[k % keys.length] ?? 0) % 12] ?? 0) - (25 * k) / 32,
      }));
    const { share, off } = first(
      make([
        { timbre: pipe, notes: sinking(upper) },
        { timbre: reed, notes: sinking(lower) },
      ]),
    );
    expect(share).toBeGreaterThan(0.7 * plain.share);
    expect(Math.abs(off - plain.off)).toBeLessThan(0.008);
  });

  it('follows players who bend the tempo together, and finds them together', () => {
    // By a sixth slower and faster within four bars, each twice.
    const course = (time: number): number => time + 0.42 * Math.sin((2 * Math.PI * time) / 8);
    const made = take(() => ({}), 440, course);
    const [own = [], other = []] = against(made, hear(made));
    const apart = own.flatMap((one, k) => {
      const two = other[k];
      return two !== undefined && one.sure && two.sure ? [one.off - two.off] : [];
    });
    expect(apart.length).toBeGreaterThan(16);
    const middle = median(apart);
    expect(median(apart.map((value) => Math.abs(value - middle)))).toBeLessThan(0.006);
  });

  it('follows players who stop and begin again at the bar', () => {
    const notes = line(upper, 16, 0.5);
    const under = line(lower, 16, 0.5);
    const again = (some: readonly Played[]): readonly Played[] => [
      ...some.slice(0, 11),
      ...some.slice(8).map((note) => ({ ...note, time: note.time + 4 })),
    ];
    const made = make([
      { timbre: pipe, notes: again(notes) },
      { timbre: reed, notes: again(under) },
    ]);
    // What is expected knows nothing of the second attempt.
    const score = make([
      { timbre: pipe, notes },
      { timbre: reed, notes: under },
    ]);
    const players = hear({ ...made, task: score.task });
    const last = players[0]?.heard.notes.at(-1);
    const [from, to] = [
      made.beats.get('P1-18') ?? NaN,
      (last?.perceived ?? NaN) + (players[0]?.heard.clock.offset ?? NaN),
    ];
    expect(Math.abs(to - from)).toBeLessThan(0.05);
    expect(players[0]?.heard.abandoned).toBeGreaterThan(0);
  });
});
