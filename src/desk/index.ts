/** The facade: one typed function for each thing that a user asks for, and the ports that they need. */
export { barPlanOf } from './barPlan.ts';
export {
  jsonSchemas,
  lookSchema,
  madeSchema,
  packsSchema,
  timelineSchema,
  togetherSchema,
} from './formats.ts';
export { playerSchema } from './journal/playerFormat.ts';
export {
  look,
  overview,
  overviewOf,
  type Look,
  type LookBar,
  type LookPart,
  type LookTempo,
  type Overview,
} from './look.ts';
export { asInScore, type PieceSettings, type Sounding } from './fitScore.ts';
export * from './shelf/index.ts';
export * from './journal/index.ts';
export * from './pack/index.ts';
export {
  editPlan,
  parsePlan,
  planFiles,
  planLines,
  planPlaces,
  planRehearsal,
  presentParts,
  planRemarks,
  planSchema,
  printedPlan,
  remarksOn,
  type PlanAsked,
  type PlanEdit,
  type PlanPlace,
  type PrintedPlan,
  type RehearsalPlan,
} from './planFiles.ts';
export * from './takes/index.ts';
export { madeOf, type Made } from './made.ts';
export { makeFolder, type FolderPorts } from './drillFolder.ts';
export { makeDrill, pieceHash, type DrillFolder } from './makeDrill.ts';
export { pageFiles, type PageFile } from './pageFiles.ts';
export type { SoundOptions } from './soundFiles.ts';
export { readWords, wordFile, type WordSet } from '../sound/words/wordSet.ts';
export { markingsFile, markingsName, readMarkings } from './markingsFile.ts';
export { openPiece, type Opened } from './open.ts';
export type { FileToWrite, Progress, ReadPort, WordsPort, WritePort, WrittenFile } from './ports.ts';
export {
  makingWords,
  readMaking,
  readRequest,
  requestWords,
  usualDrill,
  type DrillRequest,
  type Making,
  type MakingTexts,
  type RequestTexts,
  type RequestWord,
} from './request.ts';
export { together, type Together, type TogetherTexts } from './together.ts';
export {
  find,
  findCsv,
  placesIn,
  type FindTexts,
  type FoundPlaces,
  type PrintedPlace,
  type PrintedSeam,
  type PrintedSpot,
} from './find.ts';
export {
  findPages,
  foundOf,
  mostOf,
  toldIn,
  usualMost,
  type FindPages,
  type ToldPiece,
} from './placesPages.ts';
export { makePageStretch, makeStretch, touchedClick, type StretchBars, type TouchedBeat } from './stretch.ts';
export { livePlaces, type ListedPlace, type LivePlaces } from './livePlaces.ts';
export { findSchema } from './findFormat.ts';
export { hear, type HearOptions, type HeardDrill } from './hear.ts';
export type { TakeFile } from './hearAssign.ts';
export type { DecodePort, SoundPort } from './hearSound.ts';
export { eachPiece, heldBytes, type SoundBytes } from './soundBytes.ts';
export { readingSchema } from './readingFormat.ts';
export { parseReading } from './readingFile.ts';
export { chartWidth, readingCharts, type ReadingChart } from './readingCharts.ts';
export { readingColumns, readingCsv } from './readingCsv.ts';
export {
  readingShown,
  type HeardMoment,
  type ShownFinding,
  type ShownMark,
  type ShownOptions,
  type ShownReading,
  type ShownRow,
} from './readingShown.ts';
export { countedReading, readingWithout } from './readingWithout.ts';
export {
  parseTakeReading,
  playedDrill,
  takeReadingSchema,
  type PlayedDrill,
  type TakeReading,
} from './takeReading.ts';
export { readingPages, type ReadingPages, type ReadingPagesOptions } from './readingPages.ts';
export type { Figure, Reading, ReadingNote } from './reading.ts';
export { mostFindings, type Finding, type FindingKind } from './findings/index.ts';
export {
  findingText,
  findingWords,
  tellingLanguage,
  type FindingText,
  type TellingLanguage,
} from './words/index.ts';
export { valueText } from '../rhythm/value.ts';
export { valuesText } from '../plan/index.ts';
export type { DrillSummary } from './summary.ts';
export type { PrintedClick, PrintedNote, PrintedTimeline } from './timelineJson.ts';
export {
  holdPiece,
  liveDrill,
  makeScreen,
  type HeldPiece,
  type LiveClick,
  type LiveClicks,
  type LiveDrill,
  type Screen,
  type ScreenBar,
  type ScreenBeat,
  type ScreenNote,
  type ScreenOptions,
  type ScreenSystem,
  type WorkedPiece,
} from './live.ts';
export {
  type LevelLetter,
  type LiveBar,
  type LiveMarks,
  type LiveOptions,
  type LiveParts,
  type LiveQueue,
  type PartsBlock,
} from './liveSound.ts';
