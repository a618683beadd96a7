/** Where a written note stands as players count it by the metre's own beat, however the drill counts. */
import { asWritten, barGrids, beatText } from '../rhythm/beats.ts';
import type { WrittenNote } from '../score/notes.ts';
import { minus } from '../units/index.ts';
import type { WorkedDrill } from './workOut.ts';

export interface NotePlace {
  /** Of the bar in which it is written, in the score, from 0. */
  readonly barIndex: number;
  /** Of that bar, as printed. */
  readonly number: string;
  /** "2", "2+1/2". */
  readonly beat: string;
}

/** Null where there is no metre. */
export const notePlaces = ({
  score,
  drill,
  grids,
}: WorkedDrill): ((note: WrittenNote) => NotePlace | null) => {
  const plain = drill.count === null && drill.groups === null ? grids : barGrids(score, asWritten);
  return ({ bar: index, onset }) => {
    const [bar, grid] = [score.bars[index], plain[index]];
    return bar === undefined || grid === undefined || grid.metre === 'free'
      ? null
      : { barIndex: index, number: bar.number, beat: beatText(grid, minus(onset, bar.start)) };
  };
};
