/** The marks as data, with every place turned into written positions; how they are written is told in README.md beside this. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { asWritten, barGrids, beatOffset, type BarGrid } from '../../../src/rhythm/beats.ts';
import { readScore } from '../../../src/score/read/recognise.ts';
import type { Score } from '../../../src/score/model.ts';
import { beats, plus, type Beats } from '../../../src/units/index.ts';

export interface Spot {
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
}

export interface Seam extends Spot {
  readonly from: string;
  readonly to: string;
  readonly also?: readonly string[];
  readonly sure?: boolean;
}

export interface Place {
  readonly kind: string;
  readonly value?: string;
  readonly sure: boolean;
  readonly parts: readonly string[];
  readonly from: Spot;
  readonly to: Spot;
  readonly seams?: readonly Seam[];
  /** Found only when the bars were read again; no part of the first marking. */
  readonly later?: boolean;
  /** What stood here in the first marking, where the rule asks for something else. */
  readonly firstMarked?: { readonly to: Spot };
  readonly note?: string;
}

export interface Negative {
  readonly looksLike: string;
  readonly is: string;
  readonly parts: readonly string[];
  readonly from: Spot;
  readonly to: Spot;
  readonly note: string;
}

export interface Marks {
  readonly format: string;
  readonly file: string;
  readonly sha256: string;
  readonly piece: string;
  readonly bars: { readonly from: number; readonly to: number };
  readonly half: 'tuning' | 'report';
  readonly exhaustive: readonly string[];
  /** Second marking only: the bars that were read again, by index. */
  readonly stretch?: { readonly from: number; readonly to: number };
  readonly places: readonly Place[];
  readonly negatives?: readonly Negative[];
}

const here = import.meta.dirname;

const readFolder = (folder: string): readonly Marks[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => JSON.parse(readFileSync(path.join(folder, name), 'utf8')) as Marks);

/** The marks to measure by: the first marking, with what the second reading added or put right. */
export const marks = (): readonly Marks[] => readFolder(here);
/** The later set: marked after the first rules; tuning material since the second were run on it once. */
export const laterMarks = (): readonly Marks[] => readFolder(path.join(here, 'later'));
export const secondMarks = (): readonly Marks[] => readFolder(path.join(here, 'second'));

/** The first marking as it was. */
export const asFirstMarked = (places: readonly Place[]): readonly Place[] =>
  places
    .filter(({ later }) => later !== true)
    .map((place) => (place.firstMarked === undefined ? place : { ...place, to: place.firstMarked.to }));

/** Where the marked file lies; `shared` is the folder of the shared data. */
export const fileOf = ({ file }: Marks, shared: string): string =>
  file.includes('/')
    ? path.resolve(here, '..', '..', '..', file)
    : path.join(shared, 'scores', 'openscore-quartets', file);

export interface Ruled {
  readonly score: Score;
  readonly grids: readonly BarGrid[];
}

export const ruled = (bytes: Uint8Array): Ruled => {
  const read = readScore(bytes);
  if (!read.ok) throw new Error(read.error.message);
  return { score: read.value, grids: barGrids(read.value, asWritten) };
};

/** The written position of a marked spot, or what is wrong with it. */
export const positionOf = ({ score, grids }: Ruled, spot: Spot): Beats | string => {
  const bar = score.bars[spot.barIndex];
  const grid = grids[spot.barIndex];
  if (bar === undefined || grid === undefined) return `no bar with index ${spot.barIndex}`;
  if (bar.number !== spot.bar) return `bar ${spot.barIndex} is printed "${bar.number}", not "${spot.bar}"`;
  const offset = beatOffset(grid, spot.beat);
  if (!offset.ok) return offset.error.message;
  return plus(bar.start, beats(offset.value));
};

/** Whether the part begins a note there. */
export const strikes = ({ score }: Ruled, part: string, at: Beats): boolean =>
  score.parts.some(
    ({ id, notes }) => id === part && notes.some(({ onset }) => onset.n === at.n && onset.d === at.d),
  );
