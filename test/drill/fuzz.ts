/** Drills at random on scores that are broken at random: a Result each time, and a timeline that holds together. */
import { expect } from 'vitest';
import { extractScore } from '../../src/drill/extract.ts';
import type { Drill, Timeline } from '../../src/drill/model.ts';
import { workOut } from '../../src/drill/workOut.ts';
import type { Score } from '../../src/score/model.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { clickWav } from '../../src/sound/wav/clicks.ts';
import { writeMidi } from '../../src/sound/midi.ts';
import { F, type Random } from '../../src/units/index.ts';
import { fuzzMusicXml } from '../score/musicxml-fuzz.ts';
import { plainDrill } from '../support/drills.ts';

const words: Readonly<Record<string, readonly string[]>> = {
  keep: ['all', '1/8+', '1/16', '1/4-', '1/8t', 'nothing'],
  click: [
    'every',
    'half',
    'weak',
    'after',
    'bar',
    '4bars',
    '1/8',
    '1/3',
    '2 4',
    '1 2&',
    'hemiola:1-2',
    'none',
  ],
  count: ['1/8', '1/4', '3/8', '1/64', '2'],
  groups: ['2+3', '2+2+3', '16'],
  countIn: ['auto', 'none', 'first', 'each', '2', 'first:8'],
  upbeat: ['auto', 'none', '1/4', '7/8'],
};

const pick = <T>(random: Random, list: readonly T[]): T | undefined =>
  list[Math.floor(random() * list.length)];

const randomDrill = (score: Score, random: Random): Drill => {
  const index = () => Math.floor(random() * score.bars.length);
  const some = (name: string, share: number) =>
    random() < share ? pick(random, words[name] ?? []) : undefined;
  const bars = random() < 0.2 ? 'all' : `@${index()}-@${index()}`;
  return {
    ...plainDrill,
    bars,
    keep: some('keep', 0.5) ?? 'all',
    click: some('click', 0.9) ?? 'every',
    count: some('count', 0.3) ?? null,
    groups: some('groups', 0.3) ?? null,
    countIn: some('countIn', 0.8) ?? 'auto',
    upbeat: some('upbeat', 0.8) ?? 'auto',
    tempo: pick(random, [[], ['90'], ['50%', '1/4.=60'], ['133.33']]) ?? [],
    times: 1 + Math.floor(random() * 3),
    gap: pick(random, [null, 0, 2]) ?? null,
    tacet: random() < 0.2 ? { with: 1, without: 2 } : null,
    holds: random() < 0.5 ? 'count' : 'through',
  };
};

const checkTimeline = ({ clicks, notes, bars, duration }: Timeline): void => {
  const within = (time: F.Fraction) => F.atMost(F.zero, time) && F.atMost(time, duration);
  clicks.forEach(({ time, sample }, i) => {
    expect(within(time)).toBe(true);
    expect(sample).toBeGreaterThanOrEqual(clicks[i - 1]?.sample ?? 0);
  });
  for (const { time, duration: length } of notes) {
    expect(within(time) && within(F.add(time, length))).toBe(true);
    expect(F.isPositive(length)).toBe(true);
  }
  expect(new Set(notes.map(({ id }) => id)).size).toBe(notes.length);
  bars.reduce((end, bar) => {
    expect(F.equal(bar.start, end)).toBe(true);
    return F.add(bar.start, bar.length);
  }, F.zero);
};

/** Works out `count` drills; how many could be worked out and how many were refused. */
export const fuzzDrills = (seed: number, count: number): { made: number; refused: number } => {
  const totals = { made: 0, refused: 0 };
  fuzzMusicXml(seed, count, (score, random) => {
    const worked = workOut(score, randomDrill(score, random), 8000);
    if (!worked.ok) {
      totals.refused += 1;
      expect(worked.error.message).toMatch(/\S.*\S.*[.:]/s);
      return;
    }
    totals.made += 1;
    const { timeline, parts } = worked.value;
    checkTimeline(timeline);
    expect(clickWav(timeline).ok).toBe(true);
    writeMidi(timeline, { title: '', parts });
    writeMusicXml(extractScore(worked.value));
  });
  return totals;
};
