/**
 * The marked places hold together: what they name is in the score, and a seam falls on a note that the player who takes over begins. That
 * they are right is for a reader to judge; see marks/README.md.
 */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { F } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { addTally, fMeasure, noTally, placeTally, seamTally } from './marks/agreement.ts';
import {
  asFirstMarked,
  fileOf,
  laterMarks,
  marks as allMarks,
  positionOf,
  ruled,
  secondMarks,
  strikes,
  type Marks,
  type Place,
  type Ruled,
} from './marks/marks.ts';

const kinds = [
  'shared-line',
  'imitation',
  'joint-entry',
  'rhythmic-unison',
  'after-beats',
  'weak-beats',
  'syncopation',
  'cross-rhythm',
  'dots-against-triplets',
  'hemiola',
  'metre-change',
  'tempo-change',
  'tie-over-bar',
  'upbeat-start',
  'last-notes',
  'long-note-then-run',
];
const all = allMarks();
const again = secondMarks();
const here = (marks: Marks): boolean => existsSync(fileOf(marks, sharedData ?? 'absent'));
interface Opened {
  readonly sha256: string;
  readonly music: Ruled;
}
const opened = new Map<string, Opened>();
const open = (marks: Marks): Opened => {
  const known = opened.get(marks.file);
  if (known !== undefined) return known;
  const bytes = readFileSync(fileOf(marks, sharedData ?? 'absent'));
  const fresh = { sha256: createHash('sha256').update(bytes).digest('hex'), music: ruled(bytes) };
  opened.set(marks.file, fresh);
  return fresh;
};

/** Faults in one place, in words. */
const faults = (
  marks: Marks,
  music: Ruled,
  place: Pick<Place, 'parts' | 'from' | 'to' | 'seams'>,
): string[] => {
  const result: string[] = [];
  const ids = new Set(music.score.parts.map(({ id }) => id));
  for (const part of place.parts) if (!ids.has(part)) result.push(`no part ${part}`);
  const { from: lowest, to: highest } = marks.bars;
  let last = F.zero;
  for (const spot of [place.from, ...(place.seams ?? []), place.to]) {
    const at = positionOf(music, spot);
    if (typeof at === 'string') {
      result.push(at);
      continue;
    }
    if (spot.barIndex < lowest || spot.barIndex > highest)
      result.push(`bar ${spot.bar} is outside the movement`);
    if (F.less(at, last)) result.push(`bar ${spot.bar} beat ${spot.beat} is out of order`);
    last = at;
  }
  for (const seam of place.seams ?? []) {
    const at = positionOf(music, seam);
    const takers = [seam.to, ...(seam.also ?? [])];
    for (const part of [seam.from, ...takers])
      if (!place.parts.includes(part)) result.push(`${part} is no part of it`);
    if (seam.from === seam.to) result.push('a seam from a player to the same');
    for (const part of takers)
      if (typeof at !== 'string' && !strikes(music, part, at))
        result.push(`${part} begins no note at bar ${seam.bar} beat ${seam.beat}`);
  }
  return result;
};

describe('marked places', () => {
  it('are at least 80 in eight movements and the demo, 40 of them shared lines, in two halves', () => {
    expect(all.length).toBe(9);
    const places = all.flatMap((marks) => marks.places);
    expect(places.length).toBeGreaterThanOrEqual(80);
    expect(places.filter(({ kind }) => kind === 'shared-line').length).toBeGreaterThanOrEqual(40);
    expect(all.filter(({ half }) => half === 'report').length).toBe(4);
    for (const { kind } of places) expect(kinds).toContain(kind);
  });

  it('have their half by the last digit of the SHA-256, the demo being tuning', () => {
    for (const marks of all) {
      const even = Number.parseInt(marks.sha256.slice(-1), 16) % 2 === 0;
      expect([marks.file, marks.half]).toEqual([
        marks.file,
        even || marks.file.startsWith('demo/') ? 'tuning' : 'report',
      ]);
    }
  });

  for (const marks of [...all, ...again, ...laterMarks()]) {
    const which = `${marks.piece}, from bar ${marks.bars.from}${marks.stretch === undefined ? '' : ', second marking'}`;
    it.skipIf(!here(marks))(`${which}: the file is the one that was read, and every place is in it`, () => {
      const { sha256, music } = open(marks);
      expect(sha256).toBe(marks.sha256);
      const found = [...marks.places, ...(marks.negatives ?? [])].flatMap((place) =>
        faults(marks, music, place).map((fault) => `bar ${place.from.bar}: ${fault}`),
      );
      expect(found).toEqual([]);
      for (const { kind, seams = [] } of marks.places)
        if (kind === 'shared-line' || kind === 'imitation') expect(seams.length).toBeGreaterThan(0);
    });
  }
});

describe('the demo', () => {
  it('has its seams where its own tables say', () => {
    const text = readFileSync(path.resolve(import.meta.dirname, '..', '..', 'demo', 'README.md'), 'utf8');
    const demo = all.find(({ file }) => file.startsWith('demo/'));
    const ids: Readonly<Record<string, string>> = { flute: 'P1', clarinet: 'P2' };
    for (const [heading, value] of [
      ['### Eighths', '1/8'],
      ['### Sixteenths', '1/16'],
    ] as const) {
      const table = text.split(heading)[1]?.split('###')[0] ?? '';
      const told = [...table.matchAll(/^\| (\d+) \| (\S+) \| (flute|clarinet) \|/gm)].map(
        ([, bar, beat, who = '']) => [bar, beat, ids[who]],
      );
      const marked = demo?.places.find(
        ({ kind, value: of, sure }) => kind === 'shared-line' && of === value && sure,
      );
      expect(told.length).toBeGreaterThan(10);
      expect(marked?.seams?.map(({ bar, beat, to }) => [bar, beat, to])).toEqual(told);
    }
  });
});

/** A place that lies wholly in the bars read again, of a kind that was meant to be marked completely. */
const within = (second: Marks, { kind, from, to }: Place): boolean =>
  second.exhaustive.includes(kind) &&
  from.barIndex >= (second.stretch?.from ?? 0) &&
  to.barIndex <= (second.stretch?.to ?? 0);

describe.skipIf(!all.every(here))('first and second marking', () => {
  const tallies = (keep: (place: Place) => boolean): { places: number; seams: number; counts: string } => {
    let places = noTally;
    let seams = noTally;
    for (const second of again) {
      const first = all.find(({ file }) => file === second.file);
      if (first === undefined) throw new Error(`no first marking of ${second.file}`);
      const { music } = open(first);
      const kept = (place: Place): boolean => within(second, place) && keep(place);
      const [a, b] = [asFirstMarked(first.places).filter(kept), second.places.filter(kept)];
      places = addTally(places, placeTally(music, a, b));
      seams = addTally(seams, seamTally(a, b));
    }
    const counts = `places ${places.first}/${places.second}/${places.both}, seams ${seams.first}/${seams.second}/${seams.both}`;
    return { places: fMeasure(places), seams: fMeasure(seams), counts };
  };

  it('agree as docs/evidence/places.md says', () => {
    const text = readFileSync(
      path.resolve(import.meta.dirname, '..', '..', 'docs', 'evidence', 'places.md'),
      'utf8',
    );
    const row = (name: string, keep: (place: Place) => boolean): string => {
      const { places, seams, counts } = tallies(keep);
      return `| ${name} | ${counts} | ${places.toFixed(2)} | ${seams.toFixed(2)} |`;
    };
    const rows = [
      row('shared lines, all', ({ kind }) => kind === 'shared-line'),
      row('shared lines marked sure', ({ kind, sure }) => kind === 'shared-line' && sure),
      row('imitation, all', ({ kind }) => kind === 'imitation'),
      row('all kinds marked completely', () => true),
    ];
    for (const line of rows) expect(text).toContain(line);
  });
});
