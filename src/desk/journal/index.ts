/** The journal: takes, growth, what comes next, two players' journals into one. */
export { placeGrowth, type PlaceGrowth } from './growth.ts';
export {
  afterTake,
  journalOf,
  mainSteps,
  standing,
  takesAt,
  triedSteps,
  verdictOf,
  type AfterTake,
  type Journal,
} from './journal.ts';
export { forgetPlayer, goneRecord, keyed, mergeShelves, playerData, type PlayerData } from './keep.ts';
export { barsKey, pairKey, placeKey, stepKey } from './keys.ts';
export { readPlayerData } from './playerFormat.ts';
export {
  breathBars,
  figuresOfTake,
  journalTake,
  putRight,
  toldTake,
  type ReadForJournal,
  type TakeContext,
} from './takeRecord.ts';
export type { Gone, JournalNote, JournalTake, Rehearsal } from '../shelf/journalFormats.ts';
export { proposalText, stepWords, type StepWords } from '../words/steps.ts';
export { addTake, growthIn, placeOfDrill, type AddedTake, type TakeToAdd } from './add.ts';
export { editableJournal } from './file.ts';
export type { Records } from './journal.ts';
