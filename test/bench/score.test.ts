import { describe, expect, it } from 'vitest';
import { fMeasure, slopeWithin } from '../../bench/hear/metrics.mjs';
import { parseCsv, truthFromOnsets } from '../../bench/hear/real.mjs';
import { scoreItem, type Truth, type TruthNote } from '../../bench/hear/score.mjs';

const at = (drill: number): { drill: number; file: number } => ({ drill, file: drill });

const note = (part: string, k: number, away: number, state = 'played'): TruthNote => ({
  id: `${part}-${k}`,
  part,
  rep: 1,
  written: k,
  state,
  ...(state === 'missing' ? {} : { time: at(k + away), perceived: at(k + away + 0.02) }),
});

/** Twelve shared beats; the second player strays by known amounts. */
const strays = [0, 30, -20, 10, 45, -35, 5, 25, -10, 15, -40, 20].map((ms) => ms / 1000);
const truth: Truth = {
  format: 'levare.truth/1',
  parts: [{ id: 'P1' }, { id: 'P2' }],
  clicksHeard: true,
  clock: ['P1', 'P2'].map((part) => ({ file: `${part}.wav`, part, offset: 0, ppm: 0 })),
  notes: strays.flatMap((away, k) => [note('P1', k, 0), note('P2', k, away)]),
  stop: null,
};

type Heard = { id: string; part: string; onset?: number; sd?: number; state: string };
const perfect = (): Heard[] =>
  truth.notes.map(({ id, part, time }) => ({
    id,
    part,
    onset: time?.drill ?? NaN,
    sd: 0.01,
    state: 'played',
  }));
const counted = (scores: ReturnType<typeof scoreItem>, key: string): number =>
  fMeasure(scores.counts[key] ?? { hits: 0, references: 0, estimates: 0 });

describe('holding a reading against the truth', () => {
  it('finds no fault with the truth itself', () => {
    const scores = scoreItem(truth, { notes: perfect() });
    expect(counted(scores, '25raw')).toBe(1);
    expect(Math.max(...scores.errors.map(Math.abs))).toBe(0);
    expect(slopeWithin(scores.pairs)).toBeCloseTo(1, 12);
    expect(scores.pairs[0]?.meanError).toBeCloseTo(0, 12);
    expect(scores.inside68).toEqual(Array<number>(24).fill(1));
  });

  it('knows what a reading of expected times is worth', () => {
    const notes = truth.notes.map(({ id, part, written }) => ({
      id,
      part,
      onset: written ?? NaN,
      state: 'played',
    }));
    const scores = scoreItem(truth, { notes });
    // Raw: 12 of the first player, and of the second those that stray by 25 ms at most: 7 of 12.
    expect(scores.counts['25raw']).toEqual({ hits: 12 + 7 + 1, references: 24, estimates: 24 });
    expect(slopeWithin(scores.pairs)).toBe(0);
  });

  it('counts an unsure note as missed, not as found', () => {
    const notes = perfect().map((one, k) => (k < 6 ? { ...one, state: 'unsure' } : one));
    const scores = scoreItem(truth, { notes });
    expect(scores.unsure).toBe(6);
    expect(scores.counts['50']).toEqual({ hits: 18, references: 24, estimates: 18 });
  });

  it('takes out a constant bias of a part where it says so, and only there', () => {
    const notes = perfect().map((one) =>
      one.part === 'P2' ? { ...one, onset: (one.onset ?? 0) + 0.04 } : one,
    );
    const scores = scoreItem(truth, { notes });
    expect(counted(scores, '25')).toBe(1);
    expect(scores.counts['25raw']?.hits).toBeLessThan(24);
    expect(Math.max(...scores.errors.map(Math.abs))).toBeLessThan(1e-9);
    expect(scores.pairs[0]?.meanError).toBeCloseTo(-0.04, 12);
  });

  it('lets no interval cover what its bias keeps it from', () => {
    const notes = perfect().map((one) => ({ ...one, onset: (one.onset ?? 0) + 0.03 }));
    const scores = scoreItem(truth, { notes });
    expect(scores.inside95).toEqual(Array<number>(24).fill(0));
    expect(scores.width95[0]).toBeCloseTo(2 * 1.96 * 0.01, 12);
  });

  it('does not ask for a zero that no click tells', () => {
    const notes = perfect().map((one) => ({ ...one, onset: (one.onset ?? 0) + 1.7 }));
    expect(counted(scoreItem({ ...truth, clicksHeard: false }, { notes }), '25raw')).toBe(1);
    expect(counted(scoreItem(truth, { notes }), '25raw')).toBe(0);
  });

  it('holds a note that was left out against who reports it, and no wrong note against anybody', () => {
    const other: Truth = {
      ...truth,
      notes: truth.notes.map((one, k) =>
        k === 4 ? note(one.part, one.written ?? 0, 0, 'missing') : k === 6 ? { ...one, state: 'wrong' } : one,
      ),
    };
    const scores = scoreItem(other, { notes: perfect() });
    expect(scores.notes).toBe(22);
    expect(scores.counts['25']).toEqual({ hits: 22, references: 22, estimates: 23 });
  });

  it('accepts either attempt at a note that was begun twice', () => {
    const again: Truth = { ...truth, notes: [...truth.notes, note('P1', 3, -1.2, 'abandoned')] };
    const notes = perfect();
    expect(counted(scoreItem(again, { notes }), '25')).toBe(1);
    const earlier = notes.map((one) => (one.id === 'P1-3' ? { ...one, onset: 3 - 1.2 } : one));
    expect(counted(scoreItem(again, { notes: earlier }), '25')).toBe(1);
  });

  it('holds the perceived beat against the perceived beat', () => {
    const notes = perfect().map((one) => ({ ...one, onset: (one.onset ?? 0) + 0.02 }));
    expect(Math.max(...scoreItem(truth, { notes }, 'perceived').rawErrors.map(Math.abs))).toBeLessThan(1e-9);
  });

  it('holds no note against a reading that nobody annotated', () => {
    const some: Truth = { ...truth, notes: truth.notes.slice(0, 10) };
    expect(scoreItem(some, { notes: perfect() }).counts['25']).toEqual({
      hits: 10,
      references: 10,
      estimates: 10,
    });
  });

  it('judges a detector without a score by its events', () => {
    const events = { P1: strays.map((_, k) => k).concat(5.5), P2: strays.map((away, k) => k + away) };
    const scores = scoreItem(truth, { notes: [], events });
    expect(scores.counts['25']).toEqual({ hits: 24, references: 24, estimates: 25 });
  });
});

describe('real recordings', () => {
  const timeline = {
    notes: ['P1', 'P2'].flatMap((part) =>
      [0, 1, 2].map((k) => ({
        id: `${part}-${k}`,
        part,
        rep: 1,
        barIndex: 0,
        time: k,
        duration: 1,
        midi: 60,
        kept: true,
      })),
    ),
  };
  const files = ['P1.wav', 'P2.wav'];

  it('reads onsets with and without ids', () => {
    const rows = parseCsv('part,id,onset\r\nP1,,0.5\r\nP1,,1.6\r\nP1,,2.5\r\nP2,P2-2,2.51\r\n');
    const read = truthFromOnsets('take', timeline, files, rows, null);
    expect(read.notes.map(({ id, time }) => [id, time?.drill])).toEqual([
      ['P1-0', 0.5],
      ['P1-1', 1.6],
      ['P1-2', 2.5],
      ['P2-2', 2.51],
    ]);
    expect(read.clicksHeard).toBe(false);
  });

  it('puts a file with a known clock on the drill', () => {
    const clock = [{ file: 'P1.wav', part: 'P1', offset: 2, ppm: 50 }];
    const read = truthFromOnsets('take', timeline, files, parseCsv('part,id,onset\nP1,P1-1,3.00005'), clock);
    expect(read.notes[0]?.time?.drill).toBeCloseTo(1, 12);
  });

  it('refuses what it cannot place', () => {
    const read = (text: string): Truth => truthFromOnsets('take', timeline, files, parseCsv(text), null);
    expect(() => read('part,id,onset\nP1,,0.5')).toThrow('the drill has 3 notes');
    expect(() => read('part,id,onset\nP1,P1-9,0.5')).toThrow('no note "P1-9"');
    expect(() => read('part,id,onset\nP1,P1-1,soon')).toThrow('no onset');
  });
});
