/** A moment of the score in the words in which it is told. */
import { beatText } from '../rhythm/beats.ts';
import { beats, F, type Beats } from '../units/index.ts';
import type { Music, Strike } from './music.ts';
import type { Spot } from './model.ts';

/** The spot of a written position in a bar of that index; a position outside the bar is taken to its nearer end. */
export const spotIn = (music: Music, barIndex: number, at: Beats): Spot => {
  const bar = music.score.bars[barIndex];
  const grid = music.grids[barIndex];
  if (bar === undefined || grid === undefined) return { bar: '', barIndex, beat: '1', at };
  const within = beats(F.max(F.zero, F.min(F.sub(at, bar.start), bar.length)));
  return { bar: bar.number, barIndex, beat: beatText(grid, within), at };
};

/** Where a strike is. */
export const spotOf = (music: Music, { bar, onset }: Strike): Spot => spotIn(music, bar, onset);
