/** The shelf: ensembles, their pieces, and all that is kept about them. */
export {
  markingKinds,
  shelfSchema,
  takeEnds,
  type Ensemble,
  type Marking,
  type Piece,
  type Plain,
  type SavedDrill,
  type ShelfRecord,
  type Take,
  type TakeSound,
} from './formats.ts';
export { isShelfFile, readShelfFile, shelfFile, type ShelfContent } from './file.ts';
export { ShelfKeeper, type ShelfState } from './keeper.ts';
export { scoresNamed, toKeep } from './keptRecords.ts';
export { memoryShelf } from './memory.ts';
export {
  drillsOf,
  ensemblesOf,
  keysOfEnsemble,
  keysOfPiece,
  keysToTakeAlong,
  markingsOf,
  piecesOf,
  pieceTitle,
  soundsNamed,
  soundsOf,
  takesOf,
} from './parts.ts';
export type { ShelfPort } from './port.ts';
export {
  firstEnsemble,
  markingText,
  newEnsemble,
  newPiece,
  newMarking,
  newSavedDrill,
  newTake,
  pieceId,
  type MarkingText,
  type TakeText,
} from './records.ts';
