/** What is fair to players who are heard through one microphone. Sounds are made here, so that every beat is known; bounds are ours. */
import { describe, expect, it } from 'vitest';
import { secondsPerMetre } from '../../../src/listen/mix/hear.ts';
import {
  against,
  bow,
  hear,
  line,
  make,
  median,
  pipe,
  reed,
  scatter,
  type Played,
  type Voice,
} from './ensemble.ts';

const upper = [72, 74, 76, 77, 79, 77, 76, 74];
const lower = [57, 59, 61, 62, 66, 60, 62, 60];

const duet = (more: (k: number, voice: number) => Partial<Played>, timbres = [pipe, reed]): Voice[] => [
  { timbre: timbres[0] ?? pipe, notes: line(upper, 32, 0.5, (k) => more(k, 0)) },
  { timbre: timbres[1] ?? reed, notes: line(lower, 32, 0.5, (k) => more(k, 1)) },
];

/** Of places that both surely have: first less second, heard and true, in seconds. */
const apart = (made: ReturnType<typeof make>, options = {}) => {
  const players = hear(made, options);
  const [first = [], second = []] = against(made, players);
  const truth = (id: string): number => made.beats.get(id) ?? NaN;
  return {
    players,
    pairs: first.flatMap((a, k) => {
      const b = second[k];
      if (b === undefined || !a.sure || !b.sure) return [];
      const true_ = truth(a.id) - truth(b.id);
      return [{ heard: true_ + a.off - b.off, true_ }];
    }),
  };
};

const slope = (pairs: readonly { readonly heard: number; readonly true_: number }[]): number => {
  const mean = (of: (pair: (typeof pairs)[number]) => number): number =>
    pairs.reduce((sum, pair) => sum + of(pair), 0) / pairs.length;
  const [mx, my] = [mean(({ true_ }) => true_), mean(({ heard }) => heard)];
  let [xy, xx] = [0, 0];
  for (const { heard, true_ } of pairs) [xy, xx] = [xy + (true_ - mx) * (heard - my), xx + (true_ - mx) ** 2];
  return xy / xx;
};

describe('one microphone', () => {
  it('does not draw players together: asynchronies come out as large as they are', () => {
    const { pairs } = apart(make(duet((k, v) => ({ late: 0.025 * scatter(k + 5 * v + v) }))));
    expect(pairs.length).toBeGreaterThan(20);
    expect(slope(pairs)).toBeGreaterThan(0.9);
    expect(slope(pairs)).toBeLessThan(1.1);
  });

  it('takes a given distance off: 2.9 ms a metre', () => {
    const made = make(duet(() => ({})));
    const [near, far] = [apart(made), apart(made, { distances: [10, 0] })];
    const mean = ({ pairs }: typeof near): number => median(pairs.map(({ heard }) => heard));
    expect(1000 * secondsPerMetre).toBeCloseTo(2.9, 1);
    const shift = far.players.map(({ heard }, p) =>
      median(
        heard.notes.map(
          (note, k) => (note.perceived ?? 0) - (near.players[p]?.heard.notes[k]?.perceived ?? 0),
        ),
      ),
    );
    expect(1000 * ((shift[0] ?? 0) - (shift[1] ?? 0))).toBeCloseTo(-29.2, 0);
    expect(mean(near)).toBeLessThan(0.02);
  });

  it('learns from notes that a player has alone how quickly the instrument speaks, and says where it cannot', () => {
    const together = make(duet(() => ({}), [bow, reed]));
    for (const { calibrated, lagError } of hear(together)) {
      expect(calibrated).toBe(false);
      expect(lagError).toBeGreaterThan(0.005);
    }
    // Two bars each alone, then together.
    const alone = make([
      { timbre: bow, notes: line(upper, 48, 0.5).filter((_, k) => k < 8 || k >= 16) },
      { timbre: reed, notes: line(lower, 48, 0.5).filter((_, k) => k >= 8) },
    ]);
    const players = hear(alone);
    for (const { calibrated } of players) expect(calibrated).toBe(true);
    const off = against(alone, players).map((notes) =>
      median(notes.flatMap((one) => (one.sure ? [one.off] : []))),
    );
    expect(Math.abs((off[0] ?? 1) - (off[1] ?? 0))).toBeLessThan(0.01);
  });

  it('calls unison rough at best instead of guessing, and lets nothing rest on it', () => {
    const made = make([
      { timbre: reed, notes: line(upper, 24, 0.5, (k) => ({ late: 0.02 * scatter(k) })) },
      { timbre: reed, notes: line(upper, 24, 0.5, (k) => ({ late: 0.02 * scatter(k + 9) })) },
    ]);
    const sure = against(made, hear(made))
      .flat()
      .filter((one) => one.sure);
    expect(sure.length).toBeLessThan(3);
  });

  it('lets nothing rest on a player who is covered by the others', () => {
    const made = make(duet((_, v) => ({ db: v === 0 ? -55 : 0 })));
    const [covered = [], clear = []] = against(made, hear(made));
    expect(covered.filter((one) => one.sure).length / covered.length).toBeLessThan(0.25);
    expect(clear.filter((one) => one.sure).length / clear.length).toBeGreaterThan(0.8);
  });

  it('tells levels within a line: four notes 6 dB louder are 6 dB louder', () => {
    const made = make(duet((k, v) => ({ db: v === 0 && k >= 16 && k < 20 ? 6 : 0 })));
    const notes = hear(made)[0]?.heard.notes ?? [];
    const level = (from: number, to: number): number =>
      median(notes.slice(from, to).flatMap((note) => note.level ?? []));
    expect(level(16, 20) - level(0, 16)).toBeGreaterThan(4.5);
    expect(level(16, 20) - level(0, 16)).toBeLessThan(7.5);
  });
});
