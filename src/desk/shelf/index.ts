/** The shelf: ensembles, their pieces, and all that is kept about them. */
export {
  markingKinds,
  shelfSchema,
  type Ensemble,
  type Marking,
  type Piece,
  type Plain,
  type SavedDrill,
  type ShelfRecord,
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
} from './parts.ts';
export type { ShelfPort } from './port.ts';
export {
  firstEnsemble,
  newEnsemble,
  newPiece,
  newMarking,
  newSavedDrill,
  pieceId,
  type MarkingText,
  markingText,
} from './records.ts';
